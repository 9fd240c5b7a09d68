// The rules of a plan (the list in plan-problem.ts) in their plainest form: the general network solver, fault currents followed along every way, and every
// set of places with every state of the free joints tried by rising number of feeds. Shares no code with the planner but the rows of the catalogue.
import { fuseOhms, fuseRatings } from '../../src/catalogue/index.ts';
import { factorNetwork, type Link, type PlanProblem, terminal } from '../../src/power/index.ts';

const spareVolts = 1e-9;
const settled = (value: number): number => Number(value.toFixed(9));

/** Rises above the terminal at LEDs first to last with these ties (LED, ohms). */
export function railRises(
  problem: PlanProblem,
  factor: number,
  first: number,
  last: number,
  ties: readonly { readonly led: number; readonly ohms: number }[],
): Float64Array {
  const links: Link[] = ties.map(({ led, ohms }) => ({ from: led - first, to: terminal(0), ohms }));
  for (let led = first; led < last; led++)
    links.push({ from: led - first, to: led + 1 - first, ohms: problem.joints[led]!.ohms * factor });
  const nodeCount = last - first + 1;
  return factorNetwork({ nodeCount, terminalVolts: [0], links }).solve(
    Float64Array.from({ length: nodeCount }, (_, node) => -problem.drawnAmps[first + node]!),
  );
}

export interface ZoneFigures {
  readonly fuses: readonly number[];
  /** By copper factor. */
  readonly drops: readonly Float64Array[];
  readonly loads: readonly (readonly number[])[];
}

/** Fuses, drops and loads of one zone; undefined where no fuse is large enough. */
export function zoneFigures(
  problem: PlanProblem,
  first: number,
  last: number,
  places: readonly number[],
): ZoneFigures | undefined {
  const solved = (factor: number, fuses: readonly number[] | undefined) => {
    const ties = places.map((index, at) => {
      const place = problem.places[index]!;
      const fuse = fuses ? fuseOhms(place.fuseKind, fuses[at]!) : 0;
      return { led: place.led, ohms: place.wireOhms * factor + place.contactOhms + fuse };
    });
    const drops = railRises(problem, factor, first, last, ties);
    return { drops, loads: ties.map(({ led, ohms }) => drops[led - first]! / ohms) };
  };
  const plain = problem.copperFactors.map((factor) => solved(factor, undefined));
  const fuses: number[] = [];
  for (const [at, index] of places.entries()) {
    const { fuseAmps, fuseKind } = problem.places[index]!;
    const load = Math.max(...plain.map(({ loads }) => settled(loads[at]!)));
    const fuse = fuseAmps ?? fuseRatings[fuseKind].find((rating) => rating * 0.8 >= load);
    if (fuse === undefined) return undefined;
    fuses.push(fuse);
  }
  const all = problem.copperFactors.map((factor) => solved(factor, fuses));
  return { fuses, drops: all.map(({ drops }) => drops), loads: all.map(({ loads }) => loads) };
}

interface Edge {
  readonly a: string;
  readonly b: string;
  readonly ratingAmps: number;
}

/** Edges on at least one simple way between two nodes, by index; every way is walked. */
function waysBetween(edges: readonly Edge[]): (from: string, to: string) => Set<number> {
  const byNode = new Map<string, { readonly edge: number; readonly next: string }[]>();
  const meet = (node: string, edge: number, next: string) => {
    byNode.set(node, [...(byNode.get(node) ?? []), { edge, next }]);
  };
  for (const [edge, { a, b }] of edges.entries()) {
    meet(a, edge, b);
    meet(b, edge, a);
  }
  return (from, to) => {
    const found = new Set<number>();
    const visited = new Set<string>();
    const way: number[] = [];
    const walk = (node: string): void => {
      if (node === to) {
        for (const edge of way) found.add(edge);
        return;
      }
      visited.add(node);
      for (const { edge, next } of byNode.get(node) ?? [])
        if (!visited.has(next)) {
          way.push(edge);
          walk(next);
          way.pop();
        }
      visited.delete(node);
    };
    walk(from);
    return found;
  };
}

/** Zones as LEDs from first to last and their fuses by place. */
export interface ShortedZone {
  readonly first: number;
  readonly last: number;
  readonly places: readonly number[];
  readonly fuses: readonly number[];
}

/** The fuse rule for all shorts and conductors: the worst excess over a rating, amperes; 0 or less where it holds. */
export function fuseExcess(problem: PlanProblem, zones: readonly ShortedZone[]): number {
  const { joints, places } = problem;
  const ground: Edge[] = joints.map(({ ratingAmps }, led) => ({ a: `${led}`, b: `${led + 1}`, ratingAmps }));
  for (const zone of zones)
    for (const index of zone.places)
      ground.push({
        a: `${places[index]!.led}`,
        b: 'minus',
        ratingAmps: places[index]!.ratingAmps,
      });
  if (problem.boardAmps !== undefined) ground.push({ a: '0', b: 'minus', ratingAmps: problem.boardAmps });
  const groundWays = waysBetween(ground);
  let worst = Number.NEGATIVE_INFINITY;
  const count = (edges: readonly Edge[], crossing: readonly (readonly [Set<number>, number])[]) => {
    for (const [index, { ratingAmps }] of edges.entries()) {
      const sum = crossing.reduce((all, [set, fuse]) => all + (set.has(index) ? fuse : 0), 0);
      worst = Math.max(worst, settled(sum) - ratingAmps);
    }
  };
  // Fuses of other lines come in at the first LED, by the lead from the board.
  if (problem.crossingAmps > 0) count(ground, [[groundWays('0', 'minus'), problem.crossingAmps]]);
  for (const { first, last, places: fed, fuses } of zones) {
    const plus: Edge[] = [];
    for (let led = first; led < last; led++)
      plus.push({ a: `${led}`, b: `${led + 1}`, ratingAmps: joints[led]!.ratingAmps });
    // Each feed's cable is two conductors in a row, so that a short can lie in its middle.
    for (const [at, index] of fed.entries()) {
      const { led, ratingAmps } = places[index]!;
      plus.push(
        { a: `fuse ${at}`, b: `cable ${at}`, ratingAmps },
        { a: `cable ${at}`, b: `${led}`, ratingAmps },
      );
    }
    const shorts = [
      ...Array.from({ length: last - first + 1 }, (_, i) => `${first + i}`),
      ...fed.map((_, at) => `cable ${at}`),
    ];
    const total = fuses.reduce((sum, fuse) => sum + fuse, 0);
    const plusWays = waysBetween(plus);
    for (const short of shorts) {
      count(
        plus,
        fuses.map((fuse, at) => [plusWays(`fuse ${at}`, short), fuse] as const),
      );
      // On the ground side a short in a cable meets its ground wire, between its LED and minus.
      if (short.startsWith('cable')) {
        const at = Number(short.slice(6));
        const edge = ground.findIndex(({ a, b }) => b === 'minus' && a === `${places[fed[at]!]!.led}`);
        const { a, ratingAmps } = ground[edge]!;
        const split = [
          ...ground.filter((_, i) => i !== edge),
          { a, b: short, ratingAmps },
          { a: short, b: 'minus', ratingAmps },
        ];
        count(split, [[waysBetween(split)(short, 'minus'), total]]);
      } else count(ground, [[groundWays(short, 'minus'), total]]);
    }
  }
  return worst;
}

/** Which rule a plan breaks first. */
export type BrokenRule = 'unfed' | 'fuse' | 'load' | 'point' | 'volts' | 'ground' | 'rails' | 'short';

interface TrialZone {
  readonly first: number;
  readonly last: number;
  readonly places: readonly number[];
}

/** What was worked out before, by zone and by all places together. */
interface Memory {
  readonly zones: Map<string, ZoneFigures | BrokenRule>;
  readonly grounds: Map<string, readonly Float64Array[]>;
}

const freshMemory = (): Memory => ({ zones: new Map(), grounds: new Map() });

/** A zone's figures, or the rule that it breaks by itself. */
function zoneByItself(
  problem: PlanProblem,
  { first, last, places: fed }: TrialZone,
): ZoneFigures | BrokenRule {
  const { places, joints, drawnAmps } = problem;
  if (fed.length === 0) return 'unfed';
  const figures = zoneFigures(problem, first, last, fed);
  if (!figures) return 'fuse';
  const { fuses, loads } = figures;
  for (const zoneLoads of loads) {
    const entering = new Map<number, number>();
    for (const [at, index] of fed.entries()) {
      const { ratingAmps, led } = places[index]!;
      if (fuses[at]! > ratingAmps) return 'fuse';
      if (settled(zoneLoads[at]!) > settled(0.8 * fuses[at]!)) return 'load';
      entering.set(led, (entering.get(led) ?? 0) + settled(zoneLoads[at]!));
    }
    for (const index of fed)
      if (settled(entering.get(places[index]!.led)!) > places[index]!.pointAmps) return 'point';
    // + rails in use: what the feeds up to a joint put in, less what the LEDs up to it draw.
    for (let joint = first; joint < last; joint++) {
      let along = 0;
      for (const [at, index] of fed.entries()) if (places[index]!.led <= joint) along += zoneLoads[at]!;
      for (let led = first; led <= joint; led++) along -= drawnAmps[led]!;
      if (settled(Math.abs(along)) > joints[joint]!.ratingAmps) return 'rails';
    }
  }
  // Its own wires alone: with those of other zones no conductor carries less.
  return fuseExcess(problem, [{ first, last, places: fed, fuses }]) > 0 ? 'short' : figures;
}

export function brokenRule(
  problem: PlanProblem,
  zones: readonly TrialZone[],
  memory: Memory = freshMemory(),
): BrokenRule | undefined {
  const { places, joints, drawnAmps, leastVolts, busVolts, copperFactors } = problem;
  const lastLed = drawnAmps.length - 1;
  const all: (ZoneFigures & TrialZone)[] = [];
  for (const zone of zones) {
    const key = `${zone.first} ${zone.last} ${zone.places.join()}`;
    const figures = memory.zones.get(key) ?? zoneByItself(problem, zone);
    memory.zones.set(key, figures);
    if (typeof figures === 'string') return figures;
    all.push({ ...figures, ...zone });
  }
  const chosen = zones.flatMap((zone) => zone.places);
  const groundTies = (factor: number) =>
    chosen.map((index) => {
      const { led, wireOhms, contactOhms, ratingAmps, pointAmps } = places[index]!;
      return { led, ohms: wireOhms * factor + contactOhms, ratingAmps, pointAmps };
    });
  const rises =
    memory.grounds.get(chosen.join()) ??
    copperFactors.map((factor) => railRises(problem, factor, 0, lastLed, groundTies(factor)));
  memory.grounds.set(chosen.join(), rises);
  for (const { first, last, drops } of all)
    for (const [condition, rise] of rises.entries())
      for (let led = first; led <= last; led++)
        if (busVolts[led]! - drops[condition]![led - first]! - rise[led]! < leastVolts[led]! + spareVolts)
          return 'volts';
  for (const [condition, factor] of copperFactors.entries()) {
    const ties = groundTies(factor);
    const returned = ties.map(({ led, ohms }) => rises[condition]![led]! / ohms);
    for (const [at, { ratingAmps }] of ties.entries())
      if (settled(returned[at]!) > ratingAmps) return 'ground';
    for (const { led, pointAmps } of ties) {
      const leaving = ties.reduce((sum, tie, at) => sum + (tie.led === led ? returned[at]! : 0), 0);
      if (settled(leaving) > pointAmps) return 'ground';
    }
    for (let joint = 0; joint < lastLed; joint++) {
      let along = 0;
      for (let led = 0; led <= joint; led++) along += drawnAmps[led]!;
      for (const [at, { led }] of ties.entries()) if (led <= joint) along -= returned[at]!;
      if (settled(Math.abs(along)) > joints[joint]!.ratingAmps) return 'ground';
    }
  }
  return fuseExcess(problem, all) > 0 ? 'short' : undefined;
}

/** The zones that a state of the free joints makes; bit by free joint, set where it is cut. */
function zonesOf(problem: PlanProblem, chosen: readonly number[], cuts: number) {
  const zones: { first: number; last: number; places: number[] }[] = [];
  let first = 0;
  let free = 0;
  for (let led = 0; led < problem.drawnAmps.length; led++) {
    const plus = problem.joints[led]?.plus ?? 'cut';
    const isCut = plus === 'cut' || (plus === 'free' && ((cuts >> free) & 1) === 1);
    if (plus === 'free') free++;
    if (!isCut) continue;
    const [from, to] = [first, led];
    zones.push({
      first,
      last: led,
      places: chosen.filter(
        (index) => problem.places[index]!.led >= from && problem.places[index]!.led <= to,
      ),
    });
    first = led + 1;
  }
  return zones;
}

/** The least number of feeds of any plan that keeps all rules; undefined where none does. */
export function leastFeedsByTrial(problem: PlanProblem): number | undefined {
  const { places, joints } = problem;
  const freeCount = joints.filter(({ plus }) => plus === 'free').length;
  const kept = places.reduce((bits, { isKept }, index) => bits | (isKept ? 1 << index : 0), 0);
  const sets = Array.from({ length: 1 << places.length }, (_, bits) => bits)
    .filter((bits) => (bits & kept) === kept)
    .map((bits) => [...places.keys()].filter((index) => ((bits >> index) & 1) === 1))
    .sort((a, b) => a.length - b.length);
  const memory = freshMemory();
  for (const chosen of sets)
    for (let cuts = 0; cuts < 1 << freeCount; cuts++)
      if (brokenRule(problem, zonesOf(problem, chosen, cuts), memory) === undefined) return chosen.length;
  return undefined;
}
