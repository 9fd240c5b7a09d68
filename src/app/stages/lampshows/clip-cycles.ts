// What one clip costs the board in a frame in which it plays, in cycles. Taken from the prediction for whole shows by weighing many copies: a few
// would hide in the chips' latch, during which the board draws anyway.
import { predictSpeed } from '../../../lampshow/index.ts';
import type { Layout } from '../../../panel/index.ts';
import type { Clip, Project } from '../../../project/index.ts';

/** Even a clip without LEDs takes over 300 cycles, so that these outlast the latch's 4,864. */
const copies = 32;

export function clipCycles(project: Project, layout: Layout, clip: Clip): number {
  const weighed = (count: number) => {
    const clips = Array.from({ length: count }, () => ({ ...clip, startMs: 0 }));
    const show = { id: 'weighed', lengthMs: clip.lengthMs, rows: [{ id: 'copies', clips }] };
    const { slowestFrameCycles } = predictSpeed(
      { ...project, lampshows: [show], attractMode: show.id },
      layout,
    );
    return slowestFrameCycles.get(show.id)!;
  };
  return (weighed(2 * copies) - weighed(copies)) / copies;
}
