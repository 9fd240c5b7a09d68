// SPEC.md read by a program: the ids of its rules, and its tables of bytes. Not here: whether they are right (spec.test.ts).
import { readFileSync } from 'node:fs';

export interface Field {
  readonly name: string;
  readonly offset: number;
  /** Bytes; 0 where the row only names where something begins. */
  readonly size: number;
}

export const spec = readFileSync('firmware-templates/player/SPEC.md', 'utf8');

/** Ids of all rules, in their order. */
export const ruleIds: readonly string[] = [...spec.matchAll(/^(?:- )?\*\*([A-Z]-\d+)/gm)].map(
  ([, id]) => id!,
);

/** Each table of bytes: its rows as they stand. */
export const byteTables: readonly (readonly Field[])[] = spec
  .split(/^\| offset \| size .*\n.*\n/m)
  .slice(1)
  .map((text) =>
    text
      .slice(0, text.search(/^(?!\|)/m))
      .trim()
      .split('\n')
      .map((row) => {
        const [, offset, size, name] = row.split('|').map((cell) => cell.trim());
        return { name: name!, offset: Number(offset), size: Number(size) };
      }),
  );

/** Offsets and sizes that stand in the text, as "`name` 42 bytes" or "(`name`, offset 2)". */
export const namedSizes: ReadonlyMap<string, number> = new Map(
  [...spec.matchAll(/`(\w+Size)` (\d+) bytes/g)].map(([, name, size]) => [name!, Number(size)]),
);
export const namedOffsets: ReadonlyMap<string, number> = new Map(
  [...spec.matchAll(/\(`(\w+)`, offset (\d+)\)/g)].map(([, name, offset]) => [name!, Number(offset)]),
);

const fields = new Map(byteTables.flat().map((field) => [field.name, field]));

/** Place of a field in its record. Throws for a name that SPEC.md does not have. */
export function placeOf(name: string): number {
  const place = fields.get(name)?.offset ?? namedOffsets.get(name);
  if (place === undefined) throw new Error(`SPEC.md has no field ${name}`);
  return place;
}

/** Bytes of a record. Throws for a name that SPEC.md does not have. */
export function sizeOf(name: string): number {
  const size = namedSizes.get(name);
  if (size === undefined) throw new Error(`SPEC.md has no size ${name}`);
  return size;
}

/** Show data, read by the names of SPEC.md. */
export class SpecReader {
  readonly #view: DataView;

  constructor(bytes: Uint8Array) {
    this.#view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  }

  u8 = (at: number): number => this.#view.getUint8(at);
  u16 = (at: number): number => this.#view.getUint16(at, true);
  u32 = (at: number): number => this.#view.getUint32(at, true);
  i16 = (at: number): number => this.#view.getInt16(at, true);

  /** A field of 1, 2 or 4 bytes of the record at `record`. */
  field(record: number, name: string): number {
    const field = fields.get(name);
    if (!field) throw new Error(`SPEC.md has no field ${name}`);
    const at = record + field.offset;
    return field.size === 1 ? this.u8(at) : field.size === 2 ? this.u16(at) : this.u32(at);
  }
}
