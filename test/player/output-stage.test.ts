// The output stage against a model made from its rules alone: natively, with checked integers, and on two emulated boards, where every bit
// of every line must also have its exact cycles. Kinds of strip, white dice at all four places, lines alone and in pairs.
// Cycles at 16 MHz: 20 a bit, T0H 6, T1H 12, so T0L 14 and T1L 8; chosen for every listed chip's window (firmware-templates/player/wire_avr.h).
// Not here: the limiter's choice of the scale (limiter.test.ts); whole shows (avr-equals-wasm.test.ts).
import { beforeAll, describe, expect, test } from 'vitest';
import { linePairs, segmentsOf } from '../../src/lampshow/line-data.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Project } from '../../src/project/index.ts';
import { runInAvr8js } from '../board/board-avr8js.ts';
import { runInSimavr } from '../board/board-simavr.ts';
import type { WirePulses } from '../board/wire-decoder.ts';
import { nativeBuilds } from './native.ts';
import { ledBytes } from './output-model.ts';
import {
  frameOf,
  type LevelFrame,
  type PanelParts,
  panelOf,
  sendingFirmware,
  sendNatively,
  stripsOnWire,
} from './output-stage.ts';

const output: Project['output'] = {
  gamma: { red: 2.4, green: 2.2, blue: 1.8 },
  whiteBalance: { red: 1, green: 0.8, blue: 0.7 },
  brightnessPercent: 100,
};
const own = { whiteBalance: { red: 0.9, green: 1, blue: 0.4 } } as const;
const largest = { currentModel: 'largest' } as const;

/** Arduino pins 2 to 7 are on port D, 8 to 13 on port B, 14 to 19 on port C. `pairs`: lines that go out together. */
const panels: readonly (PanelParts & {
  readonly name: string;
  readonly pairs?: readonly (readonly [number, number])[];
})[] = [
  { name: 'one LED', lines: [{ pin: 6, pieces: [{ ledCount: 1, strip: {} }] }] },
  { name: 'one kind of strip', lines: [{ pin: 6, pieces: [{ ledCount: 90, strip: {} }] }] },
  {
    name: 'white at each of four places between three-byte LEDs',
    lines: [
      {
        pin: 19,
        pieces: [
          { ledCount: 3, strip: { colourOrder: 'GRB' } },
          { ledCount: 1, strip: { colourOrder: 'WGRB' } },
          { ledCount: 1, strip: { colourOrder: 'BRG', ...own } },
          { ledCount: 4, strip: { colourOrder: 'RWBG' } },
          { ledCount: 5, strip: { colourOrder: 'GBWR', ...own } },
          { ledCount: 1, strip: { colourOrder: 'GRBW' } },
          { ledCount: 6, strip: { colourOrder: 'RGB', ...largest } },
          { ledCount: 2, strip: { colourOrder: 'WBGR', ...largest } },
        ],
      },
    ],
  },
  {
    name: 'four bytes throughout',
    lines: [{ pin: 9, pieces: [{ ledCount: 30, strip: { colourOrder: 'GRBW' } }] }],
  },
  {
    name: 'more LEDs in one segment than a byte counts',
    lines: [
      {
        pin: 5,
        pieces: [
          { ledCount: 257, strip: {} },
          { ledCount: 20, strip: { colourOrder: 'RGB' } },
        ],
      },
    ],
  },
  {
    name: 'two lines of one port, the longer one first',
    pairs: [[0, 1]],
    lines: [
      { pin: 5, pieces: [{ ledCount: 40, strip: { colourOrder: 'GRB' } }] },
      { pin: 6, pieces: [{ ledCount: 17, strip: { colourOrder: 'BRG', ...own } }] },
    ],
  },
  {
    name: 'two lines of one port, the shorter one first, of one LED',
    pairs: [[0, 1]],
    lines: [
      { pin: 12, pieces: [{ ledCount: 1, strip: { colourOrder: 'RGB', ...own } }] },
      { pin: 8, pieces: [{ ledCount: 26, strip: { colourOrder: 'GBR' } }] },
    ],
  },
  {
    name: 'two lines of one port, equal',
    pairs: [[0, 1]],
    lines: [
      { pin: 14, pieces: [{ ledCount: 33, strip: {} }] },
      { pin: 18, pieces: [{ ledCount: 33, strip: { colourOrder: 'RBG' } }] },
    ],
  },
  {
    name: 'four lines of one port, and others beside them',
    pairs: [
      [0, 5],
      [1, 4],
    ],
    lines: [
      { pin: 2, pieces: [{ ledCount: 20, strip: {} }] },
      { pin: 3, pieces: [{ ledCount: 9, strip: { colourOrder: 'RGB' } }] },
      { pin: 8, pieces: [{ ledCount: 5, strip: { colourOrder: 'GWRB' } }] },
      {
        pin: 4,
        pieces: [
          { ledCount: 3, strip: {} },
          { ledCount: 3, strip: { colourOrder: 'RGB' } },
        ],
      },
      { pin: 5, pieces: [{ ledCount: 7, strip: own }] },
      { pin: 7, pieces: [{ ledCount: 12, strip: { colourOrder: 'BGR' } }] },
      { pin: 13, pieces: [{ ledCount: 4, strip: {} }] },
    ],
  },
];

/** Data addresses of GPIOR0 and GPIOR1 (ATmega328P data sheet, register summary), where vector_output.h puts bytes and the end. */
const vectorRegister = 0x3e;
const doneRegister = 0x4a;
const edges = [0, 1, 2, 127, 128, 254, 255];
const roomScales = [255, 128, 0, 254, 37];

/** Levels from edges and from Marsaglia's 16-bit xorshift with shifts 7, 9, 8. */
function framesFor(project: Project): LevelFrame[] {
  const strips = stripsOnWire(layOut(project));
  let state = 1;
  const level = (): number => {
    state ^= (state << 7) & 0xffff;
    state ^= state >> 9;
    state ^= (state << 8) & 0xffff;
    return state & 1 ? edges[(state >> 1) % edges.length]! : state >> 8;
  };
  return roomScales.map((roomScale) =>
    frameOf(
      strips,
      roomScale,
      strips.flatMap(() => [level(), level(), level()]),
    ),
  );
}

/** All pulses of a line, without exception. A kind that never came, as on a dark line, says nothing. */
function expectCycles(pulses: WirePulses): void {
  const cycles = { T0H: 6, T0L: 14, T1H: 12, T1L: 8 } as const;
  expect(pulses.T0H?.count).toBeGreaterThan(0);
  for (const [name, count] of Object.entries(cycles)) {
    const span = pulses[name as keyof typeof cycles];
    if (span) expect(span, name).toMatchObject({ minCycles: count, maxCycles: count });
  }
}

describe.each(panels)('$name', ({ lines, pairs = [] }) => {
  const project = panelOf({ lines, output });
  const frames = framesFor(project);
  /** For each line, its frames' bytes by the model. */
  const expected: number[][][] = [];

  beforeAll(() => {
    let first = 0;
    for (const { ledCount } of layOut(project).lines) {
      const [from, to] = [first, first + ledCount];
      expected.push(
        frames.map(({ leds, roomScale }) =>
          leds.slice(from, to).flatMap((led) => ledBytes(led, output, roomScale)),
        ),
      );
      first = to;
    }
  });

  test('is sent in these pairs', () => {
    const layout = layOut(project);
    expect(linePairs(project, layout, segmentsOf(layout))).toEqual(pairs);
  });

  test.each(nativeBuilds)(
    '[O-1, O-2, O-3, O-4, O-5, W-6] comes out as the model says, natively (%s)',
    async (build) => {
      const sent = await sendNatively(build, project, frames);
      expect(sent.map((frame) => frame.scale)).toEqual(roomScales);
      expect(sent.map((frame) => [...frame.bytes])).toEqual(
        frames.map((_, f) => expected.flatMap((line) => line[f]!)),
      );
    },
  );

  const pins = lines.map(({ pin }) => ({ pin }));
  const maxCycles = 16e6;

  test('[W-1, W-3, W-4] is on the wire byte for byte and cycle for cycle, in the first emulator', async () => {
    const vectors: number[] = [];
    let isDone = false;
    const run = runInAvr8js(await sendingFirmware(project, frames), {
      lines: pins,
      frames: Number.POSITIVE_INFINITY,
      maxCycles,
      onStart: (board) => {
        board.watchRegister(vectorRegister, (_cycle, value) => vectors.push(value));
        board.watchRegister(doneRegister, () => {
          isDone = true;
        });
      },
      stopWhen: () => isDone,
    });
    // Of each frame behind its current, 4 bytes: the limiter's beginning, the scale, and that nothing was left in the buffer.
    expect(vectors.filter((_, i) => i % 7 >= 4)).toEqual(roomScales.flatMap((scale) => [0, scale, 0]));
    for (const [line, { frames: sent, pulses }] of run.lines.entries()) {
      expect(sent.map(({ bytes }) => [...bytes])).toEqual(expected[line]);
      expect(sent.every(({ strayBits }) => strayBits === 0)).toBe(true);
      const cycles = { T0H: 6, T0L: 14, T1H: 12, T1L: 8 } as const;
      for (const [name, count] of Object.entries(cycles))
        expect(pulses[name as keyof typeof cycles], name).toMatchObject({
          minCycles: count,
          maxCycles: count,
        });
    }
    // A pair begins in the same instruction.
    for (const [a, b] of pairs)
      expect(run.lines[a]!.frames.map((frame) => frame.startCycle)).toEqual(
        run.lines[b]!.frames.map((frame) => frame.startCycle),
      );
  });

  test('[W-1] is on the wire byte for byte and cycle for cycle, in the second emulator', async () => {
    const run = await runInSimavr(await sendingFirmware(project, frames), {
      lines: pins,
      frames: frames.length,
      maxCycles,
    });
    expect(run.crashed).toBe(false);
    for (const [line, { frames: sent, pulses, probe }] of run.lines.entries()) {
      expect(sent.map(({ bytes }) => [...bytes])).toEqual(expected[line]);
      expectCycles(pulses);
      expect(probe.frames.map(({ bytes }) => [...bytes])).toEqual(expected[line]);
    }
  });
});
