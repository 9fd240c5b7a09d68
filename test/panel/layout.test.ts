// Geometry: where LEDs are, how chains run, how long jumpers are. Expected places are worked out by hand from pitch = 1000 mm / (LEDs per m).
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { layOut, outline } from '../../src/panel/index.ts';
import type { Project, Run } from '../../src/project/index.ts';
import { projectOf } from '../support/projects.ts';

const run = (
  id: string,
  xMm: number,
  yMm: number,
  arrowDeg: number,
  ledCount: number,
  more: Partial<Run> = {},
): Run => ({
  id,
  firstLed: { xMm, yMm },
  arrowDeg,
  ledCount,
  strip: 'ws2812b-60',
  ...more,
});
const pitch = 1000 / 60;

describe('[PAN1] LED places', () => {
  test.each([
    ['right', 0, 100 + 9 * pitch, 80],
    ['up', 90, 100, 80 - 9 * pitch],
    ['left', 180, 100 - 9 * pitch, 80],
    ['down', 270, 100, 80 + 9 * pitch],
    ['down, written as -90', -90, 100, 80 + 9 * pitch],
    ['30 degrees above right', 30, 100 + 9 * pitch * Math.cos(Math.PI / 6), 80 - 9 * pitch * 0.5],
  ])('the tenth LED of a run whose arrow points %s', (_name, arrowDeg, xMm, yMm) => {
    const last = layOut(projectOf({ runs: [run('a', 100, 80, arrowDeg, 10)] })).wireLeds[9]!;
    expect(last.xMm).toBeCloseTo(xMm, 9);
    expect(last.yMm).toBeCloseTo(yMm, 9);
  });

  test.each([
    ['ws2812b-30', 33.333],
    ['ws2812b-60', 16.667],
    ['ws2812b-96', 10.417],
    ['ws2812b-144', 6.944],
    // Pitches: derived from the densities that makers sell, 1000 / density.
  ])('%s has LEDs every %d mm', (strip, pitchMm) => {
    const [first, second] = layOut(projectOf({ runs: [run('a', 0, 0, 0, 2, { strip })] })).wireLeds;
    expect(second!.xMm - first!.xMm).toBeCloseTo(pitchMm, 3);
  });

  test('a straight row has the same y to the last digit', () => {
    const leds = layOut(projectOf({ runs: [run('a', 10, 33.3, 180, 100)] })).wireLeds;
    expect(new Set(leds.map((led) => led.yMm))).toEqual(new Set([33.3]));
  });

  test('the cut piece is LEDs x pitch long, half a pitch beyond the outer LEDs, and as wide as the strip', () => {
    const [placed] = layOut(projectOf({ runs: [run('a', 100, 50, 0, 12)] })).runs;
    expect(placed!.cutLengthMm).toBeCloseTo(200, 9);
    const corners = outline(placed!);
    expect(Math.min(...corners.map((p) => p.xMm))).toBeCloseTo(100 - pitch / 2, 9);
    expect(Math.max(...corners.map((p) => p.xMm))).toBeCloseTo(300 - pitch / 2, 9);
    expect(corners.map((p) => p.yMm).sort((a, b) => a - b)).toEqual([45, 45, 55, 55]);
  });
});

describe('[PAN2] chains', () => {
  const project: Project = projectOf({
    runs: [
      run('a', 100, 100, 0, 3),
      run('b', 100, 150, 180, 2),
      run('c', 10, 10, 0, 4),
      run('loose', 10, 30, 0, 5),
    ],
    dataLines: [
      { pin: 6, chain: [{ run: 'b' }, { run: 'a', jumper: { power: 'cut', lengthMm: 77, wire: 'AWG 22' } }] },
      { pin: 7, chain: [{ run: 'c' }] },
    ],
  });
  const layout = layOut(project);

  test('LEDs are counted line after line, run after run, from each DIN', () => {
    expect(layout.wireLeds.map((led) => `${led.run}${led.led}`)).toEqual([
      'b0',
      'b1',
      'a0',
      'a1',
      'a2',
      'c0',
      'c1',
      'c2',
      'c3',
    ]);
  });

  test('a run outside every chain has places but no number on the wire', () => {
    expect(layout.unchained.map((placed) => placed.run.id)).toEqual(['loose']);
    expect(layout.runs).toHaveLength(4);
  });

  test('a jumper is as the builder says', () => {
    expect(layout.lines[0]!.jumpers[0]).toMatchObject({ power: 'cut', lengthMm: 77, wire: 'AWG 22' });
    expect(layout.lines[1]!.jumpers).toEqual([]);
  });

  test('a jumper without data carries the supply and is as long as the straight way from DOUT to DIN', () => {
    const plain = layOut(projectOf({ runs: [run('a', 100, 100, 0, 3), run('b', 100, 160, 0, 3)] }));
    // DOUT lies 2.5 pitches right of a's first LED, DIN half a pitch left of b's first LED, 60 mm below.
    expect(plain.lines[0]!.jumpers[0]).toMatchObject({
      power: 'carried',
      lengthMm: Math.hypot(3 * pitch, 60),
      wire: 'AWG 20',
    });
  });

  test('re-routing a chain moves no LED', () => {
    fc.assert(
      fc.property(fc.shuffledSubarray(['a', 'b', 'c', 'loose'], { minLength: 1 }), (order) => {
        const other = layOut({
          ...project,
          dataLines: [{ pin: 6, chain: order.map((id) => ({ run: id })) }],
        });
        expect(other.runs.map((placed) => placed.leds)).toEqual(layout.runs.map((placed) => placed.leds));
        const ledCount = (id: string) => project.runs.find((one) => one.id === id)!.ledCount;
        expect(other.wireLeds).toHaveLength(order.reduce((sum, id) => sum + ledCount(id), 0));
      }),
      { seed: 1, numRuns: 30 },
    );
  });
});
