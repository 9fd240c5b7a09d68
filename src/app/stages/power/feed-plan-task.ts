// "Place feeds for me" as a task that can be sent to another thread and back: what planning may do, the plan, and what the panel would then get. Pure.
import { inSequence, layOut } from '../../../panel/index.ts';
import { assessPower, type FeedPlan, lowestLed, planFeeds } from '../../../power/index.ts';
import {
  applyFeedPlan,
  type Edit,
  edited,
  type Planning,
  type Project,
  setPlanning,
  startHistory,
} from '../../../project/index.ts';

/** What is asked beside the places that are kept or forbidden; absent is as the document's planning has it. */
export type PlanChoices = Pick<
  Planning,
  'places' | 'wire' | 'fuseKind' | 'plug' | 'jumpersStay' | 'mostDropVolts'
>;

const choiceKeys = ['places', 'wire', 'fuseKind', 'plug', 'jumpersStay', 'mostDropVolts'] as const;

export const choicesOf = ({ power: { planning = {} } }: Project): PlanChoices =>
  Object.fromEntries(
    choiceKeys.flatMap((key) => (planning[key] === undefined ? [] : [[key, planning[key]]])),
  );

export interface FeedPlanTask {
  readonly project: Project;
}

export type PlannedFeeds = Extract<FeedPlan, { kind: 'planned' }>;

/** What the document's own power says of a plan once it is applied, all white. */
export interface PlanOutlook {
  readonly feedAmps: readonly number[];
  readonly coldLowestVolts: number;
  readonly hotLowestVolts: number;
  readonly hotCelsius: number;
}

export type FeedPlanAnswer =
  | { readonly plan: PlannedFeeds; readonly outlook: PlanOutlook }
  | { readonly plan: Extract<FeedPlan, { kind: 'impossible' }>; readonly outlook: undefined };

const changed = (project: Project, edit: Edit): Project => edited(startHistory(project), '', edit).project;

/** Sets what was chosen, and takes away what was not. */
const choicesEdit = (choices: PlanChoices): Edit =>
  setPlanning(Object.fromEntries(choiceKeys.map((key) => [key, choices[key]])) as PlanChoices);

const areSame = (one: PlanChoices, other: PlanChoices): boolean =>
  choiceKeys.every((key) => one[key] === other[key]);

export function feedPlanTask(project: Project, choices: PlanChoices): FeedPlanTask {
  // Pictures are large, and no feed depends on them.
  const { artwork: _, opacity: __, ...panel } = project.panel;
  return { project: { ...changed(project, choicesEdit(choices)), panel } };
}

export function feedsPlanned({ project }: FeedPlanTask): FeedPlanAnswer {
  const plan = planFeeds(project, layOut(project));
  if (plan.kind === 'impossible') return { plan, outlook: undefined };
  const after = changed(project, applyFeedPlan(plan));
  const { worst, hot, feedSizes } = assessPower(after, layOut(after));
  const { volts } = project.power.supply;
  return {
    plan,
    outlook: {
      feedAmps: feedSizes.map(({ loadAmps }) => loadAmps),
      coldLowestVolts: lowestLed(worst.ledVolts)?.volts ?? volts,
      hotLowestVolts: lowestLed(hot.worst.ledVolts)?.volts ?? volts,
      hotCelsius: hot.celsius,
    },
  };
}

/** The plan, and what was chosen for it, as one edit. */
export const feedPlanEdit = (project: Project, choices: PlanChoices, plan: PlannedFeeds): Edit =>
  areSame(choicesOf(project), choices)
    ? applyFeedPlan(plan)
    : inSequence([choicesEdit(choices), applyFeedPlan(plan)]);

export interface JumperChange {
  readonly line: number;
  readonly place: number;
  readonly from: string;
  readonly to: string;
}

/** The + jumpers that a plan cuts, and those that it joins again. */
export function jumperChanges(
  { dataLines }: Project,
  { jumpers }: PlannedFeeds,
): { readonly cuts: readonly JumperChange[]; readonly joins: readonly JumperChange[] } {
  const changes = jumpers.flatMap(({ line, place, power }) => {
    const { chain } = dataLines[line]!;
    if ((chain[place]!.jumper?.power ?? 'carried') === power) return [];
    return [{ line, place, power, from: chain[place - 1]!.run, to: chain[place]!.run }];
  });
  return {
    cuts: changes.filter(({ power }) => power === 'cut'),
    joins: changes.filter(({ power }) => power === 'carried'),
  };
}

const counted = (count: number): string => (count === 1 ? '1 feed' : `${count} feeds`);

/** "6 feeds, proved least", "14 feeds, the best found; at least 12 are needed". */
export function planVerdict({ feeds, least }: Pick<PlannedFeeds, 'feeds' | 'least'>): string {
  if (feeds.length <= least) return `${counted(feeds.length)}, proved least`;
  return `${counted(feeds.length)}, the best found; at least ${least} ${least === 1 ? 'is' : 'are'} needed`;
}
