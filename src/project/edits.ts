// Named edits of the document: each returns a recipe for history.ts. They touch only what their name says, and keep references whole.
// Not here: choosing what to edit (src/app), checking the result (read.ts checks whole documents; findings tell the rest).
import type { Edit } from './history.ts';
import type { Clip, Feed, Project, Run } from './types.ts';

const runOf = (project: Project, id: string): Run => {
  const run = project.runs.find((one) => one.id === id);
  if (!run) throw new Error(`no run "${id}" to edit`);
  return run;
};

export const renameProject =
  (name: string): Edit =>
  (project) => {
    project.name = name;
  };

export const moveRun =
  (id: string, xMm: number, yMm: number): Edit =>
  (project) => {
    runOf(project, id).firstLed = { xMm, yMm };
  };

export const turnRun =
  (id: string, arrowDeg: number): Edit =>
  (project) => {
    runOf(project, id).arrowDeg = arrowDeg;
  };

/** Sets the LED count; spare LEDs and feeds that would lie beyond the new end go with it, parts of areas are cut to it. */
export const lengthenRun =
  (id: string, ledCount: number): Edit =>
  (project) => {
    const run = runOf(project, id);
    run.ledCount = ledCount;
    if (run.spareLeds) run.spareLeds = run.spareLeds.filter((led) => led < ledCount);
    project.power.feeds = project.power.feeds.filter((feed) => feed.run !== id || feed.led < ledCount);
    for (const area of project.areas)
      for (const members of area.members)
        if (members.kind === 'leds' && members.run === id) {
          members.from = Math.min(members.from, ledCount - 1);
          members.to = Math.min(members.to, ledCount - 1);
        }
  };

/** Adds a run behind the last one of a data line (or outside every chain, if the line doesn't exist). */
export const addRun =
  (run: Run, dataLine: number): Edit =>
  (project) => {
    project.runs.push(run);
    project.dataLines[dataLine]?.chain.push({ run: run.id });
  };

/** Takes a run out of the project, its chain, its areas and its feeds. A data line or area that is left without any goes too. */
export const deleteRun =
  (id: string): Edit =>
  (project) => {
    project.runs = project.runs.filter((run) => run.id !== id);
    for (const line of project.dataLines) line.chain = line.chain.filter((link) => link.run !== id);
    project.dataLines = project.dataLines.filter((line) => line.chain.length > 0);
    project.power.feeds = project.power.feeds.filter((feed) => feed.run !== id);
    for (const area of project.areas) {
      for (const members of area.members)
        if (members.kind === 'runs') members.runs = members.runs.filter((run) => run !== id);
      const kept = area.members.filter((members) => members.kind !== 'leds' || members.run !== id);
      area.members = kept.length > 0 ? kept : [{ kind: 'runs', runs: [] }];
    }
  };

/** Moves a run to another place in its data line's chain; places count from 0. */
export const moveInChain =
  (dataLine: number, from: number, to: number): Edit =>
  (project) => {
    const chain = project.dataLines[dataLine]?.chain;
    const [link] = chain?.splice(from, 1) ?? [];
    if (chain && link) chain.splice(to, 0, link);
  };

export const setPin =
  (dataLine: number, pin: number): Edit =>
  (project) => {
    const line = project.dataLines[dataLine];
    if (line) line.pin = pin;
  };

export const addFeed =
  (feed: Feed): Edit =>
  (project) => {
    project.power.feeds.push(feed);
  };

export const removeFeed =
  (index: number): Edit =>
  (project) => {
    project.power.feeds.splice(index, 1);
  };

/** The player's current limit; undefined takes it off. */
export const setLimit =
  (limitAmps: number | undefined): Edit =>
  (project) => {
    if (limitAmps === undefined) delete project.power.limitAmps;
    else project.power.limitAmps = limitAmps;
  };

export interface ClipPlace {
  readonly show: string;
  readonly row: number;
  readonly clip: number;
}

const clipsOf = (project: Project, place: Omit<ClipPlace, 'clip'>): Clip[] => {
  const clips = project.lampshows.find((show) => show.id === place.show)?.rows[place.row]?.clips;
  if (!clips) throw new Error(`no row ${place.row} in the show "${place.show}"`);
  return clips;
};

export const addClip =
  (place: Omit<ClipPlace, 'clip'>, clip: Clip): Edit =>
  (project) => {
    clipsOf(project, place).push(clip);
  };

export const deleteClip =
  (place: ClipPlace): Edit =>
  (project) => {
    clipsOf(project, place).splice(place.clip, 1);
  };

/** Changes any of a clip's properties. */
export const changeClip =
  (place: ClipPlace, change: Partial<Clip>): Edit =>
  (project) => {
    const clip = clipsOf(project, place)[place.clip];
    if (!clip) throw new Error(`no clip ${place.clip} in row ${place.row} of the show "${place.show}"`);
    Object.assign(clip, change);
  };
