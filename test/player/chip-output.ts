// Runs a vector program on the emulated chip and collects the bytes it writes to GPIOR0, until it writes to GPIOR1.
// Not here: what they mean. Addresses: ATmega328P data sheet, register summary (I/O 0x1E and 0x2A, data space 0x20 higher).
import { fileURLToPath } from 'node:url';
import { EmulatedBoard } from '../board/emulated-board.ts';
import { flashFromHex } from '../board/intel-hex.ts';
import { compileAvr, mustCompile } from '../board/sketch-compiler.ts';
import { playerFolder } from './native.ts';

const gpior0 = 0x3e;
const gpior1 = 0x4a;
const blockCycles = 100_000;

class GrowingBytes {
  #bytes = new Uint8Array(1 << 16);
  #length = 0;

  push(byte: number): void {
    if (this.#length === this.#bytes.length) {
      const larger = new Uint8Array(2 * this.#length);
      larger.set(this.#bytes);
      this.#bytes = larger;
    }
    this.#bytes[this.#length++] = byte;
  }

  get taken(): Uint8Array {
    return this.#bytes.slice(0, this.#length);
  }
}

/** Compiles a source of this folder for the ATmega328P with the player's headers, runs it, and returns what it put out. */
export async function chipOutput(
  source: string,
  maxCycles: number,
  flags: string[] = [],
): Promise<Uint8Array> {
  const here = fileURLToPath(new URL('.', import.meta.url));
  const { hexText } = mustCompile(
    await compileAvr([`${here}${source}`], { includes: [playerFolder, here], flags: ['-flto', ...flags] }),
  );
  const board = new EmulatedBoard(flashFromHex(hexText));
  const bytes = new GrowingBytes();
  let finished = false;
  board.watchRegister(gpior0, (_cycle, value) => bytes.push(value));
  board.watchRegister(gpior1, () => {
    finished = true;
  });
  while (!finished && board.cycles < maxCycles) board.runForCycles(blockCycles);
  if (!finished) throw new Error(`${source} was not done after ${maxCycles} cycles`);
  return bytes.taken;
}
