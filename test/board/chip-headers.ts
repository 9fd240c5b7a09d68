// What the installed headers say of a chip and of its pins: avr-libc's device header, read by the preprocessor, and pins_arduino.h of the Arduino core.
// The tests' own source for both, apart from the catalogue's rows. Not here: judging.
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { missingPackageError } from './tools.ts';

const ARDUINO_FOLDER = process.env['LAMPLOOM_ARDUINO'] ?? '/usr/share/arduino';

/** Variant of the Arduino core for each chip. */
const VARIANT = { atmega328p: 'standard', atmega32u4: 'leonardo', atmega2560: 'mega' } as const;
export type Mcu = keyof typeof VARIANT;

export interface PinPlaceName {
  /** A to L. */
  readonly port: string;
  readonly bit: number;
}

function coreFile(path: string): string {
  try {
    return readFileSync(join(ARDUINO_FOLDER, 'hardware/arduino/avr', path), 'utf8');
  } catch {
    throw missingPackageError(`The Arduino core in ${ARDUINO_FOLDER}`, 'arduino-core-avr');
  }
}

export const pinsHeader = (mcu: Mcu): string => coreFile(`variants/${VARIANT[mcu]}/pins_arduino.h`);
export const boardsFile = (): string => coreFile('boards.txt');

const preprocessed = (mcu: Mcu, source: string): string =>
  execFileSync('avr-g++', [`-mmcu=${mcu}`, '-x', 'c++', '-E', '-P', '-'], {
    input: source,
    encoding: 'utf8',
  });

const headers = new Map<Mcu, string>();

/** The entries of one of the header's tables as this chip gets them, without comments. */
function tableOf(mcu: Mcu, name: string): string[] {
  let header = headers.get(mcu);
  if (header === undefined) {
    // The tables stand there for the core's main file only. Without the includes names such as TIMER1A stay.
    header = preprocessed(mcu, `#define ARDUINO_MAIN\n${pinsHeader(mcu).replace(/^\s*#include.*$/gm, '')}`);
    headers.set(mcu, header);
  }
  const [, body] = new RegExp(`${name}\\[\\]\\s*=\\s*\\{(.*?)\\};`, 's').exec(header) ?? [];
  if (body === undefined) throw new Error(`pins_arduino.h has no table ${name}`);
  return body
    .split(',')
    .map((entry) => entry.trim())
    .filter((entry) => entry !== '');
}

/** Port and bit of each Arduino pin number, in their order. */
export function pinPlaces(mcu: Mcu): PinPlaceName[] {
  const masks = tableOf(mcu, 'digital_pin_to_bit_mask_PGM');
  return tableOf(mcu, 'digital_pin_to_port_PGM').map((port, pin) => {
    const [, letter] = /^P([A-L])$/.exec(port) ?? [];
    const [, bit] = /^_BV\(\s*([0-7])\s*\)$/.exec(masks[pin] ?? '') ?? [];
    if (letter === undefined || bit === undefined)
      throw new Error(`pins_arduino.h says neither port nor bit of pin ${pin}`);
    return { port: letter, bit: Number(bit) };
  });
}

/** The timer output of each Arduino pin number, such as TIMER1A. */
export const pinTimers = (mcu: Mcu): string[] => tableOf(mcu, 'digital_pin_to_timer_PGM');

/** Values of macros of the device header; a register's is its data-space address, and that of an unknown name undefined. */
export function deviceValues<Name extends string>(
  mcu: Mcu,
  names: readonly Name[],
): Readonly<Record<Name, number | undefined>> {
  const source = [
    '#include <avr/io.h>',
    '#undef _SFR_IO8',
    '#undef _SFR_MEM8',
    // Data-space addresses of I/O registers lie 0x20 above their I/O addresses (datasheets, data memory map).
    '#define _SFR_IO8(at) ((at) + 0x20)',
    '#define _SFR_MEM8(at) (at)',
    ...names.map((name) => `@"${name}" ${name}`),
    '',
  ].join('\n');
  const found = new Map<string, number | undefined>();
  for (const [, name, value] of preprocessed(mcu, source).matchAll(/^\s*@\s*"(\w+)" (.*)$/gm)) {
    const isSum = /^[-+()\s0-9a-fA-FxX]+$/.test(value!) && /\d/.test(value!);
    found.set(name!, isSum ? Number(new Function(`return ${value}`)()) : undefined);
  }
  return Object.fromEntries(names.map((name) => [name, found.get(name)])) as Record<Name, number | undefined>;
}
