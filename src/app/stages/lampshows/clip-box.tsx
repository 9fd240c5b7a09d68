// One clip on the timeline: a box filled with its weave, its name in a dark tag, its ends to trim it by. A button, so that the keyboard reaches it.
import { memo, useMemo } from 'react';
import type { Clip } from '../../../project/index.ts';
import { seconds } from '../../format.ts';
import { clipSource } from '../../weave/clip-source.ts';
import { useWeave } from '../../weave/use-weave.ts';
import { WeaveCanvas } from '../../weave/weave-canvas.tsx';
import { useScreen, useSettled, useWorkbench } from '../../workbench/context.ts';
import { clipEndMs } from './clip-times.ts';
import css from './timeline.module.css';
import { clipTitle, shortEffectLabels } from './words.ts';

export const ClipBox = memo(function ClipBox({
  show,
  row,
  index,
  clip,
  lane,
  extent,
}: {
  readonly show: string;
  readonly row: number;
  readonly index: number;
  readonly clip: Clip;
  readonly lane: number;
  readonly extent: number;
}) {
  const workbench = useWorkbench();
  const { project, layout } = useSettled();
  const isChosen = useScreen(
    ({ selection }) =>
      selection.kind === 'clip' &&
      selection.show === show &&
      selection.row === row &&
      selection.clip === index,
  );
  const source = useMemo(() => clipSource(project, layout, clip), [project, layout, clip]);
  const weave = useWeave(source);
  const title = clipTitle(clip, project.areas);
  return (
    <button
      type="button"
      className={css['clip']}
      data-clip={index}
      aria-pressed={isChosen}
      aria-label={`${title}, ${seconds(clip.startMs)} to ${seconds(clipEndMs(clip))} s`}
      title={title}
      style={
        {
          left: `${(100 * clip.startMs) / extent}%`,
          width: `${(100 * clip.lengthMs) / extent}%`,
          '--lane': lane,
        } as React.CSSProperties
      }
      onClick={() => workbench.select({ kind: 'clip', show, row, clip: index })}
    >
      <WeaveCanvas weave={weave} className={css['weave']!} />
      <span className={css['tag']} aria-hidden="true">
        {shortEffectLabels[clip.effect.kind]}
      </span>
      <span className={css['edge']} data-edge="start" />
      <span className={css['edge']} data-edge="end" />
    </button>
  );
});
