// Writes little-endian numbers one after the other. A number that doesn't fit is a fault of ours and throws.

export class ByteWriter {
  /** Whether an offset was set that 16 bits can't hold: what is being written is too large to be addressed. */
  tooLarge = false;
  private readonly values: number[] = [];

  get length(): number {
    return this.values.length;
  }

  u8(value: number): void {
    // Most of what is written is bytes: they take no list of their own.
    if (!Number.isInteger(value) || value < 0 || value > 255)
      throw new RangeError(`${value} is no 8-bit number`);
    this.values.push(value);
  }

  u16(value: number): void {
    this.number(value, 2);
  }

  u32(value: number): void {
    this.number(value, 4);
  }

  /** A difference of two 16-bit numbers, to be added modulo 65,536. */
  difference16(value: number): void {
    if (value < -65_535 || value > 65_535)
      throw new RangeError(`${value} is no difference of 16-bit numbers`);
    this.number(value & 0xffff, 2);
  }

  append(bytes: Iterable<number>): void {
    for (const byte of bytes) this.u8(byte);
  }

  /** Zeros up to the next multiple of `boundary`. */
  alignTo(boundary: number): void {
    while (this.values.length % boundary !== 0) this.values.push(0);
  }

  /** A 16-bit offset. */
  offset(value: number): void {
    this.u16(0);
    this.setOffset(this.length - 2, value);
  }

  /** Overwrites a 16-bit offset written earlier. */
  setOffset(at: number, value: number): void {
    if (value < 0 || at + 2 > this.values.length) throw new RangeError(`can't set ${value} at ${at}`);
    if (value > 0xffff) this.tooLarge = true;
    this.values[at] = value & 0xff;
    this.values[at + 1] = (value >> 8) & 0xff;
  }

  /** Overwrites a number written earlier, of 1, 2 or 4 bytes. */
  overwrite(at: number, width: 1 | 2 | 4, value: number): void {
    if (at < 0 || at + width > this.values.length) throw new RangeError(`can't set ${value} at ${at}`);
    this.values.splice(at, width, ...numberBytes(value, width));
  }

  bytes(): Uint8Array {
    return Uint8Array.from(this.values);
  }

  private number(value: number, width: 2 | 4): void {
    this.values.push(...numberBytes(value, width));
  }
}

/** Lowest byte first. */
function numberBytes(value: number, width: 1 | 2 | 4): number[] {
  if (!Number.isInteger(value) || value < 0 || value >= 2 ** (8 * width))
    throw new RangeError(`${value} is no ${8 * width}-bit number`);
  return Array.from({ length: width }, (_, i) => Math.floor(value / 256 ** i) % 256);
}
