// "Place feeds for me": the least number of feeds that holds every LED and every fuse, with what it takes, before anything changes.
// Not here: the planning itself (src/power), what is asked of it (plan-fields.tsx).
import { useMemo, useState } from 'react';
import { ampsFigure, type PlanReason, voltsFigure } from '../../../power/index.ts';
import type { Project } from '../../../project/index.ts';
import { useWorkerAnswer } from '../../survey/use-worker-answer.ts';
import { runName } from '../../workbench/commands/run-commands.ts';
import { useEdit, useFigures, useSettled, useWorkbench } from '../../workbench/context.ts';
import { nothing } from '../../workbench/selection.ts';
import { Halves, Note, Outcome, StageDialog } from '../runs/dialog.tsx';
import { outlookOf } from '../runs/lay-out-tasks.ts';
import {
  choicesOf,
  type FeedPlanAnswer,
  feedPlanEdit,
  feedPlanTask,
  type JumperChange,
  jumperChanges,
  type PlannedFeeds,
  type PlanOutlook,
  planVerdict,
} from './feed-plan-task.ts';
import { FeedsSketch } from './feeds-sketch.tsx';
import { PlanFields } from './plan-fields.tsx';
import css from './power-dialogs.module.css';
import { wireName } from './wire-choices.ts';

const startPlanner = () => new Worker(new URL('./feed-plan-worker.ts', import.meta.url), { type: 'module' });

const nameOf = ({ runs }: Project, id: string): string =>
  runName(runs.find((run) => run.id === id) ?? { id });

const PlanTable = ({
  project,
  plan: { feeds },
  outlook: { feedAmps },
}: {
  readonly project: Project;
  readonly plan: PlannedFeeds;
  readonly outlook: PlanOutlook;
}) => (
  // biome-ignore lint/a11y/noNoninteractiveTabindex: a part that scrolls must be reachable by key
  <section className={css['plan-table']} tabIndex={0} aria-label="Planned feeds">
    <table>
      <thead>
        <tr>
          <th scope="col">Feed</th>
          <th scope="col" data-words>
            Run
          </th>
          <th scope="col">LED</th>
          <th scope="col">Wire</th>
          <th scope="col">mm</th>
          <th scope="col">Carries, A</th>
          <th scope="col">Fuse, A</th>
        </tr>
      </thead>
      <tbody>
        {feeds.map(({ run, led, wire, lengthMm, fuseAmps, isKept }, index) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: feeds are known by their place in the list
          <tr key={index}>
            <th scope="row">
              F{index + 1}
              {isKept ? ', kept' : ''}
            </th>
            <td data-words title={nameOf(project, run)}>
              {nameOf(project, run)}
            </td>
            <td>{led}</td>
            <td>{wireName(wire)}</td>
            <td>{lengthMm.toFixed(0)}</td>
            <td>{ampsFigure(feedAmps[index]!)}</td>
            <td>{fuseAmps}</td>
          </tr>
        ))}
      </tbody>
    </table>
  </section>
);

/** More are seen better in the picture. */
const mostJumpers = 8;

const Jumpers = ({
  project,
  title,
  changes,
}: {
  readonly project: Project;
  readonly title: string;
  readonly changes: readonly JumperChange[];
}) =>
  changes.length > 0 && (
    <Note>
      {title}:{' '}
      {changes
        .slice(0, mostJumpers)
        .map(({ from, to }) => `${nameOf(project, from)} to ${nameOf(project, to)}`)
        .join(', ')}
      {changes.length > mostJumpers && ` and ${changes.length - mostJumpers} more`}.
    </Note>
  );

/** One or two show what it is about; the mend must stay in view. */
const mostAlike = 4;

/** Reasons that are mended alike stand together. */
function Reasons({ reasons }: { readonly reasons: readonly PlanReason[] }) {
  const mends = [...new Set(reasons.map(({ mend }) => mend))];
  const alike = (mend: string) => reasons.filter((reason) => reason.mend === mend);
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a part that scrolls must be reachable by key
    <section className={css['reasons']} tabIndex={0} aria-label="Why there is no plan">
      {mends.map((mend) => (
        <div key={mend}>
          {alike(mend)
            .slice(0, mostAlike)
            .map(({ message }) => (
              <p key={message}>{message}</p>
            ))}
          {alike(mend).length > mostAlike && <p>And {alike(mend).length - mostAlike} more like these.</p>}
          <Note>{mend}</Note>
        </div>
      ))}
    </section>
  );
}

const inVolts = (volts: number): string => `${voltsFigure(volts)} V`;

/** What there is before, to compare with. */
function Now() {
  const { power, assessment } = useFigures();
  const { violations } = assessment.fuseRule;
  const { feeds, worstCase } = power;
  if (feeds.length === 0) return <Note>Now there is no feed.</Note>;
  const unprotected =
    violations.length === 0
      ? 'fuses protect every conductor in a short'
      : `${violations.length} conductors without protection in a short`;
  return (
    <Note>
      Now {feeds.length === 1 ? '1 feed' : `${feeds.length} feeds`}, lowest {inVolts(worstCase.lowestVolts)},{' '}
      {unprotected}.
    </Note>
  );
}

export function PlaceFeedsDialog({ onClose }: { readonly onClose: () => void }) {
  const workbench = useWorkbench();
  const edit = useEdit();
  const { project } = useSettled();
  const [choices, setChoices] = useState(() => choicesOf(project));
  const task = useMemo(
    () => (project.runs.length > 0 ? feedPlanTask(project, choices) : undefined),
    [project, choices],
  );
  const asked = useWorkerAnswer<FeedPlanAnswer>(task, startPlanner);
  const answer = asked.state === 'done' ? asked.answer : undefined;
  const plan = answer?.plan.kind === 'planned' ? answer.plan : undefined;
  const planned = plan && feedPlanEdit(project, choices, plan);
  // The plan stands for what it was made from: same task, same answer.
  // biome-ignore lint/correctness/useExhaustiveDependencies: the edit follows from project, choices and plan
  const after = useMemo(() => planned && outlookOf(project, planned), [project, choices, plan]);
  const changes = plan && jumperChanges(project, plan);
  const isEmpty = plan?.feeds.length === 0;
  const apply = () => {
    workbench.select(nothing);
    edit('Place feeds', planned!);
    onClose();
  };
  return (
    <StageDialog
      title="Place feeds for me"
      act="Place these feeds"
      onAct={planned && !isEmpty ? apply : undefined}
      onClose={onClose}
    >
      <Halves fields={<PlanFields project={project} choices={choices} onChange={setChoices} />}>
        {after && <FeedsSketch outlook={after} />}
        <Outcome
          tone={
            asked.state === 'failed' || answer?.plan.kind === 'impossible' ? 'warn' : plan ? 'good' : 'plain'
          }
        >
          {!task && 'There is no run to feed yet. Draw runs first, in the stage Runs.'}
          {task && asked.state === 'working' && 'Planning...'}
          {asked.state === 'failed' && 'The plan could not be made. Load the page again and retry.'}
          {answer?.plan.kind === 'impossible' && 'No plan keeps all of this:'}
          {plan && (isEmpty ? 'No chain and no fed run: nothing to feed.' : `${planVerdict(plan)}.`)}
        </Outcome>
        {task && <Now />}
        {answer?.plan.kind === 'impossible' && <Reasons reasons={answer.plan.reasons} />}
        {plan && answer?.outlook && !isEmpty && (
          <>
            <Note>
              All white, the lowest LED gets {inVolts(answer.outlook.coldLowestVolts)}, and{' '}
              {inVolts(answer.outlook.hotLowestVolts)} at {answer.outlook.hotCelsius} °C with the fuses
              counted. In any short, the fuses stay within every wire, plug and rail that they feed.
            </Note>
            <Jumpers project={project} title="Cuts + between" changes={changes!.cuts} />
            <Jumpers project={project} title="Joins + again between" changes={changes!.joins} />
            <PlanTable project={project} plan={plan} outlook={answer.outlook} />
          </>
        )}
      </Halves>
    </StageDialog>
  );
}
