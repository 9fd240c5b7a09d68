// What is worth telling about a panel's power: LEDs without a feed, too few volts, fuses that don't protect, a supply too small.
// Not here: the figures themselves (sizing.ts, load-cases.ts). An error means the panel would not work or could burn.
// Each rule's two sides are tried in test/power/findings.test.ts.
import { fuseLoadShare, supplyAmps, supplyLoadShare } from '../catalogue/index.ts';
import { type Layout, runTitle } from '../panel/index.ts';
import { type Finding, type Project, pointer, type StripData } from '../project/index.ts';
import { assessPower, type PowerAssessment, type SolvedCase } from './assessment.ts';
import { darkAmps, wireAmps } from './load-cases.ts';
import { lowestLed } from './panel-solve.ts';
import { type FeedSize, injectionPoints, settled, supplyNeedAmps, wireFor } from './sizing.ts';
import type { Zone } from './zones.ts';

/** How far a supply may be trimmed from a strip's nominal volts (open-frame supplies trim about +-10 %: from memory). */
const supplyTolerance = 0.1;
/** Absolute maximum of the WS2812B data sheet, version 1; taken for every strip of 5 V, as the lowest that any of their sheets gives. */
const fiveVoltMaximum = 5.3;

type Texts = Pick<Finding, 'message' | 'mend'>;
type Rule = (project: Project, assessment: PowerAssessment) => readonly Finding[];

const finding = (
  severity: Finding['severity'],
  code: string,
  at: string,
  message: string,
  mend: string,
): Finding => ({ severity, code, at, message, mend });

/** At most one decimal more than people buy by: "12", "7.5", "0.62". */
const amps = (value: number): string => `${Number(value.toFixed(2))} A`;
/** Rounded down, so that a value under a limit never reads like the limit. */
const volts = (value: number): string => `${(Math.floor(settled(value * 100)) / 100).toFixed(2)} V`;
const runNames = (zone: Zone): string => {
  const names = zone.runs.slice(0, 3).map((placed) => `"${runTitle(placed.run)}"`);
  const more = zone.runs.length - names.length;
  const [last = ''] = more > 0 ? [`${more} more`] : names.splice(-1);
  return names.length === 0 ? `Run ${last} has` : `Runs ${names.join(', ')} and ${last} have`;
};
const feedName = ({ conductors: { feed } }: FeedSize): string =>
  `The feed at LED ${feed.led} of run "${feed.run}"`;

/** A run that no chain passes is told of as such (run-unchained), fed or not. */
const zonesUnfed: Rule = (_, { panel }) =>
  panel.zones
    .filter((zone) => zone.chained && zone.feeds.length === 0)
    .map((zone) =>
      finding(
        'error',
        'zone-unfed',
        pointer('runs', zone.runs[0]!.runIndex),
        `${runNames(zone)} no feed, so ${zone.ledCount} LEDs stay dark.`,
        'Add a feed there, or let the jumper from the run before carry the supply.',
      ),
    );

function supplyVoltsWrong(strip: StripData, supplyVolts: number): Texts | undefined {
  if (strip.supplyVolts === 5 && supplyVolts > fiveVoltMaximum)
    return {
      message: `The supply gives ${volts(supplyVolts)}; the chips of strip "${strip.id}" stand ${volts(fiveVoltMaximum)} at most.`,
      mend: 'Trim the supply to between 5.0 and 5.2 V before you connect the strip.',
    };
  if (Math.abs(supplyVolts - strip.supplyVolts) <= supplyTolerance * strip.supplyVolts) return undefined;
  return {
    message: `The supply gives ${volts(supplyVolts)}, but strip "${strip.id}" is made for ${strip.supplyVolts} V.`,
    mend: `Take a supply of ${strip.supplyVolts} V, or another strip.`,
  };
}

const supplyVolts: Rule = (project, { panel }) => {
  const strips = new Map(panel.leds.map(({ strip }) => [strip.id, strip]));
  return [...strips.values()].flatMap((strip) => {
    const wrong = supplyVoltsWrong(strip, project.power.supply.volts);
    return wrong
      ? [finding('error', 'supply-voltage', '/power/supply/volts', wrong.message, wrong.mend)]
      : [];
  });
};

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
  const { panel, worst, inUse } = assessment;
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
    const tooLow = (severity: 'error' | 'warning', led: number, count: number, at: SolvedCase, how: string) =>
      finding(
        severity,
        'voltage-too-low',
        runAt(led),
        `${volts(at.ledVolts[led]!)} are left at ${place(led)} in ${how}; its strip needs ${volts(panel.leds[led]!.strip.floorVolts)}. ` +
          `${count} of the zone's ${zone.ledCount} LEDs are short of it.`,
        voltageMend,
      );
    const missedInUse = belowFloor(assessment, zone, inUse);
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
      : [tooLow('warning', missed.led, missed.count, worst, 'white without the limit')];
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

/** Fuse and wire of one feed. */
function feedFindings(size: FeedSize): Finding[] {
  const { loadAmps, groundAmps, fuseAmps, conductors } = size;
  const { wire, at } = conductors;
  const wireText = `its wire, ${wire.id}, should carry ${amps(wire.designAmps)} at most`;
  const thicker = (needed: number) => {
    const better = wireFor(needed, wire);
    return better ? `Use ${better.id} or thicker` : 'Use two feeds, each with a fuse and a pair of wires';
  };
  const findings: Finding[] = [];
  if (fuseAmps === undefined)
    findings.push(
      finding(
        'error',
        'fuse-missing',
        at,
        `${feedName(size)} carries ${amps(loadAmps)}; no blade fuse is made for that much.`,
        'Split the load over more feeds, each with its own fuse.',
      ),
    );
  else if (loadAmps > fuseAmps)
    findings.push(
      finding(
        'error',
        'fuse-too-small',
        `${at}/fuseAmps`,
        `${feedName(size)} carries ${amps(loadAmps)} in full white, more than its fuse of ${amps(fuseAmps)}.`,
        'Add feeds, or take a larger fuse if the wire allows it.',
      ),
    );
  else if (loadAmps > settled(fuseAmps * fuseLoadShare))
    findings.push(
      finding(
        'warning',
        'fuse-tight',
        `${at}/fuseAmps`,
        `${feedName(size)} carries ${amps(loadAmps)} in full white, over 80 % of its fuse of ${amps(fuseAmps)}.`,
        'A fuse this close ages and opens early: take the next size if the wire allows it, or add a feed.',
      ),
    );
  if (fuseAmps !== undefined && fuseAmps > wire.designAmps)
    findings.push(
      finding(
        'error',
        'fuse-above-wire',
        `${at}/wire`,
        `${feedName(size)} has a fuse of ${amps(fuseAmps)}, but ${wireText}: in a short the wire could burn before the fuse opens.`,
        `${thicker(fuseAmps)}, or a smaller fuse and less load.`,
      ),
    );
  else if (Math.max(loadAmps, groundAmps) > wire.designAmps)
    findings.push(
      finding(
        'warning',
        'wire-overload',
        `${at}/wire`,
        `${feedName(size)} carries ${amps(loadAmps)} on + and ${amps(groundAmps)} on ground in full white; ${wireText}.`,
        `${thicker(Math.max(loadAmps, groundAmps))}, or add a feed.`,
      ),
    );
  return findings;
}

const feeds: Rule = (_, { feedSizes }) => feedSizes.flatMap(feedFindings);

const jumpers: Rule = (_, { panel, worst }) =>
  panel.jumpers.flatMap(({ jumper, wire, at, plus, ground }) => {
    const along = (link: number | undefined) => (link === undefined ? 0 : Math.abs(worst.linkAmps[link]!));
    const most = settled(Math.max(along(plus), along(ground)));
    if (most <= wire.designAmps) return [];
    const better = wireFor(most, wire);
    return [
      finding(
        'warning',
        'jumper-overload',
        at,
        `The jumper from run "${runTitle(jumper.from.run)}" to "${runTitle(jumper.to.run)}" carries ${amps(most)} in full white; ` +
          `${wire.id} should carry ${amps(wire.designAmps)} at most.`,
        `Add a feed behind it${better ? `, or use ${better.id} or thicker` : ''}.`,
      ),
    ];
  });

const entries: Rule = (_, { panel, feedSizes }) =>
  injectionPoints(panel, feedSizes)
    .filter((point) => point.amps > point.limitAmps)
    .map(({ feeds: [first], amps: load, limitAmps }) =>
      finding(
        'warning',
        'injection-overload',
        first!.conductors.at,
        `${feedName(first!)} puts ${amps(load)} into the strip in full white; ${amps(limitAmps)} is what its pads and rails should carry there.`,
        'Add another injection point, or move this one inside the run, where the current leaves both ways.',
      ),
    );

/** Half way between the two output voltages of the catalogue. */
const betweenSuppliesVolts = 8.5;

/** The size to ask for in a shop. */
function supplyToBuy(supply: Project['power']['supply'], neededAmps: number): string {
  const usual = supplyAmps[supply.volts < betweenSuppliesVolts ? '5' : '12']?.find(
    (size) => size >= neededAmps,
  );
  return `Take a supply of at least ${amps(Math.ceil(neededAmps * 10) / 10)}${usual ? `, such as the usual ${amps(usual)}` : ''}`;
}

const supply: Rule = ({ power }, { panel, worst }) => {
  const findings: Finding[] = [];
  const { limitAmps } = power;
  if (limitAmps !== undefined && limitAmps > power.supply.amps)
    findings.push(
      finding(
        'error',
        'limit-above-supply',
        '/power/limitAmps',
        `The limit of ${amps(limitAmps)} lets the LEDs draw more than the supply's ${amps(power.supply.amps)}.`,
        `Lower the limit to ${amps(Math.floor(power.supply.amps * supplyLoadShare * 10) / 10)}, or take a larger supply.`,
      ),
    );
  const needed = supplyNeedAmps({ power }, worst.totalAmps);
  if (power.supply.amps < needed)
    findings.push(
      finding(
        'warning',
        'supply-small',
        '/power/supply/amps',
        `${limitAmps !== undefined && limitAmps < worst.totalAmps ? 'White at the limit' : 'Full white'} draws ` +
          `${amps(needed * supplyLoadShare)}; a supply of ${amps(power.supply.amps)} should give ${amps(power.supply.amps * supplyLoadShare)} at most (80 %).`,
        `${supplyToBuy(power.supply, needed)}, or set a lower current limit. Have mains work done by someone qualified.`,
      ),
    );
  const quiescent = settled(wireAmps(panel, darkAmps(panel)));
  if (limitAmps !== undefined && limitAmps < quiescent)
    findings.push(
      finding(
        'error',
        'limit-unreachable',
        '/power/limitAmps',
        `The LEDs draw ${amps(quiescent)} when dark, more than the limit of ${amps(limitAmps)}, so nothing could be lit.`,
        'Raise the limit.',
      ),
    );
  return findings;
};

const rules: readonly Rule[] = [zonesUnfed, supplyVolts, voltages, feeds, jumpers, entries, supply];

/** Findings about feeds, volts, fuses, wires and the supply. */
export const powerFindings = (
  project: Project,
  layout: Layout,
  assessment: PowerAssessment = assessPower(project, layout),
): Finding[] => rules.flatMap((rule) => rule(project, assessment));
