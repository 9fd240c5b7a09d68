// Edits of recorded presses. Each returns a recipe for history.ts. What a limit forbids is left undone, and numbers are brought inside the
// schema's bounds. Not here: playing a log (src/lampshow/press-log.ts), game events themselves (edits-events.ts).
import { changeWithinSchema, withinSchema } from './bounds.ts';
import { applyChange, byId, type Change, indexById, mustBeNew, setName } from './edits-parts.ts';
import type { Edit } from './history.ts';
import { limits } from './limits.ts';
import { pressLogSchema } from './schema-events.ts';
import type { PressLog, Project } from './types.ts';

type Content = Partial<Omit<PressLog, 'id'>>;

function mustKnowWhatItNames(project: Project, { lampshow, presses, expected }: Change<Content>): void {
  for (const { event } of presses ?? []) byId(project.gameEvents ?? [], event, 'game event');
  const shows = [
    ...(lampshow === undefined ? [] : [lampshow]),
    ...(expected ?? []).map((one) => one.lampshow),
  ];
  for (const show of shows) byId(project.lampshows, show, 'lampshow');
}

const isWithinLimits = ({ presses, expected }: Change<Content>): boolean =>
  Math.max(presses?.length ?? 0, expected?.length ?? 0) <= limits.pressesPerLog;

export const addPressLog =
  (log: PressLog): Edit =>
  (project) => {
    const logs = project.pressLogs ?? [];
    mustBeNew(logs, log.id);
    mustKnowWhatItNames(project, log);
    const bounded = withinSchema(pressLogSchema, log);
    if (bounded && isWithinLimits(log) && logs.length < limits.pressLogs)
      project.pressLogs = [...logs, bounded];
  };

/** The list stays, if need be empty. */
export const deletePressLog =
  (id: string): Edit =>
  (project) => {
    const logs = project.pressLogs ?? [];
    logs.splice(indexById(logs, id, 'press log'), 1);
  };

export const renamePressLog =
  (id: string, name: string): Edit =>
  (project) => {
    const logs = project.pressLogs ?? [];
    setName(logs, indexById(logs, id, 'press log'), name);
  };

/** Changes some of a log's properties but its id; an optional one given as undefined is deleted. */
export const changePressLog =
  (id: string, change: Change<Omit<PressLog, 'id'>>): Edit =>
  (project) => {
    const logs = project.pressLogs ?? [];
    const index = indexById(logs, id, 'press log');
    mustKnowWhatItNames(project, change);
    if (isWithinLimits(change))
      applyChange(logs, index, changeWithinSchema<PressLog>(pressLogSchema, change, logs[index]));
  };

/** Some entries of a list; the very same list where all stay. */
const kept = <T>(list: readonly T[], stays: (entry: T) => boolean): readonly T[] =>
  list.every(stays) ? list : list.filter(stays);

/**
 * Takes game events and a lampshow that are about to go out of all logs: their presses, what is expected of the show, and the show as the one that
 * plays from power-up on. A log of which nothing is expected any more is no test.
 */
export function dropFromPressLogs(project: Project, events: readonly string[], lampshow?: string): void {
  const logs = project.pressLogs ?? [];
  for (const [index, log] of logs.entries()) {
    const presses = kept(log.presses, ({ event }) => !events.includes(event));
    const expected = log.expected && kept(log.expected, (one) => one.lampshow !== lampshow);
    applyChange(logs, index, {
      ...(log.lampshow !== undefined && log.lampshow === lampshow ? { lampshow: undefined } : {}),
      ...(presses === log.presses ? {} : { presses: [...presses] }),
      ...(expected === log.expected ? {} : { expected: expected?.length ? [...expected] : undefined }),
    });
  }
}
