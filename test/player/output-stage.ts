// Panels of LEDs for the output stage alone: their show data without shows, frames of given levels, and the program output_vectors.cpp
// that sends them, natively or as firmware. Not here: what should come out (output-model.ts).
import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { readHex, withBytes, writeHex } from '../../src/board/index.ts';
import { ByteWriter } from '../../src/lampshow/byte-writer.ts';
import { segmentsOf, writeGammaPages, writeLines } from '../../src/lampshow/line-data.ts';
import { type Layout, layOut } from '../../src/panel/index.ts';
import type { Project, StripData } from '../../src/project/index.ts';
import { compileAvr, mustCompile } from '../board/sketch-compiler.ts';
import { projectOf } from '../support/projects.ts';
import { type NativeBuild, nativeProgram, playerFolder } from './native.ts';
import type { OutputLed } from './output-model.ts';

const source = 'output_vectors.cpp';
/** As in output_vectors.cpp. */
const dataBytes = 4096;
const spaceBytes = 16_384;
const marker = [0x5a, 0x13, 0x77, 0xc9, 0x21, 0x0e, 0xb4, 0x68];
/** As in show_data.h. */
const headerSize = 42;
const ledCountAt = 8;
const lineCountAt = 10;

export interface Piece {
  readonly ledCount: number;
  readonly strip: Partial<StripData>;
}
export interface PanelLine {
  readonly pin: number;
  readonly pieces: readonly Piece[];
}
export interface PanelParts extends Pick<Partial<Project>, 'output'> {
  readonly lines: readonly PanelLine[];
  readonly limitAmps?: number | undefined;
}

const plainStrip = {
  supplyVolts: 5,
  floorVolts: 4.5,
  ledsPerMetre: 60,
  boardWidthMm: 10,
  colourOrder: 'GRB',
  channelMilliamps: 12,
  quiescentMilliamps: 0.6,
  currentModel: 'sum',
  railOhmPerMetre: 0.1,
} as const;

/** A project with a run for each piece. */
export function panelOf({ lines, limitAmps, output }: PanelParts): Project {
  const pieces = lines.flatMap((line) => line.pieces);
  const strips = pieces.map((piece, i) => ({ ...plainStrip, ...piece.strip, id: `strip-${i}` }));
  const runs = pieces.map((piece, i) => ({
    id: `run-${i}`,
    firstLed: { xMm: 0, yMm: i },
    arrowDeg: 0,
    ledCount: piece.ledCount,
    strip: `strip-${i}`,
  }));
  let next = 0;
  return projectOf({
    runs,
    strips: strips as NonNullable<Project['strips']>,
    dataLines: lines.map((line) => ({
      pin: line.pin,
      chain: line.pieces.map(() => ({ run: `run-${next++}` })),
    })),
    power: { supply: { volts: 5, amps: 40 }, feeds: [], ...(limitAmps === undefined ? {} : { limitAmps }) },
    ...(output ? { output } : {}),
  });
}

export const stripsOnWire = (layout: Layout): StripData[] =>
  layout.lines.flatMap((line) => line.runs.flatMap(({ leds, strip }) => leds.map(() => strip)));

/** Header, lines, segments and gamma tables. */
export function outputData(project: Project, layout: Layout): Uint8Array {
  const to = new ByteWriter();
  to.append(new Array<number>(headerSize).fill(0));
  to.overwrite(ledCountAt, 2, layout.wireLeds.length);
  to.overwrite(lineCountAt, 1, layout.lines.length);
  writeGammaPages(to, project, writeLines(to, project, layout, segmentsOf(layout)));
  return to.bytes();
}

export interface LevelFrame {
  readonly roomScale: number;
  readonly leds: readonly OutputLed[];
}

/** A frame from three bytes an LED, taken as red, green, blue. */
export const frameOf = (
  strips: readonly StripData[],
  roomScale: number,
  levels: ArrayLike<number>,
): LevelFrame => ({
  roomScale,
  leds: strips.map((strip, led) => ({
    strip,
    red: levels[3 * led]!,
    green: levels[3 * led + 1]!,
    blue: levels[3 * led + 2]!,
  })),
});

const letterNames = { R: 'red', G: 'green', B: 'blue' } as const;

/** What stands in the player's frame buffer: three colours in wire order. */
const bufferBytes = ({ leds }: LevelFrame): number[] =>
  leds.flatMap((led) =>
    [...led.strip.colourOrder.replace('W', '')].map((letter) => led[letterNames[letter as 'R' | 'G' | 'B']]),
  );

function spaceWith(project: Project, frames: readonly LevelFrame[]): Uint8Array {
  const layout = layOut(project);
  const data = outputData(project, layout);
  if (data.length > dataBytes) throw new Error(`${data.length} bytes of show data`);
  const space = new Uint8Array(spaceBytes);
  space.set(data);
  const levels = frames.flatMap((frame) => [frame.roomScale, ...bufferBytes(frame)]);
  const ledCount = layout.wireLeds.length;
  if (dataBytes + 3 + levels.length > spaceBytes) throw new Error('too many frames');
  space.set([frames.length, ledCount & 0xff, ledCount >> 8, ...levels], dataBytes);
  return space;
}

export interface OutputFrame {
  /** As the limiter counts: 255 x what the channels would draw at full brightness, in its own unit. */
  readonly current: number;
  readonly scale: number;
  /** All lines. */
  readonly bytes: Uint8Array;
}

/** Sends frames natively. Throws if the checked build found an overflow. */
export async function sendNatively(
  build: NativeBuild,
  project: Project,
  frames: readonly LevelFrame[],
): Promise<OutputFrame[]> {
  const child = spawn(await nativeProgram(source, build), [], { stdio: ['pipe', 'pipe', 'pipe'] });
  const out: Buffer[] = [];
  let errors = '';
  child.stdout.on('data', (chunk: Buffer) => out.push(chunk));
  child.stderr.on('data', (chunk: Buffer) => {
    errors += chunk.toString('utf8');
  });
  child.stdin.on('error', () => {});
  child.stdin.end(spaceWith(project, frames));
  const exitCode = await new Promise((resolve) => child.on('close', resolve));
  if (exitCode !== 0) throw new Error(`${source} (${build}) ended with ${exitCode}: ${errors}`);
  const bytes = Buffer.concat(out);
  let at = 0;
  return frames.map(() => {
    const count = bytes.readUInt16LE(at + 5);
    const frame = {
      current: bytes.readUInt32LE(at),
      scale: bytes[at + 4]!,
      bytes: new Uint8Array(bytes.subarray(at + 7, at + 7 + count)),
    };
    at += 7 + count;
    return frame;
  });
}

let firmware: Promise<string> | undefined;

function compileFirmware(): Promise<string> {
  const here = fileURLToPath(new URL('.', import.meta.url));
  return compileAvr([`${here}${source}`], { includes: [playerFolder, here], flags: ['-flto'] }).then(
    (result) => mustCompile(result).hexText,
  );
}

/** Firmware that sends the frames once and stops. What output_vectors.cpp puts out goes to GPIOR0. */
export async function sendingFirmware(project: Project, frames: readonly LevelFrame[]): Promise<string> {
  firmware ??= compileFirmware();
  const image = readHex(await firmware);
  const addresses = [...image.keys()].filter((address) => address % 256 === 0);
  const at = addresses.find((address) => marker.every((byte, i) => image.get(address + i) === byte));
  if (at === undefined) throw new Error('the program holds no room for show data');
  return writeHex(withBytes(image, at, spaceWith(project, frames)));
}
