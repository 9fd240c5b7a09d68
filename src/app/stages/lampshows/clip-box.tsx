// One clip on the timeline: a box filled with its weave, its name in a dark tag, its ends to trim it by, its upper corners to fade it by. A button,
// so that the keyboard reaches it. Not here: what the pointer does (use-clip-drag.ts).
import { type MouseEvent, memo, useEffect, useMemo, useRef } from 'react';
import type { Clip } from '../../../project/index.ts';
import { seconds } from '../../format.ts';
import { clipSource } from '../../weave/clip-source.ts';
import { useClipWeaves, type WovenPart } from '../../weave/use-weave.ts';
import { partInView } from '../../weave/weave.ts';
import { WeaveCanvas } from '../../weave/weave-canvas.tsx';
import { useScreen, useSettled, useWorkbench } from '../../workbench/context.ts';
import { chosenClips, withClipToggled } from '../../workbench/selection.ts';
import { clipEndMs } from './clip-times.ts';
import css from './timeline.module.css';
import type { TimelineInView } from './use-timeline-view.ts';
import { clipTitle, shortEffectLabels } from './words.ts';

/** More dots than that a pixel nobody tells apart. */
const mostDensity = 2;
/** Narrower clips have no corners to fade by: their ends would have no room. */
const leastFadePx = 36;

const Sharp = ({ sharp: { part, weave } }: { readonly sharp: WovenPart }) => (
  <span
    className={css['sharp']}
    data-columns={part.columns}
    style={{
      left: `${(100 * part.fromColumn) / part.columns}%`,
      width: `${(100 * (part.toColumn - part.fromColumn)) / part.columns}%`,
    }}
  >
    <WeaveCanvas weave={weave} className={css['weave']!} />
  </span>
);

/** Where the fades end, as far as the clip goes. */
function Fades({ clip: { lengthMs, fadeInMs = 0, fadeOutMs = 0 } }: { readonly clip: Clip }) {
  const share = (ms: number) => `${(100 * Math.min(ms, lengthMs)) / lengthMs}%`;
  return (
    <>
      <span className={css['fade']} data-fade="in" style={{ left: share(fadeInMs) }} />
      <span className={css['fade']} data-fade="out" style={{ right: share(fadeOutMs) }} />
    </>
  );
}

export const ClipBox = memo(function ClipBox({
  show,
  row,
  index,
  clip,
  lane,
  extent,
  inView,
}: {
  readonly show: string;
  readonly row: number;
  readonly index: number;
  readonly clip: Clip;
  readonly lane: number;
  readonly extent: number;
  readonly inView: TimelineInView;
}) {
  const workbench = useWorkbench();
  const { project, layout } = useSettled();
  const isChosen = useScreen(({ selection }) => {
    const chosen = chosenClips(selection);
    return chosen?.show === show && chosen.spots.some((spot) => spot.row === row && spot.clip === index);
  });
  // A stroke changes the cells with every move: their weave follows when the hand rests.
  const settled = project.lampshows.find(({ id }) => id === show)?.rows[row]?.clips[index];
  const woven =
    clip.effect.kind === 'painted' && settled?.effect.kind === 'painted' ? settled.effect : clip.effect;
  const source = useMemo(
    () => clipSource(project, layout, woven === clip.effect ? clip : { ...clip, effect: woven }),
    [project, layout, clip, woven],
  );
  const density = Math.min(mostDensity, globalThis.devicePixelRatio);
  const pxPerMs = inView.trackPx / extent;
  const leftPx = clip.startMs * pxPerMs;
  const widthPx = clip.lengthMs * pxPerMs;
  const { whole, sharp } = useClipWeaves(
    source,
    partInView(
      clip.lengthMs,
      widthPx * density,
      (inView.fromPx - leftPx) * density,
      (inView.toPx - leftPx) * density,
    ),
  );
  const title = clipTitle(clip, project.areas);
  const button = useRef<HTMLButtonElement>(null);
  // A clip that the keyboard moved to another row is another button; the keyboard goes on from it.
  // biome-ignore lint/correctness/useExhaustiveDependencies: only when it appears
  useEffect(() => {
    if (isChosen && document.activeElement === document.body) button.current!.focus({ preventScroll: true });
  }, []);
  const onClick = ({ detail, shiftKey }: MouseEvent) => {
    // A press by the pointer has been heard already.
    if (detail > 0) return;
    const spot = { row, clip: index };
    workbench.select(
      shiftKey ? withClipToggled(workbench.state.selection, show, spot) : { kind: 'clip', show, ...spot },
    );
  };
  return (
    <button
      ref={button}
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
          '--left': `${leftPx}px`,
        } as React.CSSProperties
      }
      onClick={onClick}
    >
      <WeaveCanvas weave={whole?.weave} className={css['weave']!} />
      {sharp && <Sharp sharp={sharp} />}
      <span className={css['tag']} aria-hidden="true">
        {shortEffectLabels[clip.effect.kind]}
      </span>
      <span className={css['edge']} data-edge="start" />
      <span className={css['edge']} data-edge="end" />
      {widthPx >= leastFadePx && <Fades clip={clip} />}
    </button>
  );
});
