// Reads .hex files in tests through nrf-intel-hex, so that our own writer is never checked by our own reader.
// Not here: writing .hex files. A malformed file throws: in a test that is a failed build, not a builder's input.
import MemoryMap from 'nrf-intel-hex';

/** Flash of an ATmega328P. */
export const FLASH_BYTES = 32 * 1024;
const ERASED = 0xff;

/** The flash as a programmer would leave it: the file's bytes, all others erased. */
export function flashFromHex(hexText: string, flashBytes = FLASH_BYTES): Uint8Array {
  const flash = new Uint8Array(flashBytes).fill(ERASED);
  for (const [address, block] of MemoryMap.fromHex(hexText)) {
    if (address + block.length > flashBytes) {
      throw new Error(
        `The .hex file writes to ${address + block.length - 1}, past the flash's ${flashBytes} bytes`,
      );
    }
    flash.set(block, address);
  }
  return flash;
}

/** How many bytes of flash the file fills. */
export function hexByteCount(hexText: string): number {
  let count = 0;
  for (const block of MemoryMap.fromHex(hexText).values()) count += block.length;
  return count;
}
