// What the view Volts shows beside the plan itself: which load case, and what if something were broken. Not part of the document: nothing of it is
// saved or undone. Faults whose place an edit has taken away are left out. Not here: how it is drawn.
import type { CompiledProject } from '../../board/index.ts';
import {
  assessPower,
  type Fault,
  type PowerAssessment,
  placeKey,
  type SolvedCase,
} from '../../power/index.ts';
import type { Project } from '../../project/index.ts';

export type LoadCaseId = 'white' | 'in-use' | 'hot';

export interface PowerView {
  readonly loadCase: LoadCaseId;
  readonly faults: readonly Fault[];
  /** Whether the curve of a panel with one feed at each line's beginning is drawn beside the plan's. */
  readonly comparesOneFeed: boolean;
  /** Index in the assessment's list of LEDs of the one under the pointer, on the panel or in the chart. */
  readonly led: number | undefined;
}

export const firstPowerView: PowerView = {
  loadCase: 'white',
  faults: [],
  comparesOneFeed: true,
  led: undefined,
};

/** Whether the place that a fault is at is still there. */
export function isThere({ power, dataLines, runs }: Project, { at }: Fault): boolean {
  switch (at.kind) {
    case 'feed':
      return at.feed < power.feeds.length;
    case 'jumper':
      return at.place > 0 && at.place < (dataLines[at.line]?.chain.length ?? 0);
    case 'segment':
      return (runs.find(({ id }) => id === at.run)?.ledCount ?? 0) > at.led + 1;
  }
}

/** With this fault instead of what was told of its place; without it where it was told already. */
export function toggledFault(faults: readonly Fault[], fault: Fault): readonly Fault[] {
  const others = faults.filter(({ at }) => placeKey(at) !== placeKey(fault.at));
  const was = faults.find(({ at }) => placeKey(at) === placeKey(fault.at));
  return was?.what === fault.what ? others : [...others, fault];
}

/** A feed that is missing altogether: both its wires. */
export const missingFeed = (feed: number): readonly Fault[] =>
  (['plus', 'ground'] as const).map((rail) => ({ at: { kind: 'feed', feed, rail }, what: 'cut' }));

const known = new WeakMap<
  PowerAssessment,
  { readonly faults: readonly Fault[]; readonly broken: PowerAssessment }
>();

/** The assessment with what is broken; the plan's own where nothing is. Remembers the last answer for each plan. */
export function brokenAssessment(
  plan: PowerAssessment,
  { project, layout }: CompiledProject,
  faults: readonly Fault[],
): PowerAssessment {
  const live = faults.filter((fault) => isThere(project, fault));
  if (live.length === 0) return plan;
  const before = known.get(plan);
  if (before?.faults === faults) return before.broken;
  const broken = assessPower(project, layout, live);
  known.set(plan, { faults, broken });
  return broken;
}

/** The case that is looked at. */
export const shownCase = (assessment: PowerAssessment, loadCase: LoadCaseId): SolvedCase =>
  ({ white: assessment.worst, 'in-use': assessment.inUse, hot: assessment.hot.worst })[loadCase];

/** What a builder without a plan does: one feed at the beginning of each data line, + carried through, by the wire of the first feed. */
export function withOneFeed(project: Project): Project {
  const [first] = project.power.feeds;
  const wire = first?.wire ?? 'AWG 18';
  const lengthMm = first?.lengthMm ?? 600;
  return {
    ...project,
    dataLines: project.dataLines.map((line) => ({
      ...line,
      chain: line.chain.map(({ jumper, ...link }) =>
        jumper ? { ...link, jumper: { ...jumper, power: 'carried' as const } } : link,
      ),
    })),
    power: {
      ...project.power,
      feeds: project.dataLines.map(({ chain }) => ({ run: chain[0]!.run, led: 0, wire, lengthMm })),
    },
  };
}
