// Lists as comma-separated values, as RFC 4180 has them: CRLF after every line, fields quoted where they hold a comma, a quote or a line end.
// Not here: what the lists say (cut-list.ts, wire-list.ts).

export type Cell = string | number | null;

/** A spreadsheet would run such a text as a formula; the apostrophe keeps it a text. */
const asText = (text: string): string => (/^[=+\-@\t\r]/.test(text) ? `'${text}` : text);

function field(cell: Cell): string {
  if (cell === null) return '';
  if (typeof cell === 'number') return String(cell);
  const text = asText(cell);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

export const csv = (rows: readonly (readonly Cell[])[]): string =>
  rows.map((row) => `${row.map(field).join(',')}\r\n`).join('');

/** A tenth of a millimetre: finer than anyone cuts strip or wire. */
export const tenths = (mm: number): number => Math.round(mm * 10) / 10;
