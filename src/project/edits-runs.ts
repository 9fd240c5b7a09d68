// Edits of runs and chains. Each returns a recipe for history.ts, touches only what its name says, and keeps references whole.
// Not here: edits that need the distance between LEDs (src/panel/run-edits.ts). What a limit forbids is left undone, and
// numbers are brought inside the schema's bounds.
import { changeWithinSchema, withinSchema } from './bounds.ts';
import { dropBuiltRun } from './edits-as-built.ts';
import {
  applyChange,
  arrowWithinBounds,
  type Change,
  indexById,
  membersOrNone,
  mustBeNew,
  mustBeStrip,
  mustBeWire,
  mustHoldLed,
  partOf,
  runOf,
  setName,
} from './edits-parts.ts';
import type { Edit } from './history.ts';
import { limits } from './limits.ts';
import { projectSchema } from './schema.ts';
import type { AreaMembers, Feed, Project, Run } from './types.ts';

const runSchema = projectSchema.properties.runs.items;
const jumperSchema = projectSchema.properties.dataLines.items.properties.chain.items.properties.jumper;

type Link = Project['dataLines'][number]['chain'][number];

/** How many LEDs the limits still allow beside these runs. */
const roomForLeds = (others: readonly Run[]): number =>
  Math.min(limits.ledsPerRun, limits.leds - others.reduce((sum, run) => sum + run.ledCount, 0));

/** Whether the limits leave room for one more run, of so many LEDs. */
export const hasRoomForRun = (project: Project, ledCount: number): boolean =>
  project.runs.length < limits.runs && ledCount <= roomForLeds(project.runs);

/** Adds a run behind the last one of a data line; a line that doesn't exist is made, without a pin. */
export const addRun =
  (run: Run, dataLine: number): Edit =>
  (project) => {
    mustBeNew(project.runs, run.id);
    mustBeStrip(project, run.strip);
    const bounded = withinSchema(runSchema, run);
    if (!bounded) return;
    for (const led of [
      ...(bounded.spareLeds ?? []),
      ...(bounded.deadLeds ?? []),
      ...(bounded.bypassedLeds ?? []),
    ])
      mustHoldLed(bounded, led);
    const line = project.dataLines[dataLine];
    if (!hasRoomForRun(project, bounded.ledCount)) return;
    if (!line && project.dataLines.length >= limits.dataLines) return;
    project.runs.push(bounded);
    if (line) line.chain.push({ run: run.id });
    else project.dataLines.push({ chain: [{ run: run.id }] });
  };

/** Takes a run out of the project, its chain, its areas and its feeds. A data line left without any goes; an area stays, empty. */
export const deleteRun =
  (id: string): Edit =>
  (project) => {
    runOf(project, id);
    takeOutOfChain(project, id);
    dropEmptyLines(project);
    project.runs = project.runs.filter((run) => run.id !== id);
    dropFeeds(project, (feed) => feed.run === id);
    dropBuiltRun(project, id);
    for (const area of project.areas) {
      for (const members of area.members)
        if (members.kind === 'runs' && members.runs.includes(id))
          members.runs = members.runs.filter((run) => run !== id);
      const kept = area.members.filter((members) => members.kind !== 'leds' || members.run !== id);
      if (kept.length < area.members.length) area.members = membersOrNone(kept);
    }
  };

function dropFeeds({ power }: Project, goes: (place: Pick<Feed, 'run' | 'led'>) => boolean): void {
  if (power.feeds.some(goes)) power.feeds = power.feeds.filter((feed) => !goes(feed));
  const forbidden = power.planning?.forbidden;
  if (forbidden?.some(goes)) power.planning!.forbidden = forbidden.filter((place) => !goes(place));
}

export const moveRun =
  (id: string, xMm: number, yMm: number): Edit =>
  (project) => {
    const run = runOf(project, id);
    run.firstLed = withinSchema(runSchema.properties.firstLed, { xMm, yMm }, run.firstLed) ?? run.firstLed;
  };

/** Turns a run about its first LED until its arrow points there. */
export const turnRun =
  (id: string, arrowDeg: number): Edit =>
  (project) => {
    const run = runOf(project, id);
    if (Number.isFinite(arrowDeg)) run.arrowDeg = arrowWithinBounds(arrowDeg);
  };

/** Sets the LED count, as far as the limits allow. Spare and dead LEDs, feeds and parts of areas beyond the new end go, or are cut to it. */
export const lengthenRun =
  (id: string, ledCount: number): Edit =>
  (project) => {
    const run = runOf(project, id);
    const most = roomForLeds(project.runs.filter((other) => other.id !== id));
    const wanted = withinSchema(runSchema.properties.ledCount, ledCount, run.ledCount) ?? run.ledCount;
    run.ledCount = Math.min(wanted, most);
    const last = run.ledCount - 1;
    for (const list of ['spareLeds', 'deadLeds', 'bypassedLeds'] as const)
      if (run[list]?.some((led) => led > last)) run[list] = run[list].filter((led) => led <= last);
    dropFeeds(project, (feed) => feed.run === id && feed.led > last);
    for (const area of project.areas) {
      const beyond = (members: AreaMembers): boolean =>
        members.kind === 'leds' && members.run === id && Math.min(members.from, members.to) > last;
      if (area.members.some(beyond))
        area.members = membersOrNone(area.members.filter((members) => !beyond(members)));
      for (const members of area.members)
        if (members.kind === 'leds' && members.run === id) {
          members.from = Math.min(members.from, last);
          members.to = Math.min(members.to, last);
        }
    }
  };

export const setRunStrip =
  (id: string, strip: string): Edit =>
  (project) => {
    mustBeStrip(project, strip);
    runOf(project, id).strip = strip;
  };

/** Undefined: the strip's own. */
export const setRunColourOrder =
  (id: string, colourOrder: Run['colourOrder'] | undefined): Edit =>
  (project) =>
    applyChange(project.runs, indexById(project.runs, id, 'run'), { colourOrder });

export const renameRun =
  (id: string, name: string): Edit =>
  (project) =>
    setName(project.runs, indexById(project.runs, id, 'run'), name);

const setLedList =
  (list: 'spareLeds' | 'deadLeds' | 'bypassedLeds', id: string, leds: readonly number[]): Edit =>
  (project) => {
    const index = indexById(project.runs, id, 'run');
    for (const led of leds) mustHoldLed(runOf(project, id), led);
    const sorted = [...new Set(leds)].sort((a, b) => a - b);
    applyChange(project.runs, index, { [list]: sorted.length > 0 ? sorted : undefined });
  };

/** Which LEDs are kept dark, in any order; none takes the list away. */
export const setSpareLeds = (id: string, leds: readonly number[]): Edit => setLedList('spareLeds', id, leds);

/** Which LEDs were found broken, in any order; none takes the list away. */
export const setDeadLeds = (id: string, leds: readonly number[]): Edit => setLedList('deadLeds', id, leds);

/** Which LEDs a wire leads the data past, in any order; none takes the list away. */
export const setBypassedLeds = (id: string, leds: readonly number[]): Edit =>
  setLedList('bypassedLeds', id, leds);

/** Makes a run a ring board of this radius, or a straight strip again. */
export const setRing =
  (id: string, ring: Run['ring'] | undefined): Edit =>
  (project) =>
    applyChange(
      project.runs,
      indexById(project.runs, id, 'run'),
      changeWithinSchema<Run>(runSchema, { ring }, runOf(project, id)),
    );

/** Moves a run, and the jumper that leads to it, to another place in its data line's chain; places count from 0. */
export const moveInChain =
  (dataLine: number, from: number, to: number): Edit =>
  (project) => {
    const { chain } = partOf(project.dataLines, dataLine, 'data line');
    const link = partOf(chain, from, 'run at place');
    chain.splice(from, 1);
    chain.splice(to, 0, link);
  };

/** Takes the link out of whatever chain holds it, and gives it back, whole. Leaves an empty line where it was the only one. */
function takeOutOfChain(project: Project, id: string): Link | undefined {
  for (const line of project.dataLines) {
    const place = line.chain.findIndex((link) => link.run === id);
    if (place >= 0) return line.chain.splice(place, 1)[0];
  }
  return undefined;
}

function dropEmptyLines(project: Project): void {
  if (project.dataLines.some((line) => line.chain.length === 0))
    project.dataLines = project.dataLines.filter((line) => line.chain.length > 0);
}

/**
 * Moves a run, with the jumper that leads to it, to a place in a data line's chain, from wherever it is. A line that doesn't exist is made, without a
 * pin; one left empty goes.
 * @param dataLine as lines are numbered before the edit
 * @param place as the chain's places are numbered once the run is out of it
 */
export const moveRunToChain =
  (id: string, dataLine: number, place: number): Edit =>
  (project) => {
    runOf(project, id);
    const from = project.dataLines.find((line) => line.chain.some((link) => link.run === id));
    const isFull = project.dataLines.length >= limits.dataLines && from?.chain.length !== 1;
    const to = project.dataLines[dataLine];
    if (!to && isFull) return;
    const link = takeOutOfChain(project, id) ?? { run: id };
    if (to) to.chain.splice(place, 0, link);
    else project.dataLines.push({ chain: [link] });
    dropEmptyLines(project);
  };

/** Takes a run out of its chain, so that it stays dark; it keeps its place on the panel. */
export const unchainRun =
  (id: string): Edit =>
  (project) => {
    runOf(project, id);
    takeOutOfChain(project, id);
    dropEmptyLines(project);
  };

/** Changes the jumper that leads to the run at this place; undefined, or a change that leaves nothing, gives the plain one back. */
export const setJumper =
  (dataLine: number, place: number, change: Change<NonNullable<Link['jumper']>> | undefined): Edit =>
  (project) => {
    const { chain } = partOf(project.dataLines, dataLine, 'data line');
    const link = partOf(chain, place, 'run at place');
    mustBeWire(change?.wire);
    if (change) {
      link.jumper ??= {};
      applyChange(link, 'jumper', changeWithinSchema(jumperSchema, change, link.jumper));
    }
    if (!change || Object.keys(link.jumper ?? {}).length === 0)
      applyChange(chain, place, { jumper: undefined });
  };
