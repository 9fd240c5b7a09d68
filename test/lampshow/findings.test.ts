// Findings about shows and speed: each code on its own side of its threshold.
import { describe, expect, test } from 'vitest';
import { examine } from '../../src/board/index.ts';
import { predictSpeed } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import { type Clip, type Effect, limits, type Project } from '../../src/project/index.ts';
import { templates } from '../support/lamploom.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const panel = { widthMm: 600, heightMm: 300, airGapMm: 20, sheet: 'opal-pmma' } as const;
/** Two rows of 30 LEDs, a 60th of a metre apart: the first at 20 mm, the last at 20 + 29 x 16.67 mm. */
const areaWidthMm = (29 * 1000) / 60;
const withClips = (clips: Clip[]): Project =>
  projectOf({
    panel,
    runs: rowsOfStrip(60),
    lampshows: [{ id: 'attract', lengthMs: 20_000, rows: [{ id: 'row', clips }] }],
  });
const clip = (effect: Effect, more: Partial<Clip> = {}): Clip => ({
  startMs: 0,
  lengthMs: 1000,
  area: 'everything',
  gradient: 'ember',
  blend: 'over',
  effect,
  ...more,
});
const glow: Effect = { kind: 'glow', gradientPlace: 0, gradientSpan: 1 };
const rings = (xMm: number, spacingMm = 100): Effect => ({
  kind: 'rings',
  centre: { xMm, yMm: 100 },
  spacingMm,
  ringSeconds: 1,
  width: 1,
});
const cloud = (patchMm: number, driftMmPerSecond = 0): Effect => ({
  kind: 'cloud',
  patchMm,
  driftMmPerSecond,
  driftDeg: 0,
  seed: 1,
});
const codesOf = (project: Project): string[] =>
  examine(project, templates).findings.map((finding) => finding.code);

describe('[SHOW1] clips', () => {
  const start = (startMs: number) => codesOf(withClips([clip(glow, { startMs })]));
  test('clip-after-end: a clip that starts when the show is over', () => {
    expect(start(19_999)).not.toContain('clip-after-end');
    expect(start(20_000)).toContain('clip-after-end');
  });
  test('ring-spacing-small: under two LEDs a ring, of the closest neighbours on the wire', () => {
    // The strip has 60 LEDs a metre.
    const least = (2 * 1000) / 60;
    expect(codesOf(withClips([clip(rings(20, least + 0.1))]))).not.toContain('ring-spacing-small');
    expect(codesOf(withClips([clip(rings(20, least - 0.1))]))).toContain('ring-spacing-small');
  });
  test.each<[string, (patchMm: number) => Effect]>([
    ['a cloud', (patchMm) => cloud(patchMm)],
    ['a fire', (patchMm) => ({ kind: 'fire', patchMm, riseMmPerSecond: 0, height: 0.5, seed: 1 })],
  ])('cloud-patch-small: %s of patches under a seventh of its area’s larger side', (_, effect) => {
    const least = areaWidthMm / 7;
    expect(codesOf(withClips([clip(effect(least + 0.1))]))).not.toContain('cloud-patch-small');
    expect(codesOf(withClips([clip(effect(least - 0.1))]))).toContain('cloud-patch-small');
    // A smaller area can have finer ones: ten LEDs are nine pitches wide.
    const small = (patchMm: number) =>
      codesOf({
        ...withClips([clip(effect(patchMm), { area: 'few' })]),
        areas: [
          {
            id: 'few',
            members: [{ kind: 'leds', run: 'row-0', from: 5, to: 14 }],
            order: { kind: 'across' },
          },
        ],
      });
    const leastSmall = (9 * 1000) / 60 / 7;
    expect(small(leastSmall + 0.1)).not.toContain('cloud-patch-small');
    expect(small(leastSmall - 0.1)).toContain('cloud-patch-small');
  });
  test('row-muted: a row that has clips and is muted, at its place', () => {
    const muted = (isMuted: boolean, clips: Clip[]) => {
      const project = withClips(clips);
      const [show] = project.lampshows;
      return examine(
        {
          ...project,
          lampshows: [
            {
              ...show!,
              rows: [
                { id: 'first', clips: [] },
                { ...show!.rows[0]!, muted: isMuted },
              ],
            },
          ],
        },
        templates,
      ).findings.filter(({ code }) => code === 'row-muted');
    };
    expect(muted(true, [clip(glow)])).toMatchObject([{ severity: 'note', at: '/lampshows/0/rows/1/muted' }]);
    expect(muted(false, [clip(glow)])).toEqual([]);
    expect(muted(true, [])).toEqual([]);
  });
  test('letters-rows, letters-columns and letters-cut are told at the clip', () => {
    const told = (rows: number, ledsPerRow: number, text: string) =>
      examine(
        {
          ...withClips([clip({ kind: 'letters', text })]),
          panel: { ...panel, widthMm: 6000 },
          dataLines: [{ pin: 6, chain: Array.from({ length: rows }, (_, row) => ({ run: `row-${row}` })) }],
          runs: Array.from({ length: rows }, (_, row) => ({
            id: `row-${row}`,
            firstLed: { xMm: 20, yMm: 20 + 17 * row },
            arrowDeg: 0,
            ledCount: ledsPerRow,
            strip: 'ws2812b-60',
          })),
        },
        templates,
      )
        .findings.filter(({ code }) => code.startsWith('letters-'))
        .map(({ severity, code, at }) => [severity, code, at]);
    const at = '/lampshows/0/rows/0/clips/0/effect';
    expect(told(5, 30, 'TILT')).toEqual([]);
    expect(told(4, 30, 'TILT')).toEqual([['error', 'letters-rows', at]]);
    expect(told(5, 12, 'TILT')).toEqual([['warning', 'letters-cut', at]]);
    expect(told(5, 257, 'TILT')).toEqual([['error', 'letters-columns', at]]);
  });
  test('cloud-drift-slow: a drift that fixed point can not hold to a twentieth', () => {
    // Ten steps of 2^-24 cells a millisecond, the cell being 200 mm.
    const least = (10 * 1000 * 200) / 2 ** 24;
    expect(codesOf(withClips([clip(cloud(200, least * 1.02))]))).not.toContain('cloud-drift-slow');
    expect(codesOf(withClips([clip(cloud(200, least * 0.98))]))).toContain('cloud-drift-slow');
    expect(codesOf(withClips([clip(cloud(200, 0))]))).not.toContain('cloud-drift-slow');
  });
});

describe('[SHOW2] speed', () => {
  /** `count` clouds at once over 480 LEDs, spread over the rows that a show may have. */
  const clouds = (count: number): Project =>
    projectOf({
      panel: { ...panel, heightMm: 1000 },
      runs: rowsOfStrip(480),
      lampshows: [
        {
          id: 'attract',
          lengthMs: 1000,
          rows: Array.from({ length: 16 }, (_, row) => ({
            id: `row-${row}`,
            clips: Array.from({ length: Math.ceil((count - row) / 16) }, () =>
              clip(cloud(200), { blend: 'tint' }),
            ),
          })),
        },
      ],
    });
  test('frameMs is the least whole number of milliseconds that the slowest frame needs, plus 2 %', () => {
    for (const count of [1, 2, 3, 5, 8]) {
      const project = clouds(count);
      const { slowestFrameCycles, frameMs } = predictSpeed(project, layOut(project));
      const neededMs = (Math.max(...slowestFrameCycles.values()) * 1.02) / 16_000;
      expect(frameMs).toBeGreaterThanOrEqual(neededMs);
      expect(frameMs - 1).toBeLessThan(neededMs);
    }
  });
  test('show-too-slow: beyond the frame time that the board can count', () => {
    const needed = (count: number) => predictSpeed(clouds(count), layOut(clouds(count))).frameMs;
    let count = 16;
    while (needed(count + 1) <= limits.frameMs) count++;
    expect(codesOf(clouds(count))).not.toContain('show-too-slow');
    expect(codesOf(clouds(count + 1))).toContain('show-too-slow');
  });
});
