// The project that edits are measured with: a show of 30 s in 6 rows over 500 LEDs, several clips a row, every one on all LEDs.
import type { Clip, Project } from '../../src/project/index.ts';
import { loadProject, rowsOfStrip } from '../support/projects.ts';

const showMs = 30_000;
const clipsPerRow = 4;
/** At the end of each row time is left to move clips into. */
const restMs = 2000;

export function editProject(): Project {
  const project = loadProject(500, 6);
  const runs = rowsOfStrip(500, 25);
  const [{ rows }] = project.lampshows as [Project['lampshows'][number]];
  return {
    ...project,
    name: 'Six rows, 500 LEDs',
    panel: { ...project.panel, widthMm: 520, heightMm: 580 },
    runs,
    dataLines: [{ pin: 6, chain: runs.map(({ id }) => ({ run: id })) }],
    board: { id: 'atmega2560' },
    lampshows: [
      {
        id: 'attract',
        lengthMs: showMs,
        rows: rows.map((row, r) => ({
          ...row,
          clips: Array.from({ length: clipsPerRow }, (_, i): Clip => {
            const [clip] = row.clips as [Clip];
            const lengthMs = (showMs - restMs) / clipsPerRow;
            return {
              ...clip,
              startMs: i * lengthMs,
              lengthMs,
              fadeInMs: 200 + 50 * r,
              effect: structuredClone(clip.effect),
            };
          }),
        })),
      },
    ],
  };
}
