// Panels for the tests of the fuse rule: by hand, and random ones small enough that every way of a current can be walked.
import fc from 'fast-check';
import { layOut } from '../../src/panel/index.ts';
import {
  assessPower,
  type ConductorCheck,
  type FeedSize,
  type FuseRule,
  fuseRule,
  type PanelNetwork,
} from '../../src/power/index.ts';
import type { Project } from '../../src/project/index.ts';
import { type BuiltPanel, buildPanel, type PanelPlan } from './build-project.ts';

export type Controller = Project['power']['controller'];
export type Sizes = readonly Pick<FeedSize, 'fuseAmps'>[];

const withController = (built: BuiltPanel, controller: Controller): BuiltPanel => {
  const project = { ...built.project, power: { ...built.project.power, ...(controller && { controller }) } };
  return { project, layout: layOut(project) };
};

/** A conductor's name as in fuse-circuits.ts. */
export function nameOf(
  panel: PanelNetwork,
  { conductor: { kind, polarity, index } }: ConductorCheck,
): string {
  const place = () => {
    if (kind === 'segment') {
      const [a, b] = [panel.leds[panel.segments[index]!.fromLed]!, panel.leds[panel.segments[index]!.toLed]!];
      return `${a.run}.${Math.min(a.led, b.led)}`;
    }
    if (kind === 'jumper') return `${panel.jumpers[index]!.line}.${panel.jumpers[index]!.place}`;
    return `${index}`;
  };
  return `${kind} ${polarity} ${place()}`;
}

export interface Checked {
  readonly built: BuiltPanel;
  readonly panel: PanelNetwork;
  readonly sizes: Sizes;
  readonly rule: FuseRule;
  /** "rating < fuses" by name. */
  readonly violations: Record<string, string>;
}

export function check(plan: PanelPlan, controller?: Controller, own?: Sizes): Checked {
  const built = withController(buildPanel(plan), controller);
  const { panel, feedSizes } = assessPower(built.project, built.layout);
  const sizes = own ?? feedSizes;
  const rule = fuseRule(built.project, built.layout, panel, sizes);
  const violations = Object.fromEntries(
    rule.violations.map((one) => [nameOf(panel, one), `${one.ratingAmps} < ${one.fusesAmps}`]),
  );
  return { built, panel, sizes, rule, violations };
}

export const feed = (
  run: string,
  led: number,
  fuseAmps: number,
  wire = 'AWG 10',
  more: Partial<Project['power']['feeds'][number]> = {},
) => ({ run, led, wire, lengthMm: 500, fuseAmps, ...more });
/** Thick enough for everything here. */
export const thickBoard: Controller = { wire: 'AWG 10' };

const nat = fc.nat({ max: 10_000 });
const wire = fc.constantFrom('AWG 18', 'AWG 20', 'AWG 22', 'AWG 24', '0.75 mm2');
const runPlan = fc.record({
  leds: fc.integer({ min: 1, max: 4 }),
  jumper: fc.record({ power: fc.constantFrom('carried', 'carried', 'cut'), wire }),
});
interface RandomPlan {
  readonly plan: PanelPlan;
  readonly controller: Controller;
}
/** Small, so that every way can be walked; feeds of any supply at any LED, two at one too. */
export const randomPlan: fc.Arbitrary<RandomPlan> = fc
  .record({
    lines: fc.array(fc.array(runPlan, { minLength: 1, maxLength: 3 }), { minLength: 1, maxLength: 3 }),
    unchained: fc.array(runPlan, { maxLength: 2 }),
    feeds: fc.array(
      fc.record({
        run: nat,
        led: nat,
        wire,
        supply: nat,
        fuseAmps: fc.constantFrom(undefined, 1, 2, 2.5, 3, 4, 5, 7.5, 10),
        plug: fc.constantFrom(undefined, undefined, 'sm-2.5', 'barrel-2.1'),
      }),
      { maxLength: 6 },
    ),
    bonds: fc.array(fc.option(wire), { maxLength: 2 }),
    boardWidthMm: fc.constantFrom(10, 12),
    milliamps: fc.constantFrom(12, 100),
    controller: fc.constantFrom(undefined, { from: 'usb' } as const, { wire: 'AWG 18' }, { wire: 'AWG 26' }),
  })
  .map(({ lines, unchained, feeds, bonds, boardWidthMm, milliamps, controller }) => {
    const runs = [...lines.flat(), ...unchained];
    return {
      controller,
      plan: {
        reel: { boardWidthMm, channelMilliamps: milliamps },
        lines,
        unchained,
        moreSupplies: bonds.map((wire, i) => ({
          id: `more-${i}`,
          volts: 5,
          amps: 20,
          ...(wire && { ground: { wire, lengthMm: 300 } }),
        })),
        feeds: feeds.map(({ run, led, wire, supply, fuseAmps, plug }) => {
          const from = supply % (bonds.length + 1);
          return {
            run: `r${run % runs.length}`,
            led: led % runs[run % runs.length]!.leds,
            wire,
            lengthMm: 500,
            ...(fuseAmps !== undefined && { fuseAmps }),
            ...(plug && { plug }),
            ...(from > 0 && { supply: `more-${from - 1}` }),
          };
        }),
      },
    };
  });

export const sumOf = (sizes: Sizes, feeds: readonly number[]): number =>
  Math.round(feeds.reduce((sum, one) => sum + (sizes[one]!.fuseAmps ?? 0), 0) * 1e6) / 1e6;
