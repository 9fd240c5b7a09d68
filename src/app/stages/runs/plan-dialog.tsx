// "Plan the chain": the order of runs, and which to turn round, that takes least jumper wire; what it saves is told before anything changes.
import { useMemo, useState } from 'react';
import { type Project, setBoardPlace } from '../../../project/index.ts';
import { Button, Buttons, CheckField, NumberField, Segments, SelectField } from '../../fields/index.ts';
import { runName } from '../../workbench/commands/run-commands.ts';
import { useEdit, useSettled } from '../../workbench/context.ts';
import { lineName } from './chain-places.ts';
import css from './dialog.module.css';
import { Halves, Note, Outcome, StageDialog } from './dialog.tsx';
import { outlookOf } from './lay-out-tasks.ts';
import { LayoutSketch } from './layout-sketch.tsx';
import { isWorthwhile, type LinePlan, type PlanChoices, planEdit, planTask, verdict } from './plan-task.ts';
import { usePlan } from './use-plan.ts';

const turns = [
  { id: 'free', label: 'Runs may turn' },
  { id: 'fixed', label: 'Arrows stay' },
] as const;

const furthestMm = 10_000;

/** Where the board sits; chains are planned from there. */
function BoardPlace({ project }: { readonly project: Project }) {
  const edit = useEdit();
  const { place } = project.board;
  if (!place)
    return (
      <Buttons>
        <Button
          onPress={() =>
            edit(
              'Place the board',
              setBoardPlace({ xMm: project.panel.widthMm / 2, yMm: project.panel.heightMm / 2 }),
            )
          }
        >
          Tell where the board sits
        </Button>
      </Buttons>
    );
  return (['xMm', 'yMm'] as const).map((key) => (
    <NumberField
      key={key}
      label={`Board ${key.charAt(0)}`}
      unit="mm"
      least={-furthestMm}
      most={furthestMm}
      value={place[key]}
      onChange={(value, gesture) =>
        edit('Move the board', setBoardPlace({ ...place, [key]: value }), gesture)
      }
    />
  ));
}

const Table = ({ project, plans }: { readonly project: Project; readonly plans: readonly LinePlan[] }) => (
  <div className={css['table']}>
    <table>
      <thead>
        <tr>
          <th scope="col">Data line</th>
          <th scope="col">Now, mm</th>
          <th scope="col">Planned, mm</th>
          <th scope="col">Turned</th>
        </tr>
      </thead>
      <tbody>
        {plans.map(({ line, nowMm, lengthMm, order }) => (
          <tr key={line}>
            <th scope="row">{lineName(project, line)}</th>
            <td>{nowMm.toFixed(0)}</td>
            <td>{lengthMm.toFixed(0)}</td>
            <td>{order.filter(({ reversed }) => reversed).length}</td>
          </tr>
        ))}
      </tbody>
    </table>
  </div>
);

const turnedRuns = (plans: readonly LinePlan[]): ReadonlySet<string> =>
  new Set(plans.flatMap(({ order }) => order.filter(({ reversed }) => reversed).map(({ run }) => run)));

export function PlanDialog({ onClose }: { readonly onClose: () => void }) {
  const edit = useEdit();
  const { project } = useSettled();
  const { place } = project.board;
  const [choices, setChoices] = useState<PlanChoices>({
    line: 'all',
    mayTurn: true,
    fromBoard: place !== undefined,
  });
  const set = (change: Partial<PlanChoices>) => setChoices((before) => ({ ...before, ...change }));
  const fromBoard = choices.fromBoard && place !== undefined;
  const task = useMemo(() => planTask(project, { ...choices, fromBoard }), [project, choices, fromBoard]);
  const planning = usePlan(task);
  const plans = planning.state === 'planned' ? planning.plans : undefined;
  const outlook = useMemo(() => plans && outlookOf(project, planEdit(plans)), [project, plans]);
  const nameOf = (id: string) => runName(project.runs.find((run) => run.id === id) ?? { id });
  const apply = () => {
    edit('Plan the chain', planEdit(plans!));
    onClose();
  };
  return (
    <StageDialog
      title="Plan the chain"
      act="Wire it so"
      onAct={plans && isWorthwhile(plans) ? apply : undefined}
      onClose={onClose}
    >
      <Halves
        fields={
          <>
            <Segments
              label="Directions"
              value={choices.mayTurn ? 'free' : 'fixed'}
              choices={turns}
              onChange={(id) => set({ mayTurn: id === 'free' })}
            />
            {project.dataLines.length > 1 && (
              <SelectField
                label="Data line"
                value={String(choices.line)}
                choices={[
                  { id: 'all', label: 'All of them' },
                  ...project.dataLines.map((_, index) => ({
                    id: String(index),
                    label: lineName(project, index),
                  })),
                ]}
                onChange={(id) => set({ line: id === 'all' ? 'all' : Number(id) })}
              />
            )}
            <BoardPlace project={project} />
            {place && (
              <CheckField
                label="Begin at the board"
                value={choices.fromBoard}
                onChange={(begins) => set({ fromBoard: begins })}
              />
            )}
            <Note>
              {fromBoard
                ? 'The data wire from the board counts.'
                : 'The chain may begin with any run; the data wire from the board does not count.'}
            </Note>
          </>
        }
      >
        {plans && outlook && <LayoutSketch outlook={outlook} fresh={turnedRuns(plans)} />}
        {plans && <Table project={project} plans={plans} />}
        <Outcome tone={planning.state === 'failed' ? 'warn' : 'plain'}>
          {planning.state === 'planning' && 'Planning...'}
          {planning.state === 'failed' && 'The plan could not be made. Load the page again and retry.'}
          {plans &&
            (isWorthwhile(plans)
              ? plans.map((plan) => `${lineName(project, plan.line)}: ${verdict(plan)}.`).join(' ')
              : `The chain is as short as any that was found${plans.every(({ proved }) => proved) ? ', which is proved least' : ''}: nothing to change.`)}
        </Outcome>
        {plans
          ?.flatMap(({ droppedCuts }) => droppedCuts)
          .map(({ from, to }) => (
            <Outcome key={`${from} ${to}`} tone="warn">
              The jumper from {nameOf(from)} to {nameOf(to)}, whose +5 V is cut, would go. Cut +5 V anew where
              zones meet.
            </Outcome>
          ))}
      </Halves>
    </StageDialog>
  );
}
