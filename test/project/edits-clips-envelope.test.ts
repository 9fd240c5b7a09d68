// Cutting a clip where its brightness jumps, where its points stand out of order, and behind the longest show's end. Expected points follow from the rule that
// brightness over time stays what it was.
import { describe, expect, test } from 'vitest';
import * as edits from '../../src/project/edits-clips.ts';
import { type Clip, edited, limits, type Project, startHistory } from '../../src/project/index.ts';
import { holdsLaws } from '../support/edit-laws.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const withClip = (change: Partial<Clip>): Project =>
  projectOf({
    runs: rowsOfStrip(30),
    lampshows: [
      {
        id: 'attract',
        lengthMs: limits.showMs,
        rows: [
          {
            id: 'row',
            clips: [
              {
                startMs: 0,
                lengthMs: 1000,
                area: 'everything',
                gradient: 'ember',
                blend: 'over',
                effect: { kind: 'glow', gradientPlace: 0, gradientSpan: 1 },
                ...change,
              },
            ],
          },
        ],
      },
    ],
  });

const clipsOf = (project: Project) => project.lampshows[0]!.rows[0]!.clips;
const spot = [{ row: 0, clip: 0 }];

describe('cutting', () => {
  const jump = withClip({
    envelope: [
      { atMs: 0, percent: 0 },
      { atMs: 500, percent: 0 },
      { atMs: 500, percent: 100 },
      { atMs: 1000, percent: 100 },
    ],
  });
  const full = [
    { atMs: 0, percent: 100 },
    { atMs: 500, percent: 100 },
  ];

  test('a split at a jump leaves dark before it and bright behind it', () => {
    const [first, second] = clipsOf(holdsLaws(jump, 'Split', edits.splitClips('attract', spot, 500)));
    expect(first!.envelope!.map(({ percent }) => percent)).toEqual([0, 0]);
    expect(second!.envelope).toEqual(full);
  });

  test('a start trimmed to a jump begins bright', () => {
    const [clip] = clipsOf(holdsLaws(jump, 'Trim', edits.trimClips('attract', spot, 'start', 500)));
    expect(clip!.envelope).toEqual(full);
  });

  test('points out of order count by their time', () => {
    const turned = withClip({
      envelope: [
        { atMs: 1000, percent: 100 },
        { atMs: 0, percent: 0 },
      ],
    });
    const [first, second] = clipsOf(holdsLaws(turned, 'Split', edits.splitClips('attract', spot, 250)));
    expect(first!.envelope).toEqual([
      { atMs: 0, percent: 0 },
      { atMs: 250, percent: 25 },
    ]);
    expect(second!.envelope).toEqual([
      { atMs: 0, percent: 25 },
      { atMs: 750, percent: 100 },
    ]);
  });

  test('behind the longest show’s end nothing is cut: no clip could start there', () => {
    const late = withClip({ startMs: limits.showMs - 100, lengthMs: 1000 });
    const edit = edits.splitClips('attract', spot, limits.showMs + 1);
    expect(edited(startHistory(late), 'Split', edit).project).toBe(late);
    expect(clipsOf(holdsLaws(late, 'Split', edits.splitClips('attract', spot, limits.showMs)))).toHaveLength(
      2,
    );
  });
});
