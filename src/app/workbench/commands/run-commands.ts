// What can be done with the run that is chosen, or with several at once.
import {
  canJoin,
  copyInRows,
  deleteRuns,
  inSequence,
  isSwapped,
  joinRuns,
  mirrorRuns,
  moveRuns,
  reverseRun,
  splitRun,
  turnRunAboutMiddle,
  turnRuns,
} from '../../../panel/index.ts';
import { deleteRun, lengthenRun, limits, moveRun, type Run } from '../../../project/index.ts';
import { chosenRunIds } from '../selection.ts';
import type { StageId, WorkbenchState } from '../workbench.ts';
import type { EditCommand, PlannedEdit } from './command.ts';

export const runName = ({ name, id }: Pick<Run, 'name' | 'id'>): string => name ?? id;

const chosenRuns = ({ selection, history }: WorkbenchState): Run[] =>
  chosenRunIds(selection).flatMap((id) => history.project.runs.find((run) => run.id === id) ?? []);

/** Where the chosen runs are in view. */
const stagesOfRuns: ReadonlySet<StageId> = new Set(['runs', 'power']);

/** A row whose edit is made for the chosen runs; it makes sense where some are chosen and `fits` holds. */
function runsCommand(
  id: string,
  label: string,
  keys: readonly string[],
  plan: (runs: readonly Run[], state: WorkbenchState) => PlannedEdit,
  fits: (runs: readonly Run[], state: WorkbenchState) => boolean = () => true,
): EditCommand {
  return {
    id,
    label,
    keys,
    when: (state) => {
      // Runs that were chosen elsewhere must not move unseen.
      if (!stagesOfRuns.has(state.stage)) return false;
      const runs = chosenRuns(state);
      return runs.length > 0 && fits(runs, state);
    },
    plan: (state) => plan(chosenRuns(state), state),
  };
}

/** The same for what means a single run. */
const runCommand = (
  id: string,
  label: string,
  keys: readonly string[],
  plan: (run: Run) => PlannedEdit,
  fits: (run: Run, state: WorkbenchState) => boolean = () => true,
): EditCommand =>
  runsCommand(
    id,
    label,
    keys,
    ([run]) => plan(run!),
    (runs, state) => runs.length === 1 && fits(runs[0]!, state),
  );

const idsOf = (runs: readonly Run[]): string[] => runs.map(({ id }) => id);

const nudgeMm = { '': 1, 'Shift+': 10 } as const;
const arrows = [
  { name: 'left', key: 'ArrowLeft', x: -1, y: 0 },
  { name: 'right', key: 'ArrowRight', x: 1, y: 0 },
  { name: 'up', key: 'ArrowUp', x: 0, y: -1 },
  { name: 'down', key: 'ArrowDown', x: 0, y: 1 },
] as const;

/** Tenths of a millimetre are as fine as anyone can saw; adding steps must not leave tails of digits. */
const tidyMm = (mm: number): number => Math.round(mm * 1000) / 1000;

const nudges = Object.entries(nudgeMm).flatMap(([modifier, stepMm]) =>
  arrows.map(({ name, key, x, y }) =>
    runsCommand(
      `run-${name}-${stepMm}`,
      `Move run ${name} by ${stepMm} mm`,
      [modifier + key],
      (runs, { side }) => {
        // Left and right are what the builder sees.
        const dx = (side === 'rear' ? -x : x) * stepMm;
        const [{ id, firstLed }] = runs as [Run, ...Run[]];
        return {
          label: runs.length === 1 ? 'Move run' : 'Move runs',
          edit:
            runs.length === 1
              ? moveRun(id, tidyMm(firstLed.xMm + dx), tidyMm(firstLed.yMm + y * stepMm))
              : moveRuns(idsOf(runs), dx, y * stepMm),
          gesture: `nudge ${idsOf(runs).join(' ')}`,
        };
      },
    ),
  ),
);

/** Counter-clockwise, kept from 0 up to 360. */
export const turnedBy = (arrowDeg: number, byDeg: number): number => (((arrowDeg + byDeg) % 360) + 360) % 360;

/** The two chosen runs, in the order in which they go on from each other. */
function joinable(
  [a, b, ...more]: readonly Run[],
  { history }: WorkbenchState,
): [string, string] | undefined {
  if (!a || !b || more.length > 0) return undefined;
  if (canJoin(history.project, a.id, b.id)) return [a.id, b.id];
  return canJoin(history.project, b.id, a.id) ? [b.id, a.id] : undefined;
}

const mirrors = [
  { id: 'run-mirror-across', kind: 'left-right', label: 'Mirror left and right', keys: ['H'] },
  { id: 'run-mirror-down', kind: 'up-down', label: 'Mirror up and down', keys: ['Shift+H'] },
] as const;

export const runCommands: readonly EditCommand[] = [
  runsCommand('run-reverse', 'Turn the arrow round', ['T'], (runs) => ({
    label: 'Turn the arrow round',
    edit: inSequence(idsOf(runs).map(reverseRun)),
  })),
  runsCommand('run-quarter', 'Turn run by 90 degrees', ['R'], (runs) => {
    const [{ id, arrowDeg }] = runs as [Run, ...Run[]];
    return runs.length === 1
      ? { label: 'Turn run', edit: turnRunAboutMiddle(id, turnedBy(arrowDeg, 90)) }
      : { label: 'Turn runs', edit: turnRuns(idsOf(runs), 90) };
  }),
  ...mirrors.map(({ id, kind, label, keys }) =>
    runsCommand(id, label, keys, (runs) => ({ label, edit: mirrorRuns(idsOf(runs), kind) })),
  ),
  runCommand(
    'run-longer',
    'One LED more',
    [']'],
    ({ id, ledCount }) => ({
      label: 'Lengthen run',
      edit: lengthenRun(id, ledCount + 1),
      gesture: `length ${id}`,
    }),
    ({ ledCount }) => ledCount < limits.ledsPerRun,
  ),
  runCommand(
    'run-shorter',
    'One LED less',
    ['['],
    ({ id, ledCount }) => ({
      label: 'Shorten run',
      edit: lengthenRun(id, ledCount - 1),
      gesture: `length ${id}`,
    }),
    ({ ledCount }) => ledCount > 1,
  ),
  runCommand(
    'run-split',
    'Split run in the middle',
    ['K'],
    ({ id, ledCount }) => ({ label: 'Split run', edit: splitRun(id, Math.ceil(ledCount / 2)) }),
    ({ id, ledCount, ring }, { history }) => ledCount > 1 && !ring && !isSwapped(history.project, id),
  ),
  runsCommand(
    'run-join',
    'Join two runs that go on from each other',
    ['J'],
    (runs, state) => {
      const [first, second] = joinable(runs, state)!;
      return { label: 'Join runs', edit: joinRuns(first, second), selection: { kind: 'run', id: first } };
    },
    (runs, state) => joinable(runs, state) !== undefined,
  ),
  runsCommand('run-duplicate', 'Duplicate run', ['Mod+D'], (runs) => ({
    label: runs.length === 1 ? 'Duplicate run' : 'Duplicate runs',
    edit: copyInRows(idsOf(runs), 1, 0, 20, false),
  })),
  runsCommand('run-delete', 'Delete run', ['Delete', 'Backspace'], (runs) =>
    runs.length === 1
      ? { label: 'Delete run', edit: deleteRun(runs[0]!.id) }
      : { label: 'Delete runs', edit: deleteRuns(idsOf(runs)) },
  ),
  ...nudges,
];
