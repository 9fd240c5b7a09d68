// Plans done to whole documents, and the judge of them: the power model, its findings and the fuse rule, which share no code with planning.
import { layOut } from '../../src/panel/index.ts';
import { assessPower, type FeedPlan, fuseRule, planFeeds, powerFindings } from '../../src/power/index.ts';
import { applyFeedPlan, type Project } from '../../src/project/index.ts';

export type PlannedFeeds = Extract<FeedPlan, { kind: 'planned' }>;

export function done(project: Project, plan: Pick<PlannedFeeds, 'feeds' | 'jumpers'>): Project {
  const changed = structuredClone(project);
  applyFeedPlan(plan)(changed);
  return changed;
}

export function planned(project: Project): PlannedFeeds {
  const plan = planFeeds(project, layOut(project));
  if (plan.kind !== 'planned') throw new Error(plan.reasons.map(({ message }) => message).join('\n'));
  return plan;
}

export const reasonsOf = (project: Project) => {
  const plan = planFeeds(project, layOut(project));
  return plan.kind === 'impossible' ? plan.reasons : [];
};

const forbiddenCodes =
  /^(zone-unfed|voltage-too-low|voltage-negative|supply-voltage|supplies-joined|fuse-.*|wire-overload|plug-.*|jumper-overload|rail-overload|injection-overload)$/;

/** What a panel as it stands in the document breaks of what plans must keep; nothing where it is sound. */
export function faultsOf(project: Project): string[] {
  const layout = layOut(project);
  const assessment = assessPower(project, layout);
  const { panel, worst, hot, feedSizes } = assessment;
  const faults = powerFindings(project, layout, assessment)
    .filter(({ code }) => forbiddenCodes.test(code))
    .map(({ code, message }) => `${code}: ${message}`);
  const { violations } = fuseRule(project, layout, panel, feedSizes);
  faults.push(
    ...violations.map(({ conductor: { kind, polarity, index } }) => `${kind} ${polarity} ${index}`),
  );
  const drop = project.power.planning?.mostDropVolts ?? Number.POSITIVE_INFINITY;
  for (const [led, { strip, zone, run }] of panel.leds.entries()) {
    const [feed] = panel.zones[zone]!.feeds;
    if (feed === undefined) continue;
    const least = Math.max(strip.floorVolts, panel.supplies[panel.feeds[feed]!.supply]!.volts - drop);
    const volts = Math.min(worst.ledVolts[led]!, hot.worst.ledVolts[led]!);
    if (volts < least) faults.push(`LED ${led} of run "${run}" has ${volts} V`);
  }
  return faults;
}

/** The lowest LED, cold or hot. */
export function lowestVolts(project: Project): number {
  const { worst, hot } = assessPower(project, layOut(project));
  return Math.min(...worst.ledVolts, ...hot.worst.ledVolts);
}
