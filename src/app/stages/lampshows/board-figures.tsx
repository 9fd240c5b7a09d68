// What the chosen clip costs on the board: current, flash and time. Current is that of the clip alone, found by playing it frame by frame.
import { useMemo } from 'react';
import { boards, rowById } from '../../../catalogue/index.ts';
import { clipSize } from '../../../lampshow/index.ts';
import type { Clip } from '../../../project/index.ts';
import { Derived, Group } from '../../fields/index.ts';
import { clipSource } from '../../weave/clip-source.ts';
import { useClipPeak } from '../../weave/use-weave.ts';
import { frameMoments } from '../../weave/weave.ts';
import { useFigures, useSettled } from '../../workbench/context.ts';
import { clipCycles } from './clip-cycles.ts';
import css from './inspector.module.css';
import { useShow } from './use-show.ts';

export function BoardFigures({ clip }: { readonly clip: Clip }) {
  const { project, layout, frameMs } = useSettled();
  const { assessment } = useFigures();
  const { lengthMs: showMs } = useShow();
  const { startMs, lengthMs } = clip;
  const source = useMemo(() => clipSource(project, layout, clip), [project, layout, clip]);
  const moments = useMemo(
    () => frameMoments({ startMs, lengthMs }, frameMs, showMs),
    [startMs, lengthMs, frameMs, showMs],
  );
  const peakAmps = useClipPeak(source, assessment.panel, moments);
  const cycles = useMemo(() => clipCycles(project, layout, clip), [project, layout, clip]);
  const { clockHz } = rowById(boards, project.board.id)!;
  return (
    <Group title="On the board">
      <Derived label="Draws at most" unit="A">
        {peakAmps === undefined ? '-.--' : peakAmps.toFixed(2)}
      </Derived>
      <Derived label="Show data" unit="B">
        {clipSize}
      </Derived>
      <Derived label="Takes at most" unit="ms">
        {((cycles * 1000) / clockHz).toFixed(2)}
      </Derived>
      <p className={css['note']}>
        Alone, above the dark panel, without the current limit. Its area and gradient are stored once for all
        clips.
      </p>
    </Group>
  );
}
