// Rulers in millimetres along the top and the left edge, with brass marks where the selection lies.
import { memo, type PointerEvent } from 'react';
import css from './canvas.module.css';
import { type Sight, toPanel, toScreen } from './geometry.ts';
import { rulerTicks } from './ruler-ticks.ts';

export const rulerPx = 20;

export interface Extent {
  readonly fromMm: number;
  readonly toMm: number;
}

/** Ticks and figures change with the view alone, not with what is moved on the panel. */
const Ticks = memo(function Ticks({
  axis,
  sight,
  lengthPx,
}: {
  readonly axis: 'x' | 'y';
  readonly sight: Sight;
  readonly lengthPx: number;
}) {
  const isX = axis === 'x';
  const key = isX ? 'xMm' : 'yMm';
  const at = (mm: number) => toScreen(sight, { xMm: mm, yMm: mm })[axis];
  const ends = [toPanel(sight, { x: 0, y: 0 })[key], toPanel(sight, { x: lengthPx, y: lengthPx })[key]];
  const ticks = rulerTicks(Math.min(...ends), Math.max(...ends), sight.view.pxPerMm);
  const line = (px: number, size: number) =>
    isX ? `M${px} ${rulerPx}v${-size}` : `M${rulerPx} ${px}h${-size}`;
  return (
    <>
      <path
        className={css['ruler-ticks']}
        d={ticks.map(({ mm, isFigure }) => line(at(mm), isFigure ? 10 : 5)).join('')}
      />
      {ticks
        .filter(({ isFigure }) => isFigure)
        .map(({ mm }) => (
          <text
            key={mm}
            {...(isX
              ? { x: at(mm) + 3, y: 11 }
              : { transform: `translate(11 ${at(mm) + 3}) rotate(-90)`, textAnchor: 'end' as const })}
          >
            {mm}
          </text>
        ))}
    </>
  );
});

function Ruler({
  axis,
  sight,
  lengthPx,
  mark,
  onPull,
}: {
  readonly axis: 'x' | 'y';
  readonly sight: Sight;
  readonly lengthPx: number;
  readonly mark: Extent | undefined;
  readonly onPull: ((event: PointerEvent) => void) | undefined;
}) {
  const at = (mm: number) => toScreen(sight, { xMm: mm, yMm: mm })[axis];
  const isX = axis === 'x';
  const marked = mark && [at(mark.fromMm), at(mark.toMm)];
  return (
    <svg
      className={css[isX ? 'ruler-x' : 'ruler-y']}
      width={isX ? lengthPx : rulerPx}
      height={isX ? rulerPx : lengthPx}
      aria-hidden="true"
      data-ruler={axis}
      data-pulls={onPull !== undefined}
      onPointerDown={onPull}
    >
      {marked && (
        <path
          className={css['ruler-mark']}
          d={
            isX
              ? `M${Math.min(...marked)} ${rulerPx - 2}H${Math.max(...marked)}`
              : `M${rulerPx - 2} ${Math.min(...marked)}V${Math.max(...marked)}`
          }
        />
      )}
      <Ticks axis={axis} sight={sight} lengthPx={lengthPx} />
    </svg>
  );
}

export const Rulers = memo(function Rulers({
  sight,
  widthPx,
  heightPx,
  marks,
  onPull,
}: {
  readonly sight: Sight;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly marks: { readonly x: Extent; readonly y: Extent } | undefined;
  /** Pulls a guide out; the ruler along the top holds guides that lie, the one on the left guides that stand. */
  readonly onPull: ((axis: 'x' | 'y') => (event: PointerEvent) => void) | undefined;
}) {
  return (
    <>
      <Ruler axis="x" sight={sight} lengthPx={widthPx} mark={marks?.x} onPull={onPull?.('y')} />
      <Ruler axis="y" sight={sight} lengthPx={heightPx} mark={marks?.y} onPull={onPull?.('x')} />
      <div className={css['ruler-corner']} />
    </>
  );
});
