// Edits of what was built otherwise than planned. Each returns a recipe for history.ts. Once made, the record stays, be it empty.
// Not here: what follows from it (src/panel/as-built.ts).
import { applyChange, type Change, mustBeStrip, partOf, runOf } from './edits-parts.ts';
import type { Edit } from './history.ts';
import { limits } from './limits.ts';
import type { AsBuilt, BuiltRun, Project } from './types.ts';

function recordOf(project: Project): AsBuilt {
  project.asBuilt ??= { runs: [], swaps: [] };
  return project.asBuilt;
}

/** An entry that says nothing but which run it is about. */
const isPlain = (built: BuiltRun): boolean => Object.keys(built).length === 1;

/** Sets what differs for a run; undefined, or false, is as planned. An entry that says nothing any more goes. */
export const changeBuiltRun =
  (id: string, change: Change<Omit<BuiltRun, 'run'>>): Edit =>
  (project) => {
    runOf(project, id);
    if (change.strip !== undefined) mustBeStrip(project, change.strip);
    const said = Object.fromEntries(
      Object.entries(change).map(([key, value]) => [key, value === false ? undefined : value]),
    );
    const isNothing = Object.values(said).every((value) => value === undefined);
    if (isNothing && !project.asBuilt?.runs.some(({ run }) => run === id)) return;
    const record = recordOf(project);
    let index = record.runs.findIndex(({ run }) => run === id);
    if (index < 0) {
      if (record.runs.length >= limits.runs) return;
      index = record.runs.push({ run: id }) - 1;
    }
    applyChange(record.runs, index, said);
    if (isPlain(record.runs[index]!)) record.runs = record.runs.filter((_, i) => i !== index);
  };

/** Two runs took each other's place on the wire. The same two once more are as planned again. */
export const swapBuiltRuns =
  (first: string, second: string): Edit =>
  (project) => {
    runOf(project, first);
    runOf(project, second);
    if (first === second) return;
    const record = recordOf(project);
    const last = record.swaps.at(-1);
    const undoesLast = last && [last.first, last.second].sort().join() === [first, second].sort().join();
    if (undoesLast) record.swaps = record.swaps.slice(0, -1);
    else if (record.swaps.length < limits.runs) record.swaps.push({ first, second });
  };

export const removeBuiltSwap =
  (index: number): Edit =>
  (project) => {
    const record = recordOf(project);
    partOf(record.swaps, index, 'exchange');
    record.swaps = record.swaps.filter((_, i) => i !== index);
  };

/** All was built as planned, and no LED is broken or led past. Spare LEDs are of the plan, and stay. */
export const clearAsBuilt: Edit = (project) => {
  if (project.asBuilt) project.asBuilt = { runs: [], swaps: [] };
  for (const [index, { deadLeds, bypassedLeds }] of project.runs.entries()) {
    if (deadLeds ?? bypassedLeds)
      applyChange(project.runs, index, { deadLeds: undefined, bypassedLeds: undefined });
  }
};

/** What a record says of a run that goes, goes with it. */
export function dropBuiltRun(project: Project, id: string): void {
  const { asBuilt } = project;
  if (!asBuilt) return;
  if (asBuilt.runs.some(({ run }) => run === id)) asBuilt.runs = asBuilt.runs.filter(({ run }) => run !== id);
  const names = ({ first, second }: AsBuilt['swaps'][number]): boolean => first === id || second === id;
  if (asBuilt.swaps.some(names)) asBuilt.swaps = asBuilt.swaps.filter((swap) => !names(swap));
}
