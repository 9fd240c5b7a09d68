// Edits of runs that need to know where their LEDs lie: reversing, splitting, turning about the middle, duplicating.
// Each returns a recipe for the history, and keeps areas, feeds, spare and dead LEDs with the LEDs they mean. What a limit forbids is left undone.
// Documents under edit are drafts, so nothing here goes through layOut, which remembers what it has placed.
import {
  type AreaMembers,
  applyChange,
  arrowWithinBounds,
  type Edit,
  feedPlaces,
  freeId,
  hasRoomForRun,
  idWithEnding,
  isPlace,
  limits,
  type Project,
  type Run,
} from '../project/index.ts';
import { firstLedAround, inOneTurn, ledLists, middleOf, placeOf, tidy } from './run-places.ts';

function runOf(project: Project, id: string): Run {
  const run = project.runs.find((one) => one.id === id);
  if (!run) throw new Error(`no run "${id}" to edit`);
  return run;
}

/** The lists of the LEDs before a cut and behind it, counted anew; empty ones left out. */
function cutLists(run: Run, atLed: number): { front: Pick<Run, LedList>; rest: Pick<Run, LedList> } {
  const front: Pick<Run, LedList> = {};
  const rest: Pick<Run, LedList> = {};
  for (const list of ledLists) {
    const before = run[list]?.filter((led) => led < atLed) ?? [];
    const behind = run[list]?.filter((led) => led >= atLed).map((led) => led - atLed) ?? [];
    if (before.length > 0) front[list] = before;
    if (behind.length > 0) rest[list] = behind;
  }
  return { front, rest };
}
type LedList = (typeof ledLists)[number];

/** Whether a strip lies against its planned arrow changes with the plan; nothing is said of a run of which nothing is known. */
function turnRecord({ asBuilt }: Project, id: string): void {
  const index = asBuilt?.runs.findIndex(({ run }) => run === id) ?? -1;
  const built = asBuilt?.runs[index];
  if (!asBuilt || !built) return;
  // An entry that says nothing else must go on saying something, or the next turn would not be heard.
  const saysMore = Object.keys(built).some((key) => key !== 'run' && key !== 'laidReversed');
  applyChange(asBuilt.runs, index, {
    laidReversed: built.laidReversed ? (saysMore ? undefined : false) : true,
  });
}

/** How far the arrow of a ring board turns over so many LEDs, degrees counter-clockwise. */
const ringTurnDeg = ({ ring, ledCount }: Run, leds: number): number =>
  ring ? ((ring.clockwise ? -360 : 360) * leds) / ledCount : 0;

/** The same LEDs on the same places, but data enters at the other end. What means single LEDs of the run follows them. */
export const reverseRun =
  (id: string): Edit =>
  (project) => {
    const run = runOf(project, id);
    const last = run.ledCount - 1;
    const firstLed = placeOf(project, run, last);
    if (!isPlace(firstLed)) return;
    run.firstLed = firstLed;
    run.arrowDeg = inOneTurn(run.arrowDeg + 180 + ringTurnDeg(run, last));
    if (run.ring)
      applyChange(run as Required<Run>, 'ring', { clockwise: run.ring.clockwise ? undefined : true });
    // A strip of which is known how it was soldered stays so: turning the plan brings it in line, or out of it.
    turnRecord(project, id);
    for (const list of ledLists) if (run[list]) run[list] = run[list].map((led) => last - led).reverse();
    for (const feed of feedPlaces(project)) if (feed.run === id) feed.led = last - feed.led;
    for (const area of project.areas)
      for (const members of area.members)
        if (members.kind === 'leds' && members.run === id) {
          const { from, to } = members;
          members.from = last - to;
          members.to = last - from;
        }
  };

/** `sky` gives `sky-b`, then `sky-c`, and numbers behind the last letter. */
function splitId(project: Project, id: string): string {
  const taken = new Set(project.runs.map((run) => run.id));
  const free = [...'bcdefghijklmnopqrstuvwxyz']
    .map((letter) => idWithEnding(id, letter))
    .find((one) => !taken.has(one));
  return free ?? freeId(taken, id);
}

const namesRun = (members: AreaMembers, id: string): boolean =>
  (members.kind === 'runs' && members.runs.includes(id)) || (members.kind === 'leds' && members.run === id);

/** What an entry of an area becomes when a run is split. */
function splitMembers(members: AreaMembers, old: string, fresh: string, atLed: number): AreaMembers[] {
  if (!namesRun(members, old)) return [members];
  if (members.kind === 'runs')
    return [{ ...members, runs: members.runs.flatMap((run) => (run === old ? [old, fresh] : [run])) }];
  if (members.kind !== 'leds') return [members];
  const { from, to } = members;
  const behind = (led: number): number => Math.max(0, led - atLed);
  const front = { ...members, from: Math.min(from, atLed - 1), to: Math.min(to, atLed - 1) };
  const rest = { ...members, run: fresh, from: behind(from), to: behind(to) };
  return [...(Math.min(from, to) < atLed ? [front] : []), ...(Math.max(from, to) >= atLed ? [rest] : [])];
}

/** Puts a run right behind another, in the list and in the chain that holds the other, if one does. */
function insertBehind(project: Project, id: string, fresh: Run): void {
  project.runs.splice(project.runs.findIndex((run) => run.id === id) + 1, 0, fresh);
  for (const line of project.dataLines) {
    const place = line.chain.findIndex((link) => link.run === id);
    if (place >= 0) line.chain.splice(place + 1, 0, { run: fresh.id });
  }
}

/** Whether a run took another's place on the wire. Its pieces could not follow each other there, so it is neither split nor joined. */
export function isSwapped({ asBuilt }: Pick<Project, 'asBuilt'>, id: string): boolean {
  return asBuilt?.swaps.some(({ first, second }) => first === id || second === id) ?? false;
}

/** What was built otherwise of a run holds for the piece cut off it too; laid the other way round, data passes that piece first. */
function copyBuilt(project: Project, id: string, fresh: string): void {
  const { asBuilt } = project;
  const built = asBuilt?.runs.find(({ run }) => run === id);
  if (!asBuilt || !built || asBuilt.runs.length >= limits.runs) return;
  asBuilt.runs.push({ ...built, run: fresh });
  if (built.laidReversed && asBuilt.swaps.length < limits.runs)
    asBuilt.swaps.push({ first: id, second: fresh });
}

/**
 * Cuts a run in two before an LED. The LEDs stay where they are, on the panel, on the wire and in every area; the rest becomes a run of its own,
 * without a name, right behind in the chain, joined by a jumper that carries the supply. Ring boards and runs that took another's place stay whole.
 */
export const splitRun =
  (id: string, atLed: number): Edit =>
  (project) => {
    const run = runOf(project, id);
    if (!Number.isInteger(atLed) || atLed < 1 || atLed >= run.ledCount)
      throw new Error(`no place to cut run "${id}" before LED ${atLed}`);
    const firstLed = placeOf(project, run, atLed);
    if (run.ring || isSwapped(project, id)) return;
    if (project.runs.length >= limits.runs || !isPlace(firstLed)) return;
    const { name: _, spareLeds: _spare, deadLeds: _dead, bypassedLeds: _bypassed, ...unnamed } = run;
    const { front, rest } = cutLists(run, atLed);
    const fresh: Run = {
      ...unnamed,
      id: splitId(project, id),
      firstLed,
      ledCount: run.ledCount - atLed,
      ...rest,
    };
    const areas = project.areas
      .filter((area) => area.members.some((members) => namesRun(members, id)))
      .map((area) => ({
        area,
        members: area.members.flatMap((members) => splitMembers(members, id, fresh.id, atLed)),
      }));
    const isTooLong = (members: readonly AreaMembers[]): boolean =>
      members.length > limits.runs ||
      members.some((one) => one.kind === 'runs' && one.runs.length > limits.runs);
    if (areas.some(({ members }) => isTooLong(members))) return;

    applyChange(project.runs, project.runs.indexOf(run), {
      ledCount: atLed,
      spareLeds: front.spareLeds,
      deadLeds: front.deadLeds,
      bypassedLeds: front.bypassedLeds,
    });
    insertBehind(project, id, fresh);
    copyBuilt(project, id, fresh.id);
    for (const feed of feedPlaces(project))
      if (feed.run === id && feed.led >= atLed) {
        feed.run = fresh.id;
        feed.led -= atLed;
      }
    for (const { area, members } of areas) area.members = members as typeof area.members;
  };

/** Turns a run until its arrow points there, its middle staying in place. */
export const turnRunAboutMiddle =
  (id: string, arrowDeg: number): Edit =>
  (project) => {
    const run = runOf(project, id);
    const middle = middleOf(project, run);
    const turned = arrowWithinBounds(arrowDeg);
    const firstLed = firstLedAround(project, { ...run, arrowDeg: turned }, middle);
    if (!isPlace(firstLed)) return;
    run.firstLed = firstLed;
    run.arrowDeg = turned;
  };

/** A run like this one, without a name, moved by so much, right behind it in the chain. Areas that name runs don't take it in; feeds and dead LEDs are not repeated. */
export const duplicateRun =
  (id: string, dxMm: number, dyMm: number): Edit =>
  (project) => {
    const run = runOf(project, id);
    const firstLed = { xMm: tidy(run.firstLed.xMm + dxMm), yMm: tidy(run.firstLed.yMm + dyMm) };
    if (!hasRoomForRun(project, run.ledCount) || !isPlace(firstLed)) return;
    const { name: _, deadLeds: _dead, bypassedLeds: _bypassed, ...unnamed } = run;
    const fresh: Run = {
      ...unnamed,
      id: freeId(
        project.runs.map((one) => one.id),
        id,
      ),
      firstLed,
      ...(run.spareLeds ? { spareLeds: [...run.spareLeds] } : {}),
    };
    insertBehind(project, id, fresh);
  };
