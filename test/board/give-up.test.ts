// What to give up where the shows don't fit: the bytes told are those that taking the clip out really frees, and the greatest come first.
import { expect, test } from 'vitest';
import { clipsToGiveUp } from '../../src/board/index.ts';
import { compileShowData } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Clip, Project } from '../../src/project/index.ts';
import { examine, sample, templates } from '../support/lamploom.ts';
import { loadProject } from '../support/projects.ts';

const layoutOf = (project: Project) => layOut(project);
const compiled = (project: Project) => compileShowData(project, layoutOf(project), { frameMs: 20 })!;

test('a clip frees what nothing else uses, and no more', () => {
  const project = sample('first-light');
  const data = compiled(project);
  const clips = clipsToGiveUp(project, layoutOf(project), data);
  expect(clips.length).toBeGreaterThan(5);
  expect(clips.map(({ bytes }) => bytes)).toEqual(clips.map(({ bytes }) => bytes).sort((a, b) => b - a));
  for (const { at, bytes } of clips) {
    const [, , show, , row, , clip] = at.split('/').map(Number);
    const without = structuredClone(project) as Project;
    without.lampshows[show!]!.rows[row!]!.clips.splice(clip!, 1);
    expect(data.tableBytes - compiled(without).tableBytes, at).toBe(bytes);
    // 41 bytes are the clip's own record (show_data.h).
    expect(bytes).toBeGreaterThanOrEqual(41);
  }
});

/** So many rings around centres of their own on 300 LEDs: each has 300 distances for itself, and its record. */
function manyRings(count: number): Project {
  const base = loadProject(300, 1);
  const rings = (n: number): Clip => ({
    startMs: 20 * n,
    lengthMs: 20,
    area: 'everything',
    gradient: 'ember',
    blend: 'add',
    effect: { kind: 'rings', centre: { xMm: 7 * n, yMm: 3 * n }, spacingMm: 100, ringSeconds: 1, width: 0.5 },
  });
  const clips = Array.from({ length: count }, (_, n) => rings(n));
  return { ...base, lampshows: [{ ...base.lampshows[0]!, rows: [{ id: 'many', clips }] }] };
}
const flashFinding = (project: Project) =>
  examine(project, templates).findings.find(({ code }) => code === 'flash-too-small')!;

test('shows that are too large are told clip by clip', () => {
  const finding = flashFinding(manyRings(60));
  expect(finding.message).toMatch(/need \d+ bytes of flash more/);
  expect(finding.mend).toContain('rings in row "many" of "attract" (341 bytes)');
});

test('shows whose tables can’t be addressed are told clip by clip too, with about their bytes', () => {
  // 65,536 bytes are 219 times 300 distances.
  const finding = flashFinding(manyRings(230));
  expect(finding.message).toContain('more than 64 KB');
  expect(finding.mend).toContain('rings in row "many" of "attract" (about 300 bytes)');
});
