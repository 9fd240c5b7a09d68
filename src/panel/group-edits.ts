// Edits of several runs at once: moving, turning, mirroring and copying a group, and joining two pieces into one.
// Each returns a recipe for the history. What a limit or the document's bounds forbid is left undone as a whole, so that a group stays together.
import {
  type AreaMembers,
  applyChange,
  deleteRun,
  type Edit,
  feedPlaces,
  isPlace,
  limits,
  type Project,
  type Run,
} from '../project/index.ts';
import { builtRun, runAsBuilt } from './as-built.ts';
import { distanceMm, type PointMm } from './plane.ts';
import { duplicateRun, isSwapped, reverseRun } from './run-edits.ts';
import { firstLedAround, inOneTurn, ledLists, middleOf, placeOf, tidy } from './run-places.ts';
import { stripOfRun } from './strips.ts';

const runsOf = (project: Project, ids: readonly string[]): Run[] =>
  ids.map((id) => {
    const run = project.runs.find((one) => one.id === id);
    if (!run) throw new Error(`no run "${id}" to edit`);
    return run;
  });

/** One edit after the other, as one. */
export const inSequence =
  (edits: readonly Edit[]): Edit =>
  (project) => {
    for (const edit of edits) edit(project);
  };

interface Placing {
  readonly firstLed: PointMm;
  readonly arrowDeg: number;
  readonly clockwise?: boolean;
}

/** Places every run anew, or none if one of them would leave the document's bounds. */
function placeAll(runs: readonly Run[], placings: readonly Placing[]): void {
  if (!placings.every(({ firstLed }) => isPlace(firstLed))) return;
  for (const [i, run] of runs.entries()) {
    const { firstLed, arrowDeg, clockwise } = placings[i]!;
    if (distanceMm(run.firstLed, firstLed) > 0) run.firstLed = firstLed;
    run.arrowDeg = arrowDeg;
    if (run.ring && clockwise !== undefined)
      applyChange(run as Required<Run>, 'ring', { clockwise: clockwise || undefined });
  }
}

export const moveRuns =
  (ids: readonly string[], dxMm: number, dyMm: number): Edit =>
  (project) => {
    const runs = runsOf(project, ids);
    placeAll(
      runs,
      runs.map(({ firstLed, arrowDeg }) => ({
        firstLed: { xMm: tidy(firstLed.xMm + dxMm), yMm: tidy(firstLed.yMm + dyMm) },
        arrowDeg,
      })),
    );
  };

/** The middle of the box round the runs' middles. */
export function groupMiddle(project: Project, ids: readonly string[]): PointMm {
  const middles = runsOf(project, ids).map((run) => middleOf(project, run));
  const half = (values: readonly number[]): number => (Math.min(...values) + Math.max(...values)) / 2;
  return { xMm: half(middles.map((m) => m.xMm)), yMm: half(middles.map((m) => m.yMm)) };
}

/** Turns a group about the middle of the box round its runs' middles; counter-clockwise. */
export const turnRuns =
  (ids: readonly string[], byDeg: number): Edit =>
  (project) => {
    const runs = runsOf(project, ids);
    const pivot = groupMiddle(project, ids);
    const radians = (byDeg * Math.PI) / 180;
    const [cos, sin] = [Math.cos(radians), Math.sin(radians)];
    placeAll(
      runs,
      runs.map((run) => {
        const middle = middleOf(project, run);
        const [dx, dy] = [middle.xMm - pivot.xMm, middle.yMm - pivot.yMm];
        // y points down, so that turning counter-clockwise takes right to up.
        const turnedMiddle = { xMm: pivot.xMm + dx * cos + dy * sin, yMm: pivot.yMm + dy * cos - dx * sin };
        const arrowDeg = inOneTurn(run.arrowDeg + byDeg);
        return { firstLed: firstLedAround(project, { ...run, arrowDeg }, turnedMiddle), arrowDeg };
      }),
    );
  };

/** `left-right` exchanges left and right, `up-down` up and down. */
export type MirrorKind = 'left-right' | 'up-down';

/** Mirrors a group in its own middle: places and arrows; data enters each run at the mirrored end. */
export const mirrorRuns =
  (ids: readonly string[], kind: MirrorKind): Edit =>
  (project) => {
    const runs = runsOf(project, ids);
    const pivot = groupMiddle(project, ids);
    const isLeftRight = kind === 'left-right';
    placeAll(
      runs,
      runs.map(({ firstLed, arrowDeg, ring }) => ({
        firstLed: {
          xMm: tidy(isLeftRight ? 2 * pivot.xMm - firstLed.xMm : firstLed.xMm),
          yMm: tidy(isLeftRight ? firstLed.yMm : 2 * pivot.yMm - firstLed.yMm),
        },
        arrowDeg: inOneTurn(isLeftRight ? 180 - arrowDeg : -arrowDeg),
        ...(ring ? { clockwise: !ring.clockwise } : {}),
      })),
    );
  };

/**
 * Copies a group so many times, each copy moved on by so much; every second copy with its arrows turned round where `alternates`, so that data can
 * go back and forth. The copies come behind their originals in the chain, copy by copy for a single run.
 */
export const copyInRows =
  (ids: readonly string[], copies: number, dxMm: number, dyMm: number, alternates: boolean): Edit =>
  (project) => {
    const runs = runsOf(project, ids);
    const added = runs.reduce((sum, run) => sum + run.ledCount, 0) * copies;
    const all = project.runs.reduce((sum, run) => sum + run.ledCount, 0);
    if (!Number.isInteger(copies) || copies < 1 || all + added > limits.leds) return;
    if (project.runs.length + runs.length * copies > limits.runs) return;
    const farthest = runs.map(({ firstLed }) => ({
      xMm: firstLed.xMm + dxMm * copies,
      yMm: firstLed.yMm + dyMm * copies,
    }));
    if (!farthest.every(isPlace)) return;
    for (const id of ids) {
      let last = id;
      for (let copy = 1; copy <= copies; copy++) {
        const before = new Set(project.runs.map((run) => run.id));
        duplicateRun(last, dxMm, dyMm)(project);
        const fresh = project.runs.find((run) => !before.has(run.id));
        if (!fresh) return;
        if (alternates) reverseRun(fresh.id)(project);
        last = fresh.id;
      }
    }
  };

export const deleteRuns = (ids: readonly string[]): Edit => inSequence(ids.map(deleteRun));

/** How far the second piece may lie off where the first one would go on: a builder's eye, not a tool. */
const joinToleranceMm = 1;

/** Laid or wired otherwise, so that two pieces as one would not be passed in the same order. */
function isOtherwise(project: Project, id: string): boolean {
  const { laidReversed, fedAtDout, skipped } = builtRun(project, id);
  return Boolean(laidReversed || fedAtDout || skipped);
}

/** Whether `second` goes on where `first` ends: same strip, order and arrow, next in the chain, one pitch behind the last LED. */
export function canJoin(project: Project, first: string, second: string): boolean {
  const [a, b] = [first, second].map((id) => project.runs.find((run) => run.id === id));
  if ([first, second].some((id) => isSwapped(project, id) || isOtherwise(project, id))) return false;
  if (!a || !b || a === b || a.ring || b.ring || a.ledCount + b.ledCount > limits.ledsPerRun) return false;
  const [stripA, stripB] = [a, b].map((run) => stripOfRun(project, runAsBuilt(project, run)));
  if (stripA!.id !== stripB!.id || stripA!.colourOrder !== stripB!.colourOrder) return false;
  const turn = Math.abs(inOneTurn(a.arrowDeg - b.arrowDeg));
  if (Math.min(turn, 360 - turn) > 0.5) return false;
  if (distanceMm(placeOf(project, a, a.ledCount), b.firstLed) > joinToleranceMm) return false;
  const follows = project.dataLines.some(({ chain }) =>
    chain.some((link, i) => link.run === first && chain[i + 1]?.run === second),
  );
  const isOutside = (id: string) =>
    !project.dataLines.some(({ chain }) => chain.some(({ run }) => run === id));
  return follows || (isOutside(first) && isOutside(second));
}

/** What an entry of an area becomes when `second` becomes the end of `first`, which had `count` LEDs. */
function joinMembers(
  members: AreaMembers,
  first: Pick<Run, 'id' | 'ledCount'>,
  second: Pick<Run, 'id' | 'ledCount'>,
): AreaMembers[] {
  const { ledCount: count } = first;
  if (members.kind === 'leds' && members.run === second.id)
    return [{ ...members, run: first.id, from: members.from + count, to: members.to + count }];
  if (members.kind !== 'runs') return [members];
  const [hasFirst, hasSecond] = [members.runs.includes(first.id), members.runs.includes(second.id)];
  if (hasFirst && hasSecond) return [{ ...members, runs: members.runs.filter((id) => id !== second.id) }];
  if (!hasFirst && !hasSecond) return [members];
  // Only one half belonged to the area: it goes on as a part of the joined run.
  const half: AreaMembers = hasFirst
    ? { kind: 'leds', run: first.id, from: 0, to: count - 1 }
    : { kind: 'leds', run: first.id, from: count, to: count + second.ledCount - 1 };
  const others = members.runs.filter((id) => id !== first.id && id !== second.id);
  return others.length > 0 ? [{ ...members, runs: others }, half] : [half];
}

/** Makes two pieces one, the undoing of a split; nothing, where they don't go on from each other (canJoin). */
export const joinRuns =
  (first: string, second: string): Edit =>
  (project) => {
    if (!canJoin(project, first, second)) return;
    const [a, b] = runsOf(project, [first, second]) as [Run, Run];
    const count = a.ledCount;
    const pieces = { a: { id: a.id, ledCount: count }, b: { id: b.id, ledCount: b.ledCount } };
    const areas = project.areas.map((area) =>
      area.members.flatMap((members) => joinMembers(members, pieces.a, pieces.b)),
    );
    if (areas.some((members) => members.length > limits.runs)) return;
    for (const [i, area] of project.areas.entries())
      if (JSON.stringify(area.members) !== JSON.stringify(areas[i]))
        area.members = areas[i] as typeof area.members;
    for (const feed of feedPlaces(project))
      if (feed.run === second) {
        feed.run = first;
        feed.led += count;
      }
    const lists = Object.fromEntries(
      ledLists
        .filter((list) => a[list] || b[list])
        .map((list) => [list, [...(a[list] ?? []), ...(b[list] ?? []).map((led) => led + count)]]),
    );
    applyChange(project.runs, project.runs.indexOf(a), { ledCount: count + b.ledCount, ...lists });
    deleteRun(second)(project);
  };
