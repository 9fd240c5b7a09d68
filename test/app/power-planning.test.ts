// "Place feeds for me" on the page: what is asked, what comes back, and what becomes of the document. Not here: whether plans are the least and keep
// their rules (test/power/plan-*.test.ts). Lists of feeds are compared with the plan's own, and the plan's figures with the document's own power.
import { describe, expect, test } from 'vitest';
import {
  choicesOf,
  type FeedPlanAnswer,
  feedPlanEdit,
  feedPlanTask,
  feedsPlanned,
  jumperChanges,
  planVerdict,
} from '../../src/app/stages/power/feed-plan-task.ts';
import { layOut } from '../../src/panel/index.ts';
import { assessPower, powerReport, powerSummary } from '../../src/power/index.ts';
import type { Project } from '../../src/project/index.ts';
import { holdsLaws, withValues } from '../support/edit-laws.ts';
import { sample } from '../support/lamploom.ts';

const carnival = sample('midnight-carnival');

function plannedOf(answer: FeedPlanAnswer) {
  if (!answer.outlook) throw new Error(answer.plan.reasons.map(({ message }) => message).join('\n'));
  return answer;
}

const powerOfJumpers = ({ dataLines }: Project): string[] =>
  dataLines.flatMap(({ chain }) => chain.slice(1).map(({ jumper }) => jumper?.power ?? 'carried'));

describe('planning feeds on the page', () => {
  test('a plan is one step; its figures are those that the document then has', () => {
    const task = feedPlanTask(carnival, choicesOf(carnival));
    const { plan, outlook } = plannedOf(feedsPlanned(structuredClone(task)));
    const after = holdsLaws(carnival, 'Place feeds', feedPlanEdit(carnival, choicesOf(carnival), plan));
    expect(after.power.feeds).toEqual(plan.feeds);
    expect({ ...after.power, feeds: [] }).toEqual({ ...carnival.power, feeds: [] });
    const layout = layOut(after);
    const report = powerReport(after, layout);
    expect(outlook.feedAmps).toEqual(report.feeds.map(({ amps }) => amps));
    expect(outlook.coldLowestVolts).toBe(report.worstCase.lowestVolts);
    const { hot } = powerSummary(after, layout);
    expect([outlook.hotLowestVolts, outlook.hotCelsius]).toEqual([hot.lowestVolts, hot.celsius]);
  });

  test('the jumpers that it tells of are those that change, and no others', () => {
    const { plan } = plannedOf(feedsPlanned(feedPlanTask(carnival, {})));
    const after = holdsLaws(carnival, 'Place feeds', feedPlanEdit(carnival, {}, plan));
    const [before, then] = [powerOfJumpers(carnival), powerOfJumpers(after)];
    const turned = (to: string) => before.flatMap((was, i) => (was !== to && then[i] === to ? [i + 1] : []));
    const { cuts, joins } = jumperChanges(carnival, plan);
    expect(cuts.map(({ place }) => place)).toEqual(turned('cut'));
    expect(joins.map(({ place }) => place)).toEqual(turned('carried'));
    expect(turned('cut').length + turned('carried').length).toBeGreaterThan(0);
    const { chain } = carnival.dataLines[0]!;
    for (const { place, from, to } of [...cuts, ...joins])
      expect([from, to]).toEqual([chain[place - 1]!.run, chain[place]!.run]);
  });

  test('what was chosen goes into the document with the plan, and what was not leaves it', () => {
    const before = withValues(carnival, {
      '/power/planning': { mostDropVolts: 0.4, forbidden: [{ run: 'ground', led: 0 }] },
    });
    const choices = { plug: 'vh-3.96', wire: '0.75 mm2', fuseKind: 'tube' } as const;
    const { plan } = plannedOf(feedsPlanned(feedPlanTask(before, choices)));
    const after = holdsLaws(before, 'Place feeds', feedPlanEdit(before, choices, plan));
    expect(after.power.planning).toEqual({ ...choices, forbidden: [{ run: 'ground', led: 0 }] });
    for (const { plug, fuseKind, wire, run, led } of after.power.feeds) {
      expect([plug, fuseKind]).toEqual(['vh-3.96', 'tube']);
      expect(wire).toMatch(/mm2$/);
      expect([run, led]).not.toEqual(['ground', 0]);
    }
    expect(choicesOf(after)).toEqual(choices);
  });

  test('a feed that is kept stays where it is, with its wire', () => {
    const kept = { ...carnival.power.feeds[4]!, isKept: true };
    const before = withValues(carnival, { '/power/feeds/4': kept });
    const { plan } = plannedOf(feedsPlanned(feedPlanTask(before, {})));
    expect(plan.feeds.filter(({ isKept }) => isKept)).toMatchObject([kept]);
  });

  test('an impossible plan tells why, and gives nothing to apply', () => {
    // Wire of 0.7 A (the table of wires) for runs of more.
    const { plan, outlook } = feedsPlanned(feedPlanTask(carnival, { wire: 'AWG 28', jumpersStay: true }));
    expect(outlook).toBeUndefined();
    if (plan.kind === 'planned') throw new Error('planned');
    for (const { message, mend } of plan.reasons) expect(message.length * mend.length).toBeGreaterThan(0);
    expect(plan.reasons.length).toBeGreaterThan(0);
  });

  test('pictures do not cross to the worker, and nothing of the power depends on them', () => {
    const { project } = feedPlanTask(carnival, choicesOf(carnival));
    expect(carnival.panel.artwork).toBeDefined();
    expect(project.panel.artwork).toBeUndefined();
    const worst = (of: Project) => assessPower(of, layOut(of)).worst;
    expect(worst(project)).toEqual(worst(carnival));
  });

  test('it is called proved least only where no plan of the whole has fewer', () => {
    const feed = { run: 'a', led: 0, wire: 'AWG 18', lengthMm: 100, fuseAmps: 2, fuseKind: 'blade' } as const;
    expect(planVerdict({ feeds: [feed], least: 1 })).toBe('1 feed, proved least');
    expect(planVerdict({ feeds: [feed, feed, feed, feed], least: 3 })).toBe(
      '4 feeds, the best found; at least 3 are needed',
    );
  });
});
