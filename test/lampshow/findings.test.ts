// Findings about shows and speed: each code on its own side of its threshold.
import { describe, expect, test } from 'vitest';
import { examine } from '../../src/board/index.ts';
import { predictSpeed } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import { type Clip, type Effect, limits, type Project } from '../../src/project/index.ts';
import { templates } from '../support/lamploom.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

// 600 x 300 mm: the diagonal is 670.8 mm, so a position unit is 2.631 mm.
const panel = { widthMm: 600, heightMm: 300, airGapMm: 20, sheet: 'opal-pmma' } as const;
const diagonalMm = Math.hypot(600, 300);
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
  test('ring-centre-off-panel', () => {
    expect(codesOf(withClips([clip(rings(600))]))).not.toContain('ring-centre-off-panel');
    expect(codesOf(withClips([clip(rings(600.1))]))).toContain('ring-centre-off-panel');
  });
  test('ring-spacing-small: under three position units, which only a large panel can have', () => {
    const large = (spacingMm: number) =>
      codesOf({
        ...withClips([clip(rings(10, spacingMm))]),
        panel: { ...panel, widthMm: 2400, heightMm: 1200 },
      });
    const least = (3 * 4 * diagonalMm) / 255;
    expect(codesOf(withClips([clip(rings(10, 10))]))).not.toContain('ring-spacing-small');
    expect(large(least + 0.1)).not.toContain('ring-spacing-small');
    expect(large(least - 0.1)).toContain('ring-spacing-small');
  });
  test('cloud-patch-small: under a seventh of the diagonal', () => {
    const least = diagonalMm / 7;
    expect(codesOf(withClips([clip(cloud(least + 0.2))]))).not.toContain('cloud-patch-small');
    expect(codesOf(withClips([clip(cloud(least - 0.2))]))).toContain('cloud-patch-small');
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
