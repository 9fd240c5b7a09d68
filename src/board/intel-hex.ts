// Intel HEX: the text form of a program for upload. Data records of 16 bytes and the end record; addresses below 64 KB.
// Source: Intel's hexadecimal object file format specification, revision A, 1988 (from memory): `:LLAAAATT<data>CC`,
// CC = two's complement of the sum of all bytes before it.

const recordBytes = 16;
const dataRecord = 0;
const endRecord = 1;

/** A program image: bytes by address, with gaps where nothing is stored. */
export type FlashImage = ReadonlyMap<number, number>;

function record(address: number, type: number, data: readonly number[]): string {
  const bytes = [data.length, address >> 8, address & 0xff, type, ...data];
  const sum = bytes.reduce((total, byte) => total + byte, 0);
  return `:${[...bytes, -sum & 0xff].map((byte) => byte.toString(16).padStart(2, '0').toUpperCase()).join('')}`;
}

/** Image to text, records in the order of their addresses, lines ended by a line feed. */
export function writeHex(image: FlashImage): string {
  const addresses = [...image.keys()].sort((a, b) => a - b);
  const lines: string[] = [];
  for (let i = 0; i < addresses.length; ) {
    const start = addresses[i]!;
    const data: number[] = [];
    while (i < addresses.length && addresses[i] === start + data.length && data.length < recordBytes) {
      data.push(image.get(addresses[i]!)!);
      i++;
      if ((start + data.length) % recordBytes === 0) break;
    }
    lines.push(record(start, dataRecord, data));
  }
  return `${[...lines, record(0, endRecord, [])].join('\n')}\n`;
}

/** Text to image. Throws on a bad record: the texts read here are our own prebuilt programs. */
export function readHex(text: string): FlashImage {
  const image = new Map<number, number>();
  for (const line of text.split(/\r?\n/)) {
    if (line === '') continue;
    const bytes = Uint8Array.from(line.slice(1).match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));
    const [length, high, low, type] = bytes;
    const sum = bytes.reduce((total, byte) => total + byte, 0);
    if (!line.startsWith(':') || length === undefined || bytes.length !== length + 5 || (sum & 0xff) !== 0)
      throw new Error(`bad Intel HEX record: ${line}`);
    if (type === endRecord) return image;
    if (type !== dataRecord && type !== 3)
      throw new Error(`Intel HEX record of type ${type} is not used here`);
    const address = ((high ?? 0) << 8) | (low ?? 0);
    if (type === dataRecord) for (let i = 0; i < length; i++) image.set(address + i, bytes[4 + i]!);
  }
  throw new Error('Intel HEX text without an end record');
}

/** The image with `bytes` laid over it at an address. */
export function withBytes(image: FlashImage, address: number, bytes: Uint8Array): FlashImage {
  const merged = new Map(image);
  for (const [i, byte] of bytes.entries()) merged.set(address + i, byte);
  return merged;
}
