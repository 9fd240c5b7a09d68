// Areas: which LEDs of the wire belong to one, and how far along its order each lies (0 to 1).
// Effects know LEDs only by these places, so re-routing a chain never touches a show.
import type { Area, AreaMembers, AreaOrder } from '../project/index.ts';
import type { Layout, Led } from './layout.ts';
import { distanceToPathMm, isInside, type PointMm } from './plane.ts';

export interface AreaLed {
  /** Number on the wire, over all lines. */
  readonly wire: number;
  /** 0 at the beginning of the order, 1 at its end; `around` counts one whole turn as 1 and never reaches it. */
  readonly place: number;
}

const belongs: {
  readonly [K in AreaMembers['kind']]: (members: Extract<AreaMembers, { kind: K }>, led: Led) => boolean;
} = {
  all: () => true,
  runs: (members, led) => members.runs.includes(led.run),
  leds: (members, led) =>
    led.run === members.run &&
    led.led >= Math.min(members.from, members.to) &&
    led.led <= Math.max(members.from, members.to),
  rectangle: (members, led) =>
    led.xMm >= members.xMm &&
    led.xMm <= members.xMm + members.widthMm &&
    led.yMm >= members.yMm &&
    led.yMm <= members.yMm + members.heightMm,
  outline: (members, led) => isInside(members.points, led),
  stroke: (members, led) => distanceToPathMm(members.points, led) <= members.radiusMm,
};

function isMember(members: AreaMembers, led: Led): boolean {
  return (belongs[members.kind] as (members: AreaMembers, led: Led) => boolean)(members, led);
}

/** Arc length (mm) from the start of a drawn line to the place on it that is nearest to a point, and the line's whole length. */
export function alongPath(
  points: readonly PointMm[],
  to: PointMm,
): { readonly alongMm: number; readonly lengthMm: number } {
  let best = { distance: Number.POSITIVE_INFINITY, alongMm: 0 };
  let lengthMm = 0;
  for (let i = 1; i < points.length; i++) {
    const a = points[i - 1]!;
    const b = points[i]!;
    const dx = b.xMm - a.xMm;
    const dy = b.yMm - a.yMm;
    const length = Math.hypot(dx, dy);
    const t = length === 0 ? 0 : ((to.xMm - a.xMm) * dx + (to.yMm - a.yMm) * dy) / (length * length);
    const share = Math.min(1, Math.max(0, t));
    const distance = Math.hypot(to.xMm - a.xMm - share * dx, to.yMm - a.yMm - share * dy);
    if (distance < best.distance) best = { distance, alongMm: lengthMm + share * length };
    lengthMm += length;
  }
  return { alongMm: best.alongMm, lengthMm };
}

/** Values to 0..1 by their own least and greatest; all 0 where they don't differ. */
function spread(values: readonly number[]): number[] {
  const least = Math.min(...values);
  const range = Math.max(...values) - least;
  return values.map((value) => (range === 0 ? 0 : (value - least) / range));
}

const turnPart = (turns: number): number => turns - Math.floor(turns);

const places: {
  readonly [K in AreaOrder['kind']]: (
    order: Extract<AreaOrder, { kind: K }>,
    leds: readonly Led[],
  ) => number[];
} = {
  across: (_, leds) => spread(leds.map((led) => led.xMm)),
  up: (_, leds) => spread(leds.map((led) => -led.yMm)),
  outward: (order, leds) => {
    const distances = leds.map((led) => Math.hypot(led.xMm - order.centre.xMm, led.yMm - order.centre.yMm));
    const farthest = Math.max(...distances);
    return distances.map((distance) => (farthest === 0 ? 0 : distance / farthest));
  },
  around: (order, leds) =>
    leds.map((led) => {
      const upwards = Math.atan2(order.centre.yMm - led.yMm, led.xMm - order.centre.xMm) / (2 * Math.PI);
      return turnPart((order.startDeg ?? 0) / 360 - upwards);
    }),
  wiring: (_, leds) => spread(leds.map((_led, index) => index)),
  path: (order, leds) =>
    leds.map((led) => {
      const { alongMm, lengthMm } = alongPath(order.points, led);
      return lengthMm === 0 ? 0 : alongMm / lengthMm;
    }),
};

/** Layouts and areas never change in place, so what was found for a pair of them stays true. */
const knownLeds = new WeakMap<Layout, WeakMap<Area, readonly AreaLed[]>>();

/** The area's LEDs in wire order with their places. Spare and dead LEDs and LEDs of runs outside every chain are left out. */
export function areaLeds(layout: Layout, area: Area): readonly AreaLed[] {
  const ofLayout = knownLeds.get(layout) ?? new WeakMap<Area, readonly AreaLed[]>();
  knownLeds.set(layout, ofLayout);
  const leds = ofLayout.get(area) ?? findLeds(layout, area);
  ofLayout.set(area, leds);
  return leds;
}

function findLeds(layout: Layout, area: Area): AreaLed[] {
  const wires: number[] = [];
  const leds: Led[] = [];
  for (const [wire, led] of layout.wireLeds.entries())
    if (!led.spare && !led.dead && area.members.some((members) => isMember(members, led))) {
      wires.push(wire);
      leds.push(led);
    }
  const { order } = area;
  const along =
    leds.length === 0
      ? []
      : (places[order.kind] as (order: AreaOrder, leds: readonly Led[]) => number[])(order, leds);
  return wires.map((wire, i) => {
    const place = along[i]!;
    if (!order.reversed) return { wire, place };
    return { wire, place: order.kind === 'around' ? turnPart(1 - place) : 1 - place };
  });
}
