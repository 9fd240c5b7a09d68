// Proof of the checked integers: of nine planted faults each is reported or seen as a wrong result, the emulated AVR gives exactly the
// results that the checked build predicts, and neither plain native code nor the sanitizers show anything.
// Expected values: C++11's rules worked out here with exact integers, for an int of 32 bits.
import { beforeAll, describe, expect, test } from 'vitest';
import { chipOutput } from './chip-output.ts';
import { nativeOutput, nativeProgram } from './native.ts';

const source = 'planted_faults.cpp';
const pairCount = 20 * 20 + 300;

interface Fault {
  readonly name: string;
  /** What was meant, and what a computer with 32-bit int gives, as an unsigned 32-bit number. */
  readonly meant: (a: number, b: number) => number;
  /** Signed overflow, which is reported; the others wrap or convert as defined, and only give a wrong result. */
  readonly overflows: boolean;
  /** The one whose meaning AVR keeps and a 32-bit int breaks. */
  readonly rightOn: 'native' | 'avr';
}
const low = (value: number) => value % 256;
const signed16 = (value: number) => (value >= 0x8000 ? value - 0x10000 : value);
const truth = (is: boolean) => (is ? 1 : 0);

/** In the order of planted_faults.cpp. */
const faults: readonly Fault[] = [
  {
    name: 'a product of two int16',
    meant: (a, b) => Math.trunc(((low(a) - low(b)) * low(a)) / 4) >>> 0,
    overflows: true,
    rightOn: 'native',
  },
  {
    name: 'a byte shifted into the sign',
    meant: (a, b) => low(a) * 256 + low(b),
    overflows: true,
    rightOn: 'native',
  },
  {
    name: 'a sum compared with 50,000',
    meant: (a, b) => truth(a + b > 50_000),
    overflows: false,
    rightOn: 'native',
  },
  { name: 'the negative of a uint16', meant: (a) => truth(a > 0), overflows: false, rightOn: 'native' },
  { name: 'time x rate in 16 bits', meant: (a) => a * 25, overflows: false, rightOn: 'native' },
  { name: 'int16 < uint16', meant: (a, b) => truth(signed16(a) < b), overflows: false, rightOn: 'native' },
  { name: 'x 200 / 255', meant: (a) => Math.floor((low(a) * 200) / 255), overflows: true, rightOn: 'native' },
  {
    name: 'the middle of two uint16',
    meant: (a, b) => Math.floor((a + b) / 2),
    overflows: false,
    rightOn: 'native',
  },
  {
    name: 'a wrapping difference',
    meant: (a, b) => truth((a - b + 0x10000) % 0x10000 > 100),
    overflows: false,
    rightOn: 'avr',
  },
];

interface Row {
  readonly a: number;
  readonly b: number;
  readonly results: readonly number[];
}
function rowsOf(bytes: Uint8Array): Row[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const rowBytes = 4 + 4 * faults.length;
  expect(bytes.length).toBe(pairCount * rowBytes);
  return Array.from({ length: pairCount }, (_, row) => ({
    a: view.getUint16(row * rowBytes, true),
    b: view.getUint16(row * rowBytes + 2, true),
    results: faults.map((_fault, f) => view.getUint32(row * rowBytes + 4 + 4 * f, true)),
  }));
}

let chip: Row[];
let plain: Row[];
let sanitized: { bytes: Uint8Array; exitCode: number; stderr: string };
let checked: Row[];
let overflowCounts: number[];
let firstMessage = '';

beforeAll(async () => {
  chip = rowsOf(await chipOutput(source, 20e6, ['-w']));
  const run = async (build: 'plain' | 'sanitized' | 'checked') =>
    nativeOutput(await nativeProgram(source, build, { warningsAllowed: true }));
  plain = rowsOf((await run('plain')).bytes);
  sanitized = await run('sanitized');
  const checkedRun = await run('checked');
  checked = rowsOf(checkedRun.bytes);
  const lines = checkedRun.stderr.trim().split('\n');
  overflowCounts = lines.slice(0, faults.length).map(Number);
  firstMessage = lines[faults.length] ?? '';
});

const wrongRows = (rows: readonly Row[], { meant }: Fault, f: number): number =>
  rows.filter(({ a, b, results }) => results[f] !== meant(a, b)).length;

describe.each(faults.map((fault, f) => ({ ...fault, fault, f })))('$name', ({ fault, f }) => {
  test('the emulated AVR gives what the checked integers predict, for every pair', () => {
    expect(chip.map(({ results }) => results[f])).toEqual(checked.map(({ results }) => results[f]));
  });

  test(`the checked integers show the fault${fault.overflows ? ' and report its overflow' : ''}`, () => {
    const seen = wrongRows(fault.rightOn === 'native' ? checked : plain, fault, f);
    expect(seen).toBeGreaterThan(0);
    expect(seen).toBeLessThan(pairCount);
    expect(overflowCounts[f]! > 0).toBe(fault.overflows);
  });

  test(`${fault.rightOn === 'native' ? 'plain native code' : 'AVR'} is right for every pair`, () => {
    const right = fault.rightOn === 'native' ? plain : checked;
    expect(wrongRows(right, fault, f)).toBe(0);
  });
});

test('the sanitizers find none of the faults', () => {
  expect(sanitized.stderr).toBe('');
  expect(sanitized.exitCode).toBe(0);
  expect(rowsOf(sanitized.bytes)).toEqual(plain);
});

test('a report tells the operands, the operator and the AVR type', () => {
  expect(firstMessage).toMatch(/^int16 -?\d+ (\*|<<) int16 -?\d+ = -?\d+, not in int16$/);
});
