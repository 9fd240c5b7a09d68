// Lighting marked spots (windows, stars, lamps of the artwork): short runs whose LEDs stand at the spots, few of them. Found by taking, again and again, the run that lights most
// spots that are still dark: the best that was found, not proved least. LEDs that light no spot are spare, and long gaps split a run in two.
import { pitchMm } from '../catalogue/index.ts';
import { type Edit, limits, type Project, type Run } from '../project/index.ts';
import {
  type Along,
  boardsApartMm,
  freeStretches,
  type Ground,
  groundInFrame,
  groundOf,
  intoFrame,
  keepOutClearanceMm,
  type Stretch,
} from './free-stretches.ts';
import { keepOutOutline } from './keep-outs.ts';
import { boundsOf, isInside, type PointMm, rectangleOutline } from './plane.ts';
import { layProposed, type Piece, type ProposalPlace, pieceOutline, proposedRuns } from './proposed-runs.ts';
import { stripById } from './strips.ts';

/** A place that wants light. */
export interface Spot extends PointMm {
  /** Size of what is lit, as a circle: an LED anywhere in it will do, and all LEDs in it stay lit. */
  readonly radiusMm?: number | undefined;
}

export interface SpotsTask extends ProposalPlace {
  readonly spots: readonly Spot[];
  readonly strip: string;
  /** Which way runs lie; the other way is tried for spots that have no room. */
  readonly direction: 'rows' | 'columns';
  /** How far an LED may be from its spot; half a pitch and 1 mm where absent. */
  readonly reachMm?: number | undefined;
  /** More LEDs than this in a row that light nothing split a run; 4 where absent. */
  readonly mostSpare?: number | undefined;
  /** From keep-outs to the boards; 2 mm where absent. */
  readonly clearanceMm?: number | undefined;
}

export type DarkReason = 'off-panel' | 'keep-out' | 'no-room' | 'limit';

export interface SpotsLayout {
  /** In the order of their chain. */
  readonly runs: readonly Run[];
  readonly ledCount: number;
  readonly spareCount: number;
  /** Spots that no LED can reach, by their place in the task, and why. */
  readonly dark: readonly { readonly spot: number; readonly reason: DarkReason }[];
}

/** A spot in the frame of the runs. */
interface Target extends PointMm {
  readonly index: number;
  readonly reachMm: number;
  readonly radiusMm: number;
}

interface Rules {
  readonly pitchMm: number;
  readonly boardWidthMm: number;
  readonly cutEveryLeds: number;
  readonly mostSpare: number;
}

/** An LED by its number along a line of LEDs, a spot that it lights, and how far it is off along the line. */
interface Lit {
  readonly led: number;
  readonly target: Target;
  readonly offMm: number;
}

interface Candidate {
  readonly yMm: number;
  /** Middle of LED 0 of the line. */
  readonly zeroMm: number;
  readonly from: number;
  readonly to: number;
  readonly lit: readonly Lit[];
  readonly stretch: Stretch;
  /** Sum of the squares of the distances from spots to their LEDs. */
  readonly offMm2: number;
}

/** Rounding must not darken a spot that is just in reach. */
const toleranceMm = 1e-6;

/** Half of the chord that a spot's reach cuts out of a line at this height; negative out of reach. */
function chordMm({ yMm, reachMm }: Target, heightMm: number): number {
  const off = yMm - heightMm;
  const square = reachMm * reachMm - off * off;
  return square < 0 ? -1 : Math.sqrt(square);
}

/** Numbers of the LEDs of a line that have their whole cut piece inside a stretch. */
const ledsInside = ({ fromMm, toMm }: Stretch, zeroMm: number, pitch: number): readonly [number, number] => [
  Math.ceil((fromMm - zeroMm) / pitch + 0.5 - toleranceMm),
  Math.floor((toMm - zeroMm) / pitch - 0.5 + toleranceMm),
];

/** Which LEDs light which spots on one line of LEDs in one stretch, from left to right. */
function litOn(
  targets: readonly Target[],
  yMm: number,
  zeroMm: number,
  stretch: Stretch,
  pitch: number,
): Lit[] {
  const [first, last] = ledsInside(stretch, zeroMm, pitch);
  if (last < first) return [];
  return targets
    .flatMap((target): Lit[] => {
      const led = Math.min(last, Math.max(first, Math.round((target.xMm - zeroMm) / pitch)));
      const offMm = target.xMm - zeroMm - led * pitch;
      return Math.abs(offMm) <= chordMm(target, yMm) + toleranceMm ? [{ led, target, offMm }] : [];
    })
    .sort((a, b) => a.led - b.led);
}

/** The LEDs from one to another, lengthened to the next cut mark, on the side where there is room; undefined where there is none. */
function toCutMarks(
  from: number,
  to: number,
  inside: readonly [number, number],
  cutEveryLeds: number,
): [number, number] | undefined {
  const missing = (cutEveryLeds - ((to - from + 1) % cutEveryLeds)) % cutEveryLeds;
  const behind = Math.min(missing, inside[1] - to);
  const before = missing - behind;
  return from - before < inside[0] ? undefined : [from - before, to + behind];
}

/** The LEDs that a spot keeps lit: the one that lights it, and all that lie in its own circle. They make no gap. */
function litRange({ led, target, offMm }: Lit, yMm: number, pitch: number): readonly [number, number] {
  const chord = chordMm({ ...target, reachMm: target.radiusMm }, yMm);
  if (chord < 0) return [led, led];
  return [
    Math.min(led, led + Math.ceil((offMm - chord) / pitch)),
    Math.max(led, led + Math.floor((offMm + chord) / pitch)),
  ];
}

/** Splits what one line lights wherever too many LEDs in a row would light nothing. */
function partsOf(lit: readonly Lit[], yMm: number, { pitchMm: pitch, mostSpare }: Rules): Lit[][] {
  const parts: Lit[][] = [];
  /** The last LED of the part that lights something. */
  let litTo = 0;
  for (const one of lit) {
    const part = parts.at(-1);
    const [fromLed, toLed] = litRange(one, yMm, pitch);
    const goesOn = part && fromLed - litTo - 1 <= mostSpare && one.led - part[0]!.led < limits.ledsPerRun;
    if (goesOn) part.push(one);
    else parts.push([one]);
    litTo = goesOn ? Math.max(litTo, toLed) : toLed;
  }
  return parts;
}

const isBetter = (a: Candidate, b: Candidate | undefined): boolean => {
  if (!b || a.lit.length !== b.lit.length) return !b || a.lit.length > b.lit.length;
  const [longA, longB] = [a.to - a.from, b.to - b.from];
  return longA === longB ? a.offMm2 < b.offMm2 - toleranceMm : longA < longB;
};

/** Heights worth trying: through each spot, half-way between two that one row can reach, and just beside what is in the way and the edges. */
function heightsFor(
  targets: readonly Target[],
  { fences, obstacles }: Ground,
  boardWidthMm: number,
): number[] {
  const heights = new Set(targets.map(({ yMm }) => yMm));
  for (const [i, a] of targets.entries())
    for (const b of targets.slice(i + 1))
      if (Math.abs(a.yMm - b.yMm) < a.reachMm + b.reachMm) heights.add((a.yMm + b.yMm) / 2);
  const half = boardWidthMm / 2;
  const beside = [
    ...obstacles.flatMap(({ points, awayMm }) => {
      const { topMm, bottomMm } = boundsOf(points);
      return [topMm - awayMm - half, bottomMm + awayMm + half];
    }),
    ...fences.flatMap(({ points, marginMm }) => {
      const { topMm, bottomMm } = boundsOf(points);
      return [topMm + marginMm + half, bottomMm - marginMm - half];
    }),
  ];
  for (const yMm of beside) if (targets.some((target) => chordMm(target, yMm) >= 0)) heights.add(yMm);
  return [...heights];
}

/** Places of LED 0 worth trying: an LED at a spot, or just in its reach on either side; and LEDs as near to a stretch's ends as they go. */
function zerosFor(targets: readonly Target[], yMm: number, stretch: Stretch, pitch: number): number[] {
  const places = targets.flatMap((target) => {
    const chord = chordMm(target, yMm);
    return [target.xMm, target.xMm - chord, target.xMm + chord];
  });
  return [...places, stretch.fromMm + pitch / 2, stretch.toMm - pitch / 2];
}

/** Shifts a run along its line so that its LEDs stand as near to their spots as they can on average, where that leaves all of them in reach. */
function settled(one: Candidate, rules: Rules): Candidate {
  const shiftMm = one.lit.reduce((sum, { offMm }) => sum + offMm, 0) / one.lit.length;
  const zeroMm = one.zeroMm + shiftMm;
  const [first, last] = ledsInside(one.stretch, zeroMm, rules.pitchMm);
  const lit = one.lit.map((each): Lit => ({ ...each, offMm: each.offMm - shiftMm }));
  const isReached = lit.every(
    ({ target, offMm }) => Math.abs(offMm) <= chordMm(target, one.yMm) + toleranceMm,
  );
  const isWhole = partsOf(lit, one.yMm, rules).length === 1;
  return isReached && isWhole && one.from >= first && one.to <= last ? { ...one, zeroMm, lit } : one;
}

/** The run that lights most of these spots; undefined where none lights any. */
function bestRun(targets: readonly Target[], ground: Ground, rules: Rules): Candidate | undefined {
  const { pitchMm: pitch, boardWidthMm, cutEveryLeds } = rules;
  let best: Candidate | undefined;
  for (const yMm of heightsFor(targets, ground, boardWidthMm)) {
    const near = targets.filter((target) => chordMm(target, yMm) >= 0);
    if (near.length < (best?.lit.length ?? 1)) continue;
    for (const stretch of freeStretches(ground, yMm, boardWidthMm))
      for (const zeroMm of zerosFor(near, yMm, stretch, pitch))
        for (const lit of partsOf(litOn(near, yMm, zeroMm, stretch, pitch), yMm, rules)) {
          const inside = ledsInside(stretch, zeroMm, pitch);
          const leds = toCutMarks(lit[0]!.led, lit.at(-1)!.led, inside, cutEveryLeds);
          if (!leds) continue;
          const offMm2 = lit.reduce(
            (sum, { target, offMm }) => sum + offMm ** 2 + (target.yMm - yMm) ** 2,
            0,
          );
          const candidate: Candidate = { yMm, zeroMm, from: leds[0], to: leds[1], lit, stretch, offMm2 };
          if (isBetter(candidate, best)) best = candidate;
        }
  }
  return best && settled(best, rules);
}

/** The run as a piece of strip: spare is what neither lights its spot best nor lies in a spot's own circle. */
function pieceOf(
  { yMm, zeroMm, from, to, lit }: Candidate,
  all: readonly Target[],
  along: Along,
  pitch: number,
): Piece {
  const used = new Set(lit.map(({ led }) => led));
  const isInSpot = (led: number): boolean =>
    all.some((one) => Math.hypot(zeroMm + led * pitch - one.xMm, yMm - one.yMm) <= one.radiusMm);
  const leds = Array.from({ length: to - from + 1 }, (_, i) => from + i);
  return {
    along,
    fromMm: zeroMm + (from - 0.5) * pitch,
    yMm,
    ledCount: leds.length,
    pitchMm: pitch,
    spareLeds: leds.filter((led) => !used.has(led) && !isInSpot(led)).map((led) => led - from),
  };
}

/** Why nothing reaches a spot. */
function reasonFor(project: Project, spot: Spot, isFull: boolean): DarkReason {
  const { panel } = project;
  if (Math.min(spot.xMm, spot.yMm, panel.widthMm - spot.xMm, panel.heightMm - spot.yMm) < 0)
    return 'off-panel';
  if ((panel.keepOuts ?? []).some((keepOut) => isInside(keepOutOutline(keepOut), spot))) return 'keep-out';
  return isFull ? 'limit' : 'no-room';
}

const across: Along = { xMm: 1, yMm: 0 };
const upwards: Along = { xMm: 0, yMm: -1 };

/** Proposes runs that light marked spots. The project stays as it is. Throws if the strip is unknown. */
export function lightSpots(project: Project, task: SpotsTask): SpotsLayout {
  const strip = stripById(project, task.strip);
  const pitch = pitchMm(strip);
  const rules: Rules = {
    pitchMm: pitch,
    boardWidthMm: strip.boardWidthMm,
    cutEveryLeds: strip.cutEveryLeds ?? 1,
    mostSpare: task.mostSpare ?? 4,
  };
  const { panel } = project;
  const panelEdge = rectangleOutline(0, 0, panel.widthMm, panel.heightMm);
  const ground = groundOf(
    project,
    { points: panelEdge, marginMm: 0 },
    task.clearanceMm ?? keepOutClearanceMm,
    task.replace ?? false,
  );
  const kept = task.replace ? [] : project.runs;
  let roomForLeds = limits.leds - kept.reduce((sum, run) => sum + run.ledCount, 0);
  let isFull = false;
  const pieces: Piece[] = [];
  const dark = new Set(task.spots.keys());
  for (const along of task.direction === 'rows' ? [across, upwards] : [upwards, across]) {
    const targets = task.spots.map((spot, index): Target => {
      const radiusMm = spot.radiusMm ?? 0;
      return {
        ...intoFrame(along, spot),
        index,
        radiusMm,
        reachMm: Math.max(radiusMm, task.reachMm ?? pitch / 2 + 1),
      };
    });
    while (dark.size > 0) {
      const boards = pieces.map((piece) => ({
        points: pieceOutline(piece, strip.boardWidthMm),
        awayMm: boardsApartMm(panel),
      }));
      const around = groundInFrame({ ...ground, obstacles: [...ground.obstacles, ...boards] }, along);
      const left = targets.filter(({ index }) => dark.has(index));
      const best = bestRun(left, around, rules);
      if (!best) break;
      const piece = pieceOf(best, targets, along, pitch);
      isFull ||= piece.ledCount > roomForLeds || pieces.length + kept.length >= limits.runs;
      if (isFull) break;
      roomForLeds -= piece.ledCount;
      pieces.push(piece);
      for (const { target } of best.lit) dark.delete(target.index);
    }
  }
  const plain = pieces.map((_, run) => ({ run, reversed: false }));
  return {
    runs: proposedRuns(project, task, pieces, plain, task.strip, 'spots'),
    ledCount: pieces.reduce((sum, { ledCount }) => sum + ledCount, 0),
    spareCount: pieces.reduce((sum, { spareLeds }) => sum + (spareLeds?.length ?? 0), 0),
    dark: [...dark].map((spot) => ({ spot, reason: reasonFor(project, task.spots[spot]!, isFull) })),
  };
}

/** The proposal, and the one edit that lays it. */
export function lightSpotsEdit(
  project: Project,
  task: SpotsTask,
): { readonly edit: Edit; readonly layout: SpotsLayout } {
  const layout = lightSpots(project, task);
  return { layout, edit: layProposed(layout.runs, task) };
}
