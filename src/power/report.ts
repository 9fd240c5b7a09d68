// The power report: the figures of the command line's `power`, in the shape that its users rely on.
// Not here: findings. Volts and amperes are as computed, unrounded; screens and sheets round them.
import type { Layout } from '../panel/index.ts';
import type { Project } from '../project/index.ts';
import { assessPower, type PowerAssessment } from './assessment.ts';
import { showLoad } from './load-cases.ts';
import { lowestLed } from './panel-solve.ts';

export interface LedPlace {
  readonly run: string;
  readonly led: number;
}

export interface PowerReport {
  /** The document's supply. */
  readonly supply: { readonly volts: number; readonly amps: number; readonly watts: number };
  /** Unlimited white, constant current, copper at 20 C. `at` is null only where there is no LED. */
  readonly worstCase: {
    readonly amps: number;
    readonly lowestVolts: number;
    readonly at: LedPlace | null;
  };
  readonly show: {
    readonly lampshow: string;
    readonly peakAmps: number;
    readonly averageAmps: number;
    readonly lowestVolts: number;
  } | null;
  readonly limitAmps: number | null;
  readonly feeds: readonly (LedPlace & {
    /** Worst case, in the + wire. */
    readonly amps: number;
    readonly wire: string;
    /** One way. */
    readonly lengthMm: number;
    /** Null where no blade fuse is large enough. */
    readonly fuseAmps: number | null;
  })[];
  /** In the order of the wire, then runs outside every chain; 0 V where no feed reaches. */
  readonly leds: readonly (LedPlace & { readonly volts: number })[];
}

export interface ShowFrames {
  readonly lampshow: string;
  /** Each frame's bytes as they go out on the wire, all lines together. */
  readonly frames: Iterable<Uint8Array>;
}

function showPart({ panel }: PowerAssessment, show: ShowFrames | undefined): PowerReport['show'] {
  const load = show && showLoad(panel, show.frames);
  if (!load) return null;
  const { peakAmps, averageAmps, lowestVolts } = load;
  return { lampshow: show.lampshow, peakAmps, averageAmps, lowestVolts };
}

export function powerReport(
  project: Project,
  layout: Layout,
  show?: ShowFrames,
  assessment: PowerAssessment = assessPower(project, layout),
): PowerReport {
  const { volts, amps } = project.power.supply;
  const { panel, worst } = assessment;
  const place = (index: number): LedPlace => ({ run: panel.leds[index]!.run, led: panel.leds[index]!.led });
  const lowest = lowestLed(worst.ledVolts);
  return {
    supply: { volts, amps, watts: volts * amps },
    worstCase: {
      amps: worst.totalAmps,
      lowestVolts: lowest?.volts ?? volts,
      at: lowest ? place(lowest.led) : null,
    },
    show: showPart(assessment, show),
    limitAmps: project.power.limitAmps ?? null,
    feeds: assessment.feedSizes.map(({ conductors: { feed, wire }, loadAmps, fuseAmps }) => ({
      run: feed.run,
      led: feed.led,
      amps: loadAmps,
      wire: wire.id,
      lengthMm: feed.lengthMm,
      fuseAmps: fuseAmps ?? null,
    })),
    leds: panel.leds.map((_, index) => ({ ...place(index), volts: worst.ledVolts[index]! })),
  };
}
