// DXF text as entities: pairs of a group code line and a value line, cut at every code 0. Our own reader, since the format is this plain and a
// reader has to stand files that were made to make it hang. Not here: what entities draw (dxf-read.ts).
import { drawingLimits, tooMuch, unreadable } from './limits.ts';

export class DxfEntity {
  readonly type: string;
  /** Line in the file, from 1. */
  readonly line: number;
  readonly pairs: (readonly [code: number, value: string])[] = [];
  private readonly fileName: string;

  constructor(type: string, line: number, fileName: string) {
    this.type = type;
    this.line = line;
    this.fileName = fileName;
  }

  get at(): string {
    return `${this.fileName} line ${this.line}`;
  }

  text(code: number): string | undefined {
    return this.pairs.find(([held]) => held === code)?.[1];
  }

  /** The first value of this code, or the fallback where there is none. */
  number(code: number, fallback: number): number {
    const value = this.text(code);
    return value === undefined ? fallback : this.parsed(value, code);
  }

  numbers(code: number): number[] {
    return this.pairs.flatMap(([held, value]) => (held === code ? [this.parsed(value, code)] : []));
  }

  parsed(value: string, code: number): number {
    const number = value === '' ? Number.NaN : Number(value);
    if (Number.isFinite(number)) return number;
    return unreadable(
      'drawing-number',
      this.at,
      `a number for group code ${code} of ${this.type.slice(0, 40)}`,
      JSON.stringify(value.slice(0, 40)),
      'Save the drawing again; it may be damaged.',
    );
  }
}

export interface DxfBlock {
  readonly entities: readonly DxfEntity[];
  readonly baseX: number;
  readonly baseY: number;
}

export interface DxfFile {
  readonly header: ReadonlyMap<string, string>;
  readonly blocks: ReadonlyMap<string, DxfBlock>;
  readonly entities: readonly DxfEntity[];
}

/** All entities of all sections in order; structural ones (SECTION, BLOCK, ...) too. */
function* entitiesOf(text: string, fileName: string): Generator<DxfEntity> {
  const lines = text.split(/\r\n|\n|\r/);
  if (lines.at(-1)?.trim() === '') lines.pop();
  let entity: DxfEntity | undefined;
  let count = 0;
  for (let i = 0; i + 1 < lines.length; i += 2) {
    const codeText = lines[i]!.trim();
    const code = /^\d{1,4}$/.test(codeText) ? Number(codeText) : -1;
    if (code < 0)
      unreadable(
        'drawing-not-dxf',
        `${fileName} line ${i + 1}`,
        'a group code, a whole number',
        JSON.stringify(codeText.slice(0, 40)),
        'Open a DXF file saved as ASCII text; this one may be damaged.',
      );
    const value = lines[i + 1]!.trim();
    if (code === 0) {
      if (entity) yield entity;
      if (value === 'EOF') return;
      if (++count > 10 * drawingLimits.elements)
        tooMuch(`${fileName} line ${i + 1}`, 10 * drawingLimits.elements, 'entities');
      entity = new DxfEntity(value, i + 1, fileName);
    } else if (entity) entity.pairs.push([code, value]);
  }
  if (entity) yield entity;
  if (lines.length < 2)
    unreadable('drawing-not-dxf', fileName, 'a DXF file', 'an empty file', 'Open a DXF file.');
}

function readHeader(entity: DxfEntity, header: Map<string, string>): void {
  let name: string | undefined;
  for (const [code, value] of entity.pairs) {
    if (code === 9) name = value;
    else if (name !== undefined && !header.has(name)) header.set(name, value);
  }
}

/** Throws UnreadableDrawing. */
export function parseDxf(text: string, fileName: string): DxfFile {
  const header = new Map<string, string>();
  const blocks = new Map<string, DxfBlock & { readonly entities: DxfEntity[] }>();
  const entities: DxfEntity[] = [];
  let section = '';
  let block: DxfEntity[] | undefined;
  let sections = 0;
  for (const entity of entitiesOf(text, fileName)) {
    const { type } = entity;
    if (type === 'SECTION') {
      section = entity.text(2) ?? '';
      sections++;
      if (section === 'HEADER') readHeader(entity, header);
    } else if (type === 'ENDSEC') section = '';
    else if (section === 'ENTITIES') entities.push(entity);
    else if (section === 'BLOCKS') {
      if (type === 'BLOCK') {
        block = [];
        const made = { entities: block, baseX: entity.number(10, 0), baseY: entity.number(20, 0) };
        blocks.set((entity.text(2) ?? '').toUpperCase(), made);
      } else if (type === 'ENDBLK') block = undefined;
      else block?.push(entity);
    }
  }
  if (sections === 0)
    unreadable(
      'drawing-not-dxf',
      fileName,
      'a DXF file with sections',
      'none',
      'Open a DXF file saved as ASCII text.',
    );
  return { header, blocks, entities };
}
