// Whether a plan of one path keeps every rule of plan-problem.ts, exactly, and by how much. Zones by themselves and whole plans; the searches propose, this decides.
import { fuseFor, fuseLoadShare, fuseOhms } from '../catalogue/index.ts';
import { pathRises } from './path-volts.ts';
import { feedOhms, type PlanModel, type ZonePlan } from './plan-problem.ts';

/** An LED counts as having its volts with this much to spare, so that another order of adding up finds no fault with it. */
const spareVolts = 1e-9;

/** Rounded as sizing.ts does, without a detour through text: this is done millions of times. */
const settledAmps = (value: number): number => Math.round(value * 1e9) / 1e9;

/** A zone with its fuses, in the order of its places. */
export interface FusedZone extends ZonePlan {
  readonly fuseAmps: readonly number[];
  readonly fusesAmps: number;
  /** The least that an LED of it has above its least volts, and the lowest volts of it. */
  readonly marginVolts: number;
  readonly lowestVolts: number;
}

export interface CheckedPlan {
  readonly zones: readonly FusedZone[];
  readonly feedCount: number;
  /** The least that an LED has above its least volts. */
  readonly marginVolts: number;
  readonly lowestVolts: number;
}

/** Scratch for one model: sized once, used by every trial. */
export interface PlanRoom {
  readonly ties: Float64Array;
  readonly drops: Float64Array;
  readonly rises: Float64Array;
}

export const roomForPlan = ({ ledCount }: PlanModel): PlanRoom => ({
  ties: new Float64Array(ledCount),
  drops: new Float64Array(ledCount),
  rises: new Float64Array(ledCount),
});

/** The least rating of all that a zone's fuses may send a fault through within it, and at the board. */
export function zoneRating({ problem }: PlanModel, zone: ZonePlan): number {
  const { joints, places, boardAmps = Number.POSITIVE_INFINITY } = problem;
  let least = boardAmps;
  for (let joint = zone.first; joint < zone.last; joint++) least = Math.min(least, joints[joint]!.ratingAmps);
  for (const place of zone.places) least = Math.min(least, places[place]!.ratingAmps);
  return least;
}

/**
 * The least rating of what a zone gives to fault current from elsewhere: its ground wires, and the ground rails between the path's ways to the supply,
 * which are its feeds, and the lead to the board where there is one.
 */
export function crossedRating(
  { problem, ledCount }: PlanModel,
  { first, last, places: chosen }: ZonePlan,
): number {
  const { joints, places, boardAmps } = problem;
  let rating = Number.POSITIVE_INFINITY;
  for (const index of chosen) rating = Math.min(rating, places[index]!.ratingAmps);
  const from = first === 0 && boardAmps === undefined ? places[chosen[0]!]!.led : first;
  const to = last === ledCount - 1 ? places[chosen.at(-1)!]!.led : last + 1;
  for (let joint = from; joint < to; joint++) rating = Math.min(rating, joints[joint]!.ratingAmps);
  return rating;
}

/** How far + lies below the bus in a zone, volts, written to `room.drops`; the loads of its feeds. Fuses count where given. */
export function zoneDrops(
  model: PlanModel,
  zone: ZonePlan,
  condition: number,
  fuseAmps: readonly number[] | undefined,
  room: PlanRoom,
): number[] {
  const { places, copperFactors, drawnAmps } = model.problem;
  const { first, last } = zone;
  const siemens = zone.places.map((index, at) => {
    const place = places[index]!;
    const fuse = fuseAmps === undefined ? 0 : fuseOhms(place.fuseKind, fuseAmps[at]!);
    return 1 / (feedOhms(place, copperFactors[condition]!) + fuse);
  });
  room.ties.fill(0, first, last + 1);
  for (const [at, index] of zone.places.entries()) room.ties[places[index]!.led]! += siemens[at]!;
  pathRises(first, last, model.ohms[condition]!, drawnAmps, room.ties, room.drops);
  return zone.places.map((index, at) => room.drops[places[index]!.led]! * siemens[at]!);
}

/** Each feed's fuse, from the greatest load that plain wires would give it; undefined where none is made, or one is above its wire. */
function fusesOf(model: PlanModel, zone: ZonePlan, room: PlanRoom): number[] | undefined {
  const { places, copperFactors } = model.problem;
  const loads = zone.places.map(() => 0);
  for (let condition = 0; condition < copperFactors.length; condition++)
    for (const [at, load] of zoneDrops(model, zone, condition, undefined, room).entries())
      loads[at] = Math.max(loads[at]!, settledAmps(load));
  const fuses: number[] = [];
  for (const [at, index] of zone.places.entries()) {
    const place = places[index]!;
    const fuse = place.fuseAmps ?? fuseFor(loads[at]!, place.fuseKind);
    if (fuse === undefined || fuse > place.ratingAmps) return undefined;
    fuses.push(fuse);
  }
  return fuses;
}

/** Whether each feed's load suits its fuse, and each LED's what may enter there. */
function carries(
  model: PlanModel,
  zone: ZonePlan,
  fuseAmps: readonly number[],
  loads: readonly number[],
): boolean {
  const { places } = model.problem;
  let entering = 0;
  for (const [at, index] of zone.places.entries()) {
    const { led, pointAmps } = places[index]!;
    const load = settledAmps(loads[at]!);
    if (load > settledAmps(fuseAmps[at]! * fuseLoadShare)) return false;
    entering += load;
    if (settledAmps(entering) > pointAmps) return false;
    const next = zone.places[at + 1];
    if (next === undefined || places[next]!.led !== led) entering = 0;
  }
  return true;
}

/**
 * A zone by itself: its fuses, where it keeps all rules that don't ask for the rest of the path and every LED has its volts while the ground
 * has risen by `risesOf` (by copper factor and LED). Undefined where it doesn't.
 */
export function fusedZone(
  model: PlanModel,
  zone: ZonePlan,
  risesOf: readonly Float64Array[],
  room: PlanRoom,
): FusedZone | undefined {
  const { busVolts, leastVolts, copperFactors, crossingAmps } = model.problem;
  if (zone.places.length === 0) return undefined;
  if (crossingAmps > 0 && crossedRating(model, zone) < crossingAmps) return undefined;
  const fuseAmps = fusesOf(model, zone, room);
  if (!fuseAmps) return undefined;
  const fusesAmps = settledAmps(fuseAmps.reduce((sum, amps) => sum + amps, 0));
  if (fusesAmps > zoneRating(model, zone)) return undefined;
  let marginVolts = Number.POSITIVE_INFINITY;
  let lowestVolts = Number.POSITIVE_INFINITY;
  for (let condition = copperFactors.length - 1; condition >= 0; condition--) {
    const loads = zoneDrops(model, zone, condition, fuseAmps, room);
    if (!carries(model, zone, fuseAmps, loads)) return undefined;
    const rises = risesOf[condition]!;
    for (let led = zone.first; led <= zone.last; led++) {
      const volts = busVolts[led]! - room.drops[led]! - rises[led]!;
      lowestVolts = Math.min(lowestVolts, volts);
      marginVolts = Math.min(marginVolts, volts - leastVolts[led]!);
    }
    if (marginVolts < spareVolts) return undefined;
  }
  return { ...zone, fuseAmps, fusesAmps, marginVolts, lowestVolts };
}

/** Ground of the whole path: its rises, written to `rises`, and whether its wires, its rails and the LEDs of its feeds carry what returns. */
function groundCarries(
  model: PlanModel,
  zones: readonly ZonePlan[],
  condition: number,
  room: PlanRoom,
  rises: Float64Array,
): boolean {
  const { places, joints, copperFactors, drawnAmps } = model.problem;
  const feeds = zones.flatMap((zone) => zone.places.map((index) => places[index]!));
  const factor = copperFactors[condition]!;
  room.ties.fill(0);
  for (const place of feeds) room.ties[place.led]! += 1 / feedOhms(place, factor);
  pathRises(0, model.ledCount - 1, model.ohms[condition]!, drawnAmps, room.ties, rises);
  for (const place of feeds) {
    const { led, ratingAmps, pointAmps } = place;
    if (settledAmps(rises[led]! / feedOhms(place, factor)) > ratingAmps) return false;
    if (settledAmps(rises[led]! * room.ties[led]!) > pointAmps) return false;
  }
  let along = 0;
  for (const [led, joint] of joints.entries()) {
    along += drawnAmps[led]! - rises[led]! * room.ties[led]!;
    if (settledAmps(Math.abs(along)) > joint.ratingAmps) return false;
  }
  return true;
}

/** The most that any zone's fuses come to. */
export const mostFusesAmps = (zones: readonly FusedZone[]): number =>
  Math.max(...zones.map(({ fusesAmps }) => fusesAmps));

/** The least rating of what a whole path gives to fault current from elsewhere. */
export const pathRating = (model: PlanModel, zones: readonly ZonePlan[]): number =>
  Math.min(...zones.map((zone) => crossedRating(model, zone)));

/** A whole plan, zone after zone; undefined where it breaks a rule. */
export function checkPlan(
  model: PlanModel,
  plan: readonly ZonePlan[],
  room: PlanRoom = roomForPlan(model),
): CheckedPlan | undefined {
  const { copperFactors } = model.problem;
  if (plan.some((zone) => zone.places.length === 0)) return undefined;
  const rises: Float64Array[] = [];
  for (let condition = 0; condition < copperFactors.length; condition++) {
    rises[condition] = new Float64Array(model.ledCount);
    if (!groundCarries(model, plan, condition, room, rises[condition]!)) return undefined;
  }
  const zones: FusedZone[] = [];
  for (const zone of plan) {
    const fused = fusedZone(model, zone, rises, room);
    if (!fused) return undefined;
    zones.push(fused);
  }
  // The fuse rule where zones meet.
  if (mostFusesAmps(zones) > pathRating(model, zones)) return undefined;
  return {
    zones,
    feedCount: zones.reduce((sum, zone) => sum + zone.places.length, 0),
    marginVolts: Math.min(...zones.map((zone) => zone.marginVolts)),
    lowestVolts: Math.min(...zones.map((zone) => zone.lowestVolts)),
  };
}
