// Where things of a show lie on one panel, carried to where they belong on another: centre points and drawn lines by where they lie in their area's
// box, lengths (a cloud's patches and drift, rings' spacing) by how much wider the panel is. An area that lies on just the same place keeps everything
// to the last digit. Pure; not here: which area takes the place of which (show-pack.ts).
import type { AreaOrder, Effect } from '../project/index.ts';

/** A rectangle in mm, x right, y down. */
export interface BoxMm {
  readonly xMm: number;
  readonly yMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** From an area of one panel to an area of another. */
export interface Carrying {
  readonly from: BoxMm;
  readonly to: BoxMm;
  /** Width of the panel it goes to, over that of the panel it comes from. */
  readonly scale: number;
}

interface Point {
  readonly xMm: number;
  readonly yMm: number;
}

/** Nobody sees a hundredth of a millimetre, and packs keep places to a few thousandths. */
const finestMm = 0.01;
/** A box narrower than this is a line of LEDs: shares of its width would say nothing. */
const leastSideMm = 1;

const rounded = (mm: number): number => Math.round(mm / finestMm) / Math.round(1 / finestMm) + 0;

/** Whether nothing has to be carried. */
export const isSamePlace = ({ from, to, scale }: Carrying): boolean =>
  scale === 1 &&
  (['xMm', 'yMm', 'widthMm', 'heightMm'] as const).every((key) => Math.abs(from[key] - to[key]) <= finestMm);

function carriedAlong(
  value: number,
  from: number,
  fromSide: number,
  to: number,
  toSide: number,
  scale: number,
) {
  if (fromSide >= leastSideMm && toSide >= leastSideMm)
    return rounded(to + ((value - from) / fromSide) * toSide);
  // From the middle of the line, as far as the panels' widths say.
  return rounded(to + toSide / 2 + (value - from - fromSide / 2) * scale);
}

function carriedPoint({ xMm, yMm }: Point, { from, to, scale }: Carrying): { xMm: number; yMm: number } {
  return {
    xMm: carriedAlong(xMm, from.xMm, from.widthMm, to.xMm, to.widthMm, scale),
    yMm: carriedAlong(yMm, from.yMm, from.heightMm, to.yMm, to.heightMm, scale),
  };
}

export function carriedOrder(order: AreaOrder, carrying: Carrying): AreaOrder {
  if (isSamePlace(carrying)) return order;
  if (order.kind === 'outward' || order.kind === 'around')
    return { ...order, centre: carriedPoint(order.centre, carrying) };
  if (order.kind !== 'path') return order;
  const points = order.points.map((point) => carriedPoint(point, carrying));
  return { ...order, points: points as unknown as typeof order.points };
}

/** Numbers that leave the document's bounds are brought back by the edits that add the show. */
export function carriedEffect(effect: Effect, carrying: Carrying): Effect {
  if (isSamePlace(carrying)) return effect;
  const length = (mm: number): number => rounded(mm * carrying.scale);
  switch (effect.kind) {
    case 'spokes':
      return { ...effect, centre: carriedPoint(effect.centre, carrying) };
    case 'rings':
      return {
        ...effect,
        centre: carriedPoint(effect.centre, carrying),
        spacingMm: length(effect.spacingMm),
      };
    case 'cloud':
      return {
        ...effect,
        patchMm: length(effect.patchMm),
        driftMmPerSecond: length(effect.driftMmPerSecond),
      };
    case 'fire':
      return {
        ...effect,
        patchMm: length(effect.patchMm),
        riseMmPerSecond: length(effect.riseMmPerSecond),
      };
    default:
      return effect;
  }
}
