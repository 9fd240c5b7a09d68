// Effects to choose from, each as a small live picture of what it would do on this very area in these colours: the area's LEDs where they lie, in the
// colours that the player gives them. Woven when the pictures are opened, by the second player, one after the other.
import { useEffect, useId, useMemo, useRef, useState } from 'react';
import type { Layout, PointMm } from '../../../panel/index.ts';
import type { Clip, Effect, EffectKind } from '../../../project/index.ts';
import { Button } from '../../fields/index.ts';
import { type ClipSource, clipSource } from '../../weave/clip-source.ts';
import { useClipWeaves } from '../../weave/use-weave.ts';
import { rowWires, type Weave } from '../../weave/weave.ts';
import { useSettled } from '../../workbench/context.ts';
import css from './inspector.module.css';
import { effectChoices, effectLabels } from './words.ts';

const widthPx = 80;
const heightPx = 50;
const marginPx = 5;
/** Long enough for a slow effect to show itself, short enough to see it again. */
const lastsMs = 5000;

interface Dot {
  readonly x: number;
  readonly y: number;
}

/** The LEDs of the weave's rows, fitted into the picture without stretching. */
export function dotsOf(places: readonly PointMm[]): Dot[] {
  const xs = places.map(({ xMm }) => xMm);
  const ys = places.map(({ yMm }) => yMm);
  const [left, top] = [Math.min(...xs), Math.min(...ys)];
  const width = Math.max(...xs) - left;
  const height = Math.max(...ys) - top;
  const scale = Math.min(
    (widthPx - 2 * marginPx) / Math.max(1, width),
    (heightPx - 2 * marginPx) / Math.max(1, height),
  );
  return places.map(({ xMm, yMm }) => ({
    x: widthPx / 2 + (xMm - left - width / 2) * scale,
    y: heightPx / 2 + (yMm - top - height / 2) * scale,
  }));
}

function draw(context: CanvasRenderingContext2D, dots: readonly Dot[], weave: Weave, share: number): void {
  context.fillStyle = '#000';
  context.fillRect(0, 0, widthPx, heightPx);
  const column = Math.min(weave.columns - 1, Math.floor(share * weave.columns));
  for (const [row, { x, y }] of dots.slice(0, weave.rows).entries()) {
    const at = (row * weave.columns + column) * 4;
    const [red, green, blue] = weave.pixels.subarray(at, at + 3);
    context.fillStyle = `rgb(${red} ${green} ${blue})`;
    context.beginPath();
    context.arc(x, y, 2.2, 0, 2 * Math.PI);
    context.fill();
  }
}

function LivePicture({ source }: { readonly source: ClipSource }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const weave = useClipWeaves(source, undefined).whole?.weave;
  const { layout } = source;
  const dots = useMemo(
    () => dotsOf(rowWires(source).map((wire) => (layout as Layout).wireLeds[wire]!)),
    [source, layout],
  );
  useEffect(() => {
    const context = canvas.current?.getContext('2d');
    if (!context || !weave || weave.columns === 0) return undefined;
    // Who asked for less motion sees one moment in the middle.
    if (matchMedia('(prefers-reduced-motion: reduce)').matches) {
      draw(context, dots, weave, 0.5);
      return undefined;
    }
    let request = 0;
    const step = (nowMs: number) => {
      draw(context, dots, weave, (nowMs % lastsMs) / lastsMs);
      request = requestAnimationFrame(step);
    };
    request = requestAnimationFrame(step);
    return () => cancelAnimationFrame(request);
  }, [dots, weave]);
  return <canvas ref={canvas} width={widthPx} height={heightPx} aria-hidden="true" />;
}

/** What the clip would be with another effect, as the picture plays it: from its beginning, without fades. */
const shownClip = (clip: Clip, effect: Effect): Clip => {
  const { envelope: _, cycle: __, ...others } = clip;
  return { ...others, effect, startMs: 0, lengthMs: lastsMs, fadeInMs: 0, fadeOutMs: 0, levelPercent: 100 };
};

export function EffectPictures({
  clip,
  effectOf,
  onChoose,
}: {
  readonly clip: Clip;
  /** What the clip's effect becomes when it is of that kind. */
  readonly effectOf: (kind: EffectKind) => Effect;
  readonly onChoose: (kind: EffectKind) => void;
}) {
  const [isOpen, setOpen] = useState(false);
  const listId = useId();
  return (
    <>
      <Button onPress={() => setOpen(!isOpen)}>{isOpen ? 'Hide the pictures' : 'Choose by picture'}</Button>
      {isOpen && <Pictures id={listId} clip={clip} effectOf={effectOf} onChoose={onChoose} />}
    </>
  );
}

function Pictures({
  id,
  clip,
  effectOf,
  onChoose,
}: Parameters<typeof EffectPictures>[0] & { readonly id: string }) {
  const { project, layout } = useSettled();
  // Only where, in which colours and how fast it is decide the pictures; what is being dragged must not weave them all anew.
  // biome-ignore lint/correctness/useExhaustiveDependencies: the parts that decide the pictures
  const sources = useMemo(
    () =>
      effectChoices.map(({ id: kind }) => ({
        kind,
        source: clipSource(
          project,
          layout,
          shownClip(clip, kind === clip.effect.kind ? clip.effect : effectOf(kind)),
        ),
      })),
    [
      project.areas,
      project.gradients,
      project.output,
      project.panel,
      layout,
      clip.area,
      clip.gradient,
      clip.effect,
    ],
  );
  return (
    <ul id={id} className={css['pictures']} aria-label="Effects as they would look here">
      {sources.map(({ kind, source }) => (
        <li key={kind}>
          <button type="button" aria-pressed={kind === clip.effect.kind} onClick={() => onChoose(kind)}>
            {source && <LivePicture source={source} />}
            <span>{effectLabels[kind]}</span>
          </button>
        </li>
      ))}
    </ul>
  );
}
