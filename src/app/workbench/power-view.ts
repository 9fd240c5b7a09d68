// What the view Volts shows beside the plan itself: which load case, and what if something were broken. Not part of the document: nothing of it is
// saved or undone. Faults whose place an edit has taken away are left out. Not here: how it is drawn.
import type { CompiledProject } from '../../board/index.ts';
import {
  assessPower,
  type Fault,
  offVolts,
  type PowerAssessment,
  placeKey,
  type SolvedCase,
  solveStarved,
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

/** The LED that gets the least of those that have power, and how many have none: these lie at 0 V, which says nothing of the others. */
export interface LeastVolts {
  /** Undefined where no LED has power. `led` is an index in the assessment's list. */
  readonly lowest: { readonly led: number; readonly volts: number } | undefined;
  readonly withoutPower: number;
}

export function leastVolts(
  { panel: { isPowered } }: Pick<PowerAssessment, 'panel'>,
  { ledVolts }: Pick<SolvedCase, 'ledVolts'>,
  from = 0,
  count = ledVolts.length,
): LeastVolts {
  let lowest: LeastVolts['lowest'];
  let withoutPower = 0;
  for (let led = from; led < from + count; led++)
    if (isPowered[led] === 0) withoutPower++;
    else if (lowest === undefined || ledVolts[led]! < lowest.volts) lowest = { led, volts: ledVolts[led]! };
  return { lowest, withoutPower };
}

export const withoutPowerInWords = (count: number): string =>
  `${count} ${count === 1 ? 'LED' : 'LEDs'} without power`;

/** "4.805 V, 36.6 mA"; what nothing powers has neither. */
export const ledInWords = (
  { panel: { isPowered } }: Pick<PowerAssessment, 'panel'>,
  { ledVolts, ledAmps }: Pick<SolvedCase, 'ledVolts' | 'ledAmps'>,
  led: number,
): string =>
  isPowered[led] === 0
    ? 'without power'
    : `${ledVolts[led]!.toFixed(3)} V, ${(1000 * ledAmps[led]!).toFixed(1)} mA`;

/**
 * What a stretch of LEDs draws, amperes. What the plan doesn't feed yet counts with what it would draw, so that a supply can be chosen first; what
 * something broken cuts off draws nothing.
 */
export const drawnAmps = (
  { panel: { isPowered } }: Pick<PowerAssessment, 'panel'>,
  { ledAmps }: Pick<SolvedCase, 'ledAmps'>,
  isBroken: boolean,
  from: number,
  count: number,
): number =>
  ledAmps
    .subarray(from, from + count)
    .reduce((sum, amps, i) => (isBroken && isPowered[from + i] === 0 ? sum : sum + amps), 0);

/** "All white, 50 °C", "With this broken, all white": what figures beside the chart are of. */
export function caseTitle(
  loadCase: LoadCaseId,
  { limitAmps, hotCelsius }: { readonly limitAmps: number | undefined; readonly hotCelsius: number },
  isBroken: boolean,
): string {
  const words = {
    white: 'all white',
    'in-use': limitAmps === undefined ? 'in use' : `held to ${limitAmps} A`,
    hot: `all white, ${hotCelsius} °C`,
  }[loadCase];
  return isBroken ? `With this broken, ${words}` : `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}

export interface OneFeedOutcome {
  readonly ledVolts: Float64Array;
  /** LEDs of chains below their floor with constant currents. */
  readonly belowFloor: number;
  /** Those of them that, starving, would get too little to light at all; undefined for copper that is hot, which isn't solved so. */
  readonly dark: number | undefined;
}

/** How a panel of one feed a line fares in the case that is looked at. */
export function oneFeedOutcome(other: PowerAssessment, loadCase: LoadCaseId): OneFeedOutcome {
  const { panel } = other;
  const { ledVolts, ledAmps } = shownCase(other, loadCase);
  const low = panel.leds.flatMap(({ strip }, led) =>
    led < panel.chainLedCount && ledVolts[led]! < strip.floorVolts ? [led] : [],
  );
  const starved =
    loadCase === 'hot' || low.length === 0
      ? undefined
      : loadCase === 'white'
        ? other.starved
        : solveStarved(panel, ledAmps);
  return {
    ledVolts,
    belowFloor: low.length,
    dark: starved && low.filter((led) => starved.ledVolts[led]! <= offVolts(panel.leds[led]!.strip)).length,
  };
}

/** "One feed a line: 96 LEDs under the floor, 12 dark". */
export const oneFeedInWords = ({ belowFloor, dark = 0 }: OneFeedOutcome): string => {
  const under = belowFloor === 0 ? 'no LED' : belowFloor === 1 ? '1 LED' : `${belowFloor} LEDs`;
  return `One feed a line: ${under} under the floor${dark > 0 ? `, ${dark} dark` : ''}`;
};

/** The wire of a panel without a plan, whatever this panel's feeds are: so that the comparison stays the same while they change. */
const oneFeedWire = { wire: 'AWG 18', lengthMm: 600 } as const;

/** What a builder without a plan does: one feed at the beginning of each data line, + carried through. */
export function withOneFeed(project: Project): Project {
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
      feeds: project.dataLines.map(({ chain }) => ({ run: chain[0]!.run, led: 0, ...oneFeedWire })),
    },
  };
}
