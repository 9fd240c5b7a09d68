// `frames` of a line on which LEDs of three and four bytes share one wire: how many bytes each has, and that the file holds them.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { lamploom, temporaryFile, temporaryFolder } from '../support/command-line.ts';
import { projectOf } from '../support/projects.ts';

const run = { arrowDeg: 0, strip: 'ws2812b-60' } as const;
const project = projectOf({
  runs: [
    { ...run, id: 'plain', firstLed: { xMm: 20, yMm: 20 }, ledCount: 2 },
    {
      ...run,
      id: 'white',
      firstLed: { xMm: 100, yMm: 20 },
      ledCount: 3,
      strip: 'sk6812-white-60',
      deadLeds: [1],
    },
    { ...run, id: 'other', firstLed: { xMm: 200, yMm: 20 }, ledCount: 1 },
  ],
  dataLines: [
    { pin: 6, chain: [{ run: 'plain' }, { run: 'white' }] },
    { pin: 9, chain: [{ run: 'other' }] },
  ],
  gradients: [{ id: 'pale', stops: [{ at: 0, colour: '#ff8040' }] }],
  lampshows: [
    {
      id: 'attract',
      lengthMs: 1000,
      rows: [
        {
          id: 'row',
          clips: [
            {
              startMs: 0,
              lengthMs: 1000,
              area: 'everything',
              gradient: 'pale',
              blend: 'over',
              effect: { kind: 'glow', gradientPlace: 0, gradientSpan: 0 },
            },
          ],
        },
      ],
    },
  ],
  power: {
    supply: { volts: 5, amps: 10 },
    feeds: ['plain', 'other'].map((id) => ({ run: id, led: 0, wire: 'AWG 18', lengthMm: 300 })),
  },
  output: { gamma: { red: 1, green: 1, blue: 1 }, brightnessPercent: 100 },
});

test('[O-11] each LED has as many bytes as its strip takes; white is what the colours have in common; a dead LED is dark', () => {
  const out = join(temporaryFolder(), 'frames.bin');
  const { status, stdout, stderr } = lamploom(
    ...[
      'frames',
      temporaryFile(JSON.stringify(project)),
      '--show',
      'attract',
      '--count',
      '2',
      '--out',
      out,
      '--json',
    ],
  );
  expect([status, stderr]).toEqual([0, '']);
  expect(JSON.parse(stdout)).toMatchObject({
    count: 2,
    bytesPerFrame: 21,
    lines: [
      { pin: 6, ledCount: 5, bytesPerLed: [3, 3, 4, 4, 4] },
      { pin: 9, ledCount: 1, bytesPerLed: [3] },
    ],
  });
  const bytes = readFileSync(out);
  expect(bytes.length).toBe(42);
  // #ff8040 in the strip's orders GRB and GRBW; 64 are taken from each and given to white.
  const plain = [0x80, 0xff, 0x40];
  const white = [0x40, 0xbf, 0x00, 0x40];
  expect([...bytes.subarray(0, 21)]).toEqual([...plain, ...plain, ...white, 0, 0, 0, 0, ...white, ...plain]);
});
