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

/** The places of all planned LEDs of an area, the dark ones too, in planned order. */
export interface PlannedLed extends PointMm {
  readonly place: number;
}
const plannedOf = new WeakMap<readonly AreaLed[], readonly PlannedLed[]>();
const litOf = new WeakMap<readonly AreaLed[], readonly PlannedLed[]>();

/**
 * The area's LEDs in wire order with their places. Spare LEDs and LEDs of runs outside every planned chain don't belong to areas. LEDs that are dead,
 * bypassed or skipped are left out too, but keep their places: the light of all others stays where it was.
 */
export function areaLeds(layout: Layout, area: Area): readonly AreaLed[] {
  const ofLayout = knownLeds.get(layout) ?? new WeakMap<Area, readonly AreaLed[]>();
  knownLeds.set(layout, ofLayout);
  const leds = ofLayout.get(area) ?? findLeds(layout, area);
  ofLayout.set(area, leds);
  return leds;
}

/** For a list that areaLeds gave: its LEDs as places, and beside them all that were planned; the very objects of the first are among the second. */
export function plannedLeds(leds: readonly AreaLed[]): {
  readonly lit: readonly PlannedLed[];
  readonly all: readonly PlannedLed[];
} {
  const lit = litOf.get(leds);
  const all = plannedOf.get(leds);
  if (!lit || !all) throw new Error('these LEDs are not a list that areaLeds gave');
  return { lit, all };
}

function findLeds(layout: Layout, area: Area): AreaLed[] {
  const planned = layout.plannedLeds.filter(
    (led) => !led.spare && area.members.some((members) => isMember(members, led)),
  );
  const { order } = area;
  const along =
    planned.length === 0
      ? []
      : (places[order.kind] as (order: AreaOrder, leds: readonly Led[]) => number[])(order, planned);
  const all = planned.map(({ xMm, yMm }, i): PlannedLed => {
    const place = along[i]!;
    if (!order.reversed) return { xMm, yMm, place };
    return { xMm, yMm, place: order.kind === 'around' ? turnPart(1 - place) : 1 - place };
  });
  const onWire = planned
    .map((led, i) => ({ wire: layout.wireNumbers.get(led), led, planned: all[i]! }))
    .filter((one) => one.wire !== undefined && !one.led.dead)
    .sort((a, b) => a.wire! - b.wire!);
  const leds = onWire.map(({ wire, planned: { place } }): AreaLed => ({ wire: wire!, place }));
  const lit = onWire.map((one) => one.planned);
  // Usually all of them, in one order; then they are one list, and nothing needs to be looked up.
  const isSame = lit.length === all.length && lit.every((one, i) => one === all[i]);
  plannedOf.set(leds, all);
  litOf.set(leds, isSame ? all : lit);
  return leds;
}
