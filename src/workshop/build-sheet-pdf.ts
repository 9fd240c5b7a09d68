// The build sheet on A4 pages, as PDF: type, tables, page breaks. The same sheet gives the same bytes, on any day and in any time zone.
// Fetched only when a sheet is made: the library behind it is large. Not here: what stands on it (build-sheet.ts).
// The fonts go into the file (only the glyphs that are used): the 14 that every reader has know neither ohm nor Greek.
import { jsPDF } from 'jspdf';
import { autoTable } from 'jspdf-autotable';
import type { BuildSheet, SheetPart, SheetSection } from './build-sheet.ts';

/** TrueType files. */
export interface SheetFonts {
  readonly regular: Uint8Array;
  readonly bold: Uint8Array;
}

export type WriteSheet = (sheet: BuildSheet) => Uint8Array;

/** All in mm, type in points. */
const page = { widthMm: 210, heightMm: 297, marginMm: 15, footMm: 12 } as const;
const contentMm = page.widthMm - 2 * page.marginMm;
const type = { title: 18, name: 13, section: 11.5, body: 8.5, table: 7.5, foot: 7 } as const;
const mmPerPoint = 25.4 / 72;
const lineFactor = 1.35;
const ink = 30;
const softInk = 100;
const rule = 170;
const headFill = 232;
/** A heading stands with at least this much below it. */
const keepWithHeadingMm = 34;
const factsMm = 52;
/** Left of what stands in the middle of the foot. */
const footNameMm = 48;

const family = 'sheet';

/** Bytes as the library wants them: one character each. */
function binaryText(bytes: Uint8Array): string {
  const step = 8192;
  let text = '';
  for (let from = 0; from < bytes.length; from += step)
    text += String.fromCharCode(...bytes.subarray(from, from + step));
  return text;
}

/** Joins and chooses forms of the characters beside it, and shows nothing itself. */
const unseen = /[\p{Cf}\p{Variation_Selector}]/gu;
const breaks = /[\p{Cc}\p{Zl}\p{Zp}]+/gu;
const replacement = '\ufffd';

/** A figure and its unit stay on one line; so does the unit at the end of a heading. */
const beforeUnit = /(?<=[\d,]) (?=(?:mm²?|A|V|W|kWh|h|k?Ω|µF|°C)(?![\p{L}\p{N}]))/gu;

/** What the font can show: blanks for control characters, a mark in the place of each character that it has no glyph for. */
function printable(text: string, hasGlyph: (codePoint: number) => boolean): string {
  const plain = text.normalize('NFC').replace(breaks, ' ').replace(unseen, '').replace(beforeUnit, '\u00a0');
  return Array.from(plain, (character) => {
    const codePoint = character.codePointAt(0)!;
    // The library writes 16-bit characters only.
    return codePoint <= 0xffff && hasGlyph(codePoint) ? character : replacement;
  }).join('');
}

/** The library takes dates from 1970 to 2037; a day that no calendar has counts as the first of them. */
function pdfDate(savedOn: string): string {
  const ms = Date.parse(savedOn);
  const known = Number.isNaN(ms) ? 0 : Math.min(Math.max(ms, 0), Date.UTC(2037, 11, 31));
  return `D:${new Date(known).toISOString().replace(/\D/g, '').slice(0, 14)}+00'00'`;
}

class SheetWriter {
  private readonly doc = new jsPDF({ unit: 'mm', format: 'a4', compress: true, putOnlyUsedFonts: true });
  private readonly sheet: BuildSheet;
  private readonly hasGlyph: (codePoint: number) => boolean;
  private yMm: number = page.marginMm;

  constructor(sheet: BuildSheet, fonts: { readonly regular: string; readonly bold: string }) {
    this.sheet = sheet;
    const { doc } = this;
    doc.setCreationDate(pdfDate(sheet.savedOn));
    doc.setFileId('0'.repeat(32));
    for (const style of ['normal', 'bold'] as const) {
      doc.addFileToVFS(`${style}.ttf`, style === 'bold' ? fonts.bold : fonts.regular);
      doc.addFont(`${style}.ttf`, family, style);
    }
    doc.setFont(family, 'normal');
    const { metadata } = doc.getFont() as {
      readonly metadata: { readonly characterToGlyph: (code: number) => number };
    };
    this.hasGlyph = (codePoint) => metadata.characterToGlyph(codePoint) > 0;
    doc.setProperties({ title: sheet.title });
    doc.setLanguage('en');
  }

  private text(text: string): string {
    return printable(text, this.hasGlyph);
  }

  /** Turns to a new page unless so much is left. */
  private needs(mm: number): void {
    if (this.yMm + mm <= page.heightMm - page.marginMm - page.footMm) return;
    this.doc.addPage();
    this.yMm = page.marginMm;
  }

  private paragraph(text: string, points: number, style: 'normal' | 'bold', hangMm = 0, mark = ''): void {
    const { doc } = this;
    const lineMm = points * mmPerPoint * lineFactor;
    doc.setFont(family, style).setFontSize(points).setTextColor(ink);
    const lines = doc.splitTextToSize(this.text(text), contentMm - hangMm) as string[];
    for (const [index, line] of lines.entries()) {
      this.needs(lineMm);
      const baseMm = this.yMm + points * mmPerPoint;
      if (index === 0 && mark !== '') doc.text(mark, page.marginMm, baseMm);
      doc.text(line, page.marginMm + hangMm, baseMm);
      this.yMm += lineMm;
    }
  }

  private table(
    head: readonly string[] | undefined,
    rows: readonly (readonly string[])[],
    columns: readonly { readonly widthMm: number; readonly isFigure: boolean; readonly isSoft: boolean }[],
  ): void {
    autoTable(this.doc, {
      startY: this.yMm,
      margin: {
        left: page.marginMm,
        right: page.marginMm,
        top: page.marginMm,
        bottom: page.marginMm + page.footMm,
      },
      theme: 'plain',
      ...(head ? { head: [head.map((cell) => this.text(cell))] } : {}),
      body: rows.map((row) => row.map((cell) => this.text(cell))),
      rowPageBreak: 'avoid',
      styles: {
        font: family,
        fontStyle: 'normal',
        fontSize: head ? type.table : type.body,
        textColor: ink,
        overflow: 'linebreak',
        cellPadding: { horizontal: head ? 1.5 : 0, vertical: head ? 0.9 : 0.5 },
        valign: 'top',
        ...(head ? { lineColor: rule, lineWidth: { bottom: 0.1 } } : {}),
      },
      headStyles: { fontStyle: 'bold', fillColor: headFill, valign: 'bottom' },
      columnStyles: Object.fromEntries(
        columns.map(({ widthMm, isSoft }, index) => [
          index,
          { cellWidth: widthMm, ...(isSoft ? { textColor: softInk } : {}) },
        ]),
      ),
      // Headings of figures stand above them.
      didParseCell: ({ cell, column }) => {
        cell.styles.halign = columns[column.index]!.isFigure ? 'right' : 'left';
      },
    });
    const { finalY } = (this.doc as unknown as { readonly lastAutoTable: { readonly finalY: number } })
      .lastAutoTable;
    this.yMm = finalY + 2.5;
  }

  private facts(rows: readonly (readonly [string, string])[]): void {
    this.table(undefined, rows, [
      { widthMm: factsMm, isFigure: false, isSoft: true },
      { widthMm: contentMm - factsMm, isFigure: false, isSoft: false },
    ]);
  }

  private part(part: SheetPart): void {
    switch (part.kind) {
      case 'facts':
        this.facts(part.rows);
        return;
      case 'text':
        this.paragraph(part.text, type.body, 'normal');
        this.yMm += 2;
        return;
      case 'list':
        for (const item of part.items) {
          this.paragraph(item, type.body, 'normal', 4, '•');
          this.yMm += 0.8;
        }
        this.yMm += 1.5;
        return;
      case 'table': {
        const shares = part.columns.reduce((sum, { share }) => sum + share, 0);
        this.table(
          part.columns.map(({ title }) => title),
          part.rows,
          part.columns.map(({ share, isFigure = false }) => ({
            widthMm: (share / shares) * contentMm,
            isFigure,
            isSoft: false,
          })),
        );
        return;
      }
    }
  }

  private section({ title, parts }: SheetSection): void {
    this.yMm += 3;
    this.needs(keepWithHeadingMm);
    this.paragraph(title, type.section, 'bold');
    this.yMm += 1;
    for (const part of parts) this.part(part);
  }

  /** As much of a text as fits, of the type that is set. */
  private shortened(text: string, widthMm: number): string {
    const whole = this.text(text);
    if (this.doc.getTextWidth(whole) <= widthMm) return whole;
    let kept = whole;
    while (kept !== '' && this.doc.getTextWidth(`${kept}…`) > widthMm) kept = kept.slice(0, -1);
    return `${kept.trimEnd()}…`;
  }

  private feet(): void {
    const { doc } = this;
    const count = doc.getNumberOfPages();
    const baseMm = page.heightMm - page.footMm;
    for (let number = 1; number <= count; number++) {
      doc.setPage(number);
      doc.setDrawColor(rule).setLineWidth(0.1);
      doc.line(page.marginMm, baseMm - 4, page.widthMm - page.marginMm, baseMm - 4);
      doc.setFont(family, 'normal').setFontSize(type.foot).setTextColor(softInk);
      doc.text(this.shortened(this.sheet.name, footNameMm), page.marginMm, baseMm);
      doc.text(this.text(this.sheet.foot), page.widthMm / 2, baseMm, { align: 'center' });
      doc.text(`Page ${number} of ${count}`, page.widthMm - page.marginMm, baseMm, { align: 'right' });
    }
  }

  write(): Uint8Array {
    const { title, name, facts, sections } = this.sheet;
    this.paragraph(title, type.title, 'bold');
    this.paragraph(name, type.name, 'normal');
    this.yMm += 2;
    this.facts(facts);
    for (const section of sections) this.section(section);
    this.feet();
    return new Uint8Array(this.doc.output('arraybuffer'));
  }
}

/** What writes sheets with these fonts. */
export function sheetWriter({ regular, bold }: SheetFonts): WriteSheet {
  const fonts = { regular: binaryText(regular), bold: binaryText(bold) };
  return (sheet) => new SheetWriter(sheet, fonts).write();
}
