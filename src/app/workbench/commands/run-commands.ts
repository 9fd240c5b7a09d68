// What can be done with the run that is chosen.
import { duplicateRun, reverseRun, splitRun, turnRunAboutMiddle } from '../../../panel/index.ts';
import { deleteRun, lengthenRun, limits, moveRun, type Run } from '../../../project/index.ts';
import type { StageId, WorkbenchState } from '../workbench.ts';
import type { EditCommand, PlannedEdit } from './command.ts';

export const runName = ({ name, id }: Pick<Run, 'name' | 'id'>): string => name ?? id;

const chosenRun = ({ selection, history }: WorkbenchState): Run | undefined =>
  selection.kind === 'run' ? history.project.runs.find((run) => run.id === selection.id) : undefined;

/** Where the chosen run is in view. */
const stagesOfRuns: ReadonlySet<StageId> = new Set(['runs', 'power']);

/** A row whose edit is made for the chosen run; it makes sense where one is chosen and `fits` holds. */
function runCommand(
  id: string,
  label: string,
  keys: readonly string[],
  plan: (run: Run, state: WorkbenchState) => PlannedEdit,
  fits: (run: Run) => boolean = () => true,
): EditCommand {
  return {
    id,
    label,
    keys,
    when: (state) => {
      // A run that was chosen elsewhere must not move unseen.
      if (!stagesOfRuns.has(state.stage)) return false;
      const run = chosenRun(state);
      return run !== undefined && fits(run);
    },
    plan: (state) => plan(chosenRun(state)!, state),
  };
}

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
    runCommand(
      `run-${name}-${stepMm}`,
      `Move run ${name} by ${stepMm} mm`,
      [modifier + key],
      ({ id, firstLed }, { side }) => ({
        label: 'Move run',
        // Left and right are what the builder sees.
        edit: moveRun(
          id,
          tidyMm(firstLed.xMm + (side === 'rear' ? -x : x) * stepMm),
          tidyMm(firstLed.yMm + y * stepMm),
        ),
        gesture: `nudge ${id}`,
      }),
    ),
  ),
);

/** Counter-clockwise, kept from 0 up to 360. */
export const turnedBy = (arrowDeg: number, byDeg: number): number => (((arrowDeg + byDeg) % 360) + 360) % 360;

export const runCommands: readonly EditCommand[] = [
  runCommand('run-reverse', 'Turn the arrow round', ['T'], ({ id }) => ({
    label: 'Turn the arrow round',
    edit: reverseRun(id),
  })),
  runCommand('run-quarter', 'Turn run by 90 degrees', ['R'], ({ id, arrowDeg }) => ({
    label: 'Turn run',
    edit: turnRunAboutMiddle(id, turnedBy(arrowDeg, 90)),
  })),
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
    ({ ledCount }) => ledCount > 1,
  ),
  runCommand('run-duplicate', 'Duplicate run', ['Mod+D'], ({ id }) => ({
    label: 'Duplicate run',
    edit: duplicateRun(id, 0, 20),
  })),
  runCommand('run-delete', 'Delete run', ['Delete', 'Backspace'], ({ id }) => ({
    label: 'Delete run',
    edit: deleteRun(id),
  })),
  ...nudges,
];
