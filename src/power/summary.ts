// The power of a panel on one page, for the export's report and the build sheet: every figure is the assessment's own, unrounded.
// Not here: findings, and the command line's report, whose shape others rely on (report.ts).
import type { Layout } from '../panel/index.ts';
import type { Project } from '../project/index.ts';
import { assessPower, type PowerAssessment, type SolvedCase } from './assessment.ts';
import { lowestLed } from './panel-solve.ts';
import { type LedPlace, type PowerReport, powerReport } from './report.ts';

interface Lowest {
  readonly lowestVolts: number;
  readonly at: LedPlace | null;
}

export interface PowerSummary extends Pick<PowerReport, 'supply' | 'worstCase' | 'limitAmps' | 'feeds'> {
  /** Unlimited white in a hot backbox, every feed's fuse in series. */
  readonly hot: Lowest & { readonly celsius: number };
  /** White as the player lets it happen. */
  readonly inUse: Lowest & { readonly amps: number };
  /** LEDs below their floor draw less than data sheets say: what they would settle at; null where none lies below. */
  readonly starved: (Lowest & { readonly amps: number }) | null;
  /** The first supply, then the others; amperes of their strips in full white. */
  readonly supplies: readonly {
    readonly id: string | null;
    readonly volts: number;
    readonly amps: number;
    readonly worstAmps: number;
  }[];
  readonly zones: readonly (Lowest & {
    readonly runs: readonly string[];
    readonly ledCount: number;
    readonly amps: number;
    /** Indices in the list of feeds. */
    readonly feeds: readonly number[];
  })[];
  /** What the board gets in full white; null where it doesn't hang on the first supply. */
  readonly controllerVolts: number | null;
}

export function powerSummary(
  project: Project,
  layout: Layout,
  assessment: PowerAssessment = assessPower(project, layout),
): PowerSummary {
  const { panel, worst, inUse, hot, starved, controller } = assessment;
  const { supply, worstCase, limitAmps, feeds } = powerReport(project, layout, undefined, assessment);
  const lowestOf = ({ ledVolts }: SolvedCase, from = 0, count = ledVolts.length): Lowest => {
    const lowest = lowestLed(ledVolts, from, count);
    const led = lowest && panel.leds[lowest.led]!;
    return {
      lowestVolts: lowest?.volts ?? supply.volts,
      at: led ? { run: led.run, led: led.led } : null,
    };
  };
  return {
    supply,
    worstCase,
    limitAmps,
    feeds,
    hot: { celsius: hot.celsius, ...lowestOf(hot.worst) },
    inUse: { amps: inUse.totalAmps, ...lowestOf(inUse) },
    starved: starved ? { amps: starved.totalAmps, ...lowestOf(starved) } : null,
    supplies: panel.supplies.map(({ id = null, volts, amps }, index) => ({
      id,
      volts,
      amps,
      worstAmps: worst.supplyAmps[index]!,
    })),
    zones: panel.zones.map(({ runs, firstLed, ledCount, feeds: zoneFeeds }) => ({
      runs: runs.map(({ run }) => run.id),
      ledCount,
      amps: worst.ledAmps.subarray(firstLed, firstLed + ledCount).reduce((sum, amps) => sum + amps, 0),
      feeds: zoneFeeds,
      ...lowestOf(worst, firstLed, ledCount),
    })),
    controllerVolts: controller?.volts ?? null,
  };
}
