// What is worth telling about a panel's power: LEDs without a feed, too few volts, fuses that don't protect, a supply too small.
// Not here: the figures themselves (sizing.ts, load-cases.ts). An error means the panel would not work or could burn.
// Each rule's two sides are tried in test/power/findings.test.ts.
import { type Layout, runTitle } from '../panel/index.ts';
import { type Finding, type Project, pointer } from '../project/index.ts';
import { assessPower, type PowerAssessment, type SolvedCase } from './assessment.ts';
import { dataLineFindings } from './data-line-findings.ts';
import { entries, feeds, jumpers, rails } from './findings-feeds.ts';
import { bonds, controller, supplies, suppliesJoined, supplyVolts } from './findings-supplies.ts';
import { amps, finding, type Rule, runNames, volts } from './findings-words.ts';
import { fuseRuleFindings } from './fuse-findings.ts';
import { lowestVoltsWithin } from './limited-pattern.ts';
import { lowestLed } from './panel-solve.ts';
import { settled } from './sizing.ts';
import type { Zone } from './zones.ts';

/** A run that no chain passes is told of as such (run-unchained), fed or not. */
const zonesUnfed: Rule = (_, { panel }) =>
  panel.zones
    .filter((zone) => zone.chained && zone.feeds.length === 0)
    .map((zone) =>
      finding(
        'error',
        'zone-unfed',
        pointer('runs', zone.runs[0]!.runIndex),
        `${runNames(zone)} no feed, so ${zone.ledCount === 1 ? 'its LED stays' : `${zone.ledCount} LEDs stay`} dark.`,
        'Add a feed there, or let the jumper from the run before carry the supply.',
      ),
    );

/** The LED of a zone that misses its strip's floor by the most, and how many miss it. */
function belowFloor({ panel }: PowerAssessment, zone: Zone, { ledVolts }: SolvedCase) {
  let worst: { led: number; missing: number } | undefined;
  let count = 0;
  for (let led = zone.firstLed; led < zone.firstLed + zone.ledCount; led++) {
    const missing = panel.leds[led]!.strip.floorVolts - ledVolts[led]!;
    if (missing <= 0) continue;
    count++;
    if (worst === undefined || missing > worst.missing) worst = { led, missing };
  }
  return worst && { led: worst.led, count };
}

const voltageMend =
  'Add a feed near it, cut the + jumpers between feeds less far apart, or feed by thicker wire.';

const voltages: Rule = (project, assessment) => {
  const { panel, worst, inUse, starved } = assessment;
  const { limitAmps } = project.power;
  return panel.zones.flatMap((zone): Finding[] => {
    const missed = zone.feeds.length > 0 && belowFloor(assessment, zone, worst);
    if (!missed) return [];
    const runAt = (index: number) =>
      pointer('runs', zone.runs.find((placed) => placed.run.id === panel.leds[index]!.run)!.runIndex);
    const place = (index: number) => {
      const { run, led } = panel.leds[index]!;
      const known = zone.runs.find((placed) => placed.run.id === run);
      return `LED ${led} of run "${known ? runTitle(known.run) : run}"`;
    };
    // The limit holds the sum, not the place.
    const withinLimit = (led: number): string => {
      const least = limitAmps === undefined ? undefined : lowestVoltsWithin(panel, led, limitAmps);
      return least !== undefined && settled(least) < panel.leds[led]!.strip.floorVolts
        ? ` Held to ${amps(limitAmps!)} too, a picture that is bright just there leaves it ${volts(least)}.`
        : ' The limit keeps it from that.';
    };
    const tooLow = (
      severity: 'error' | 'warning',
      led: number,
      count: number,
      at: SolvedCase,
      how: string,
      more = '',
    ) =>
      finding(
        severity,
        'voltage-too-low',
        runAt(led),
        `${volts(at.ledVolts[led]!)} are left at ${place(led)} in ${how}; its strip needs ${volts(panel.leds[led]!.strip.floorVolts)}. ` +
          `${count} of the zone's ${zone.ledCount} LEDs are short of it.${more}${settling(at, led)}`,
        voltageMend,
      );
    const missedInUse = belowFloor(assessment, zone, inUse);
    // Real LEDs draw less when they starve; the floor is missed all the same.
    const settling = (at: SolvedCase, led: number): string =>
      at === worst && starved
        ? ` With LEDs that starve it would settle near ${volts(starved.ledVolts[led]!)}.`
        : '';
    const findings = missedInUse
      ? [
          tooLow(
            'error',
            missedInUse.led,
            missedInUse.count,
            inUse,
            limitAmps === undefined ? 'full white' : `white held to ${amps(limitAmps)}`,
          ),
        ]
      : [
          tooLow(
            'warning',
            missed.led,
            missed.count,
            worst,
            'white without the limit',
            withinLimit(missed.led),
          ),
        ];
    const lowest = lowestLed(worst.ledVolts, zone.firstLed, zone.ledCount)!;
    if (lowest.volts < 0)
      findings.push(
        finding(
          missedInUse ? 'error' : 'warning',
          'voltage-negative',
          runAt(lowest.led),
          `In full white ${place(lowest.led)} would get ${volts(lowest.volts)}, which can't be: the rails can't carry ` +
            'that much, so LEDs dim, turn red and lose their data.',
          voltageMend,
        ),
      );
    return findings;
  });
};

/** What holds its volts when cold can miss them after hours of play. */
const hotVoltages: Rule = (_, assessment) => {
  const { panel, worst, hot } = assessment;
  return panel.zones.flatMap((zone): Finding[] => {
    if (zone.feeds.length === 0 || belowFloor(assessment, zone, worst)) return [];
    const missed = belowFloor(assessment, zone, hot.worst);
    if (!missed) return [];
    const { run, led, strip } = panel.leds[missed.led]!;
    const known = zone.runs.find((placed) => placed.run.id === run)!;
    return [
      finding(
        'warning',
        'voltage-low-when-hot',
        pointer('runs', known.runIndex),
        `At ${hot.celsius} °C, fuses included, ${volts(hot.worst.ledVolts[missed.led]!)} are left at LED ${led} of run "${runTitle(known.run)}" in full white; ` +
          `its strip needs ${volts(strip.floorVolts)}. Cold it holds it by little.`,
        voltageMend,
      ),
    ];
  });
};

const rules: readonly Rule[] = [
  zonesUnfed,
  supplyVolts,
  suppliesJoined,
  voltages,
  hotVoltages,
  feeds,
  jumpers,
  rails,
  entries,
  supplies,
  bonds,
  controller,
];

/** Findings about feeds, volts, fuses, wires and the supply. */
export const powerFindings = (
  project: Project,
  layout: Layout,
  assessment: PowerAssessment = assessPower(project, layout),
): Finding[] => [
  ...rules.flatMap((rule) => rule(project, assessment)),
  ...fuseRuleFindings(project, assessment.panel, assessment.feedSizes, assessment.fuseRule),
  ...dataLineFindings(project, layout, { panel: assessment.panel, volts: assessment.inUse }),
];
