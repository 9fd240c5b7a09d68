// The build sheet's part about power: supplies, zones, feeds, cut jumpers, fuses, findings and cautions. Every figure is the assessment's own, rounded by
// src/power/rounding.ts. Not here: data lines (build-sheet-data.ts), names and wires in words (build-sheet-words.ts).
import type { Layout } from '../panel/index.ts';
import {
  ampsFigure,
  eveningEnergy,
  feedLossVolts,
  fuseRuleFindings,
  lostVoltsFigure,
  type PowerAssessment,
  type PowerSummary,
  powerCautions,
  powerFindings,
  powerSummary,
  type SupplyVerdict,
  splitCaution,
  supplyLoads,
  voltsFigure,
  wattsFigure,
} from '../power/index.ts';
import type { Finding, Project } from '../project/index.ts';
import type { SheetPart, SheetSection } from './build-sheet.ts';
import { dataLineSection } from './build-sheet-data.ts';
import { counted, fuseWords, type RunWords, runWords, supplyName, wireWords } from './build-sheet-words.ts';
import { wireCutMm } from './wire-list.ts';

interface Sources {
  readonly project: Project;
  readonly layout: Layout;
  readonly assessment: PowerAssessment;
  readonly summary: PowerSummary;
  readonly words: RunWords;
}

type Facts = (readonly [what: string, value: string])[];

const lowest = (
  words: RunWords,
  { lowestVolts, at }: Pick<PowerSummary['worstCase'], 'lowestVolts' | 'at'>,
) => `lowest ${voltsFigure(lowestVolts)} V at ${words.place(at)}`;

function boardVolts({ project: { power }, summary: { controllerVolts } }: Sources): string {
  if (controllerVolts !== null) return `${voltsFigure(controllerVolts)} V from ${supplyName(0)}, all white`;
  return power.controller?.from === 'usb' ? 'from USB' : 'from a regulator of its own';
}

/** White as bright as the player lets it be, all evening: no show takes more. */
function heat({ project, assessment: { inUse, panel } }: Sources): Facts {
  const ledWatts = panel.supplies.reduce(
    (sum, { volts }, index) => sum + volts * inUse.supplyAmps[index]!,
    0,
  );
  const [inside, outside] = [true, false].map((isInside) => eveningEnergy(project, ledWatts, isInside));
  return [
    [
      'Heat in the box at most',
      `${wattsFigure(inside!.heatWatts)} W with the supplies inside, ${wattsFigure(outside!.heatWatts)} W without`,
    ],
    [
      'From the mains at most',
      `${wattsFigure(inside!.mainsWatts)} W, ${inside!.kilowattHours.toFixed(3)} kWh in an evening of ${Number(inside!.hours.toFixed(2))} h`,
    ],
  ];
}

function figures(sources: Sources): Facts {
  const { summary, words } = sources;
  const { worstCase, inUse, limitAmps, hot, starved } = summary;
  return [
    ['All white, no limit', `${ampsFigure(worstCase.amps)} A, ${lowest(words, worstCase)}`],
    [
      'Limit in the player',
      limitAmps === null ? 'none' : `${ampsFigure(limitAmps)} A for the strips; it protects nothing`,
    ],
    ['White as the player lets it be', `${ampsFigure(inUse.amps)} A, ${lowest(words, inUse)}`],
    [`All white at ${Number(hot.celsius.toFixed(1))} °C, fuses included`, lowest(words, hot)],
    ...(starved
      ? [['With LEDs that starve', `${ampsFigure(starved.amps)} A, ${lowest(words, starved)}`] as const]
      : []),
    ['Board gets', boardVolts(sources)],
    ...heat(sources),
  ];
}

const verdictWords: Readonly<Record<SupplyVerdict, string>> = {
  enough: 'enough',
  tight: 'too tight',
  'too-small': 'too small',
};

function groundWords({ power }: Project, index: number): string {
  if (index === 0) return '';
  const ground = power.moreSupplies?.[index - 1]?.ground;
  return ground ? `${wireWords(ground.wire)}, ${wireCutMm(ground.lengthMm)} mm` : 'at the terminals';
}

function supplySection(sources: Sources): SheetSection {
  const { project, assessment } = sources;
  const loads = supplyLoads(project, assessment.panel);
  const table: SheetPart = {
    kind: 'table',
    columns: [
      { title: 'Supply', share: 15 },
      { title: 'Set to, V', share: 11, isFigure: true },
      { title: 'Rated, A', share: 12, isFigure: true },
      { title: 'Rated, W', share: 12, isFigure: true },
      { title: 'LEDs', share: 10, isFigure: true },
      { title: 'All white, A', share: 12, isFigure: true },
      { title: 'In use, A', share: 12, isFigure: true },
      { title: 'Should be rated, A', share: 15, isFigure: true },
      { title: 'Verdict', share: 15 },
      ...(loads.length > 1 ? [{ title: `Ground joined to ${supplyName(0)} by`, share: 28 }] : []),
    ],
    rows: loads.map(({ supply, ledCount, worstAmps, drawAmps, needAmps, verdict }, index) => [
      supplyName(index),
      voltsFigure(supply.volts),
      ampsFigure(supply.amps),
      wattsFigure(supply.volts * supply.amps),
      String(ledCount),
      ampsFigure(worstAmps),
      ampsFigure(drawAmps),
      ampsFigure(needAmps),
      verdictWords[verdict],
      ...(loads.length > 1 ? [groundWords(project, index)] : []),
    ]),
  };
  const note: SheetPart = {
    kind: 'text',
    text: `In use: white as the player lets it be${loads.length > 1 ? ', if only this supply’s LEDs are lit' : ''}, and the board on ${supplyName(0)}. A fifth of the rating stays free.${loads.length > 1 ? ` ${splitCaution}` : ''}`,
  };
  return { title: 'Supply', parts: [{ kind: 'facts', rows: figures(sources) }, table, note] };
}

const feedName = (index: number): string => `F${index + 1}`;

function zoneSection({ summary, words }: Sources): SheetSection {
  const table: SheetPart = {
    kind: 'table',
    columns: [
      { title: 'Zone', share: 10 },
      { title: 'Runs', share: 60 },
      { title: 'LEDs', share: 12, isFigure: true },
      { title: 'All white, A', share: 15, isFigure: true },
      { title: 'Lowest, V', share: 14, isFigure: true },
      { title: 'Where', share: 25 },
      { title: 'Feeds', share: 20 },
    ],
    rows: summary.zones.map((zone, index) => [
      String(index + 1),
      zone.runs.map(words.run).join('; '),
      String(zone.ledCount),
      ampsFigure(zone.amps),
      zone.feeds.length === 0 ? 'no feed' : voltsFigure(zone.lowestVolts),
      zone.feeds.length === 0 ? '' : words.place(zone.at),
      zone.feeds.map(feedName).join(', '),
    ]),
  };
  return {
    title: 'Zones',
    parts:
      summary.zones.length === 0
        ? [{ kind: 'text', text: 'No LEDs yet.' }]
        : [
            {
              kind: 'text',
              text: 'LEDs whose + is joined. Amperes and volts: all white, no limit, copper at 20 °C.',
            },
            table,
          ],
  };
}

function feedSection({ summary, assessment, words }: Sources): SheetSection {
  const { panel, worst } = assessment;
  const table: SheetPart = {
    kind: 'table',
    columns: [
      { title: 'Feed', share: 10 },
      { title: 'To run', share: 31 },
      { title: 'LED', share: 10, isFigure: true },
      { title: 'From', share: 16 },
      { title: 'Wire, + and ground', share: 31 },
      { title: 'One way, mm', share: 17, isFigure: true },
      { title: 'Fuse', share: 19 },
      { title: 'Plug', share: 22 },
      { title: 'All white, A', share: 16, isFigure: true },
      { title: 'Loses, V', share: 15, isFigure: true },
    ],
    rows: summary.feeds.map(({ run, led, amps, wire, lengthMm, fuseAmps }, index) => {
      const conductors = panel.feeds[index]!;
      return [
        feedName(index),
        words.run(run),
        String(led),
        supplyName(conductors.supply),
        wireWords(wire),
        String(wireCutMm(lengthMm)),
        fuseWords(fuseAmps, conductors.feed.fuseKind),
        conductors.plug?.label ?? 'soldered',
        ampsFigure(amps),
        lostVoltsFigure(feedLossVolts(panel, worst, conductors)),
      ];
    }),
  };
  return {
    title: 'Feeds',
    parts:
      summary.feeds.length === 0
        ? [{ kind: 'text', text: 'No feed yet.' }]
        : [
            table,
            {
              kind: 'text',
              text: 'LEDs count from 0 at the run’s DIN. The fuse sits in the + wire, at the supply. Lengths are rounded up to 5 mm; + and ground are cut alike.',
            },
          ],
  };
}

function jumperSection({ assessment: { panel }, words }: Sources): SheetSection {
  const cut = panel.jumpers.filter(({ jumper }) => jumper.power === 'cut');
  const carried = panel.jumpers.length - cut.length;
  const table: SheetPart = {
    kind: 'table',
    columns: [
      { title: 'Data line', share: 16 },
      { title: 'From this run’s DOUT', share: 50 },
      { title: 'To this run’s DIN', share: 50 },
      { title: 'Wires', share: 40 },
    ],
    rows: cut.map(({ jumper, line }) => [
      String(line + 1),
      words.run(jumper.from.run.id),
      words.run(jumper.to.run.id),
      'data and ground, no +',
    ]),
  };
  return {
    title: 'Jumpers whose + is cut',
    parts: [
      {
        kind: 'text',
        text:
          panel.jumpers.length === 0
            ? 'There are no jumpers.'
            : `${counted(carried, 'jumper carries', 'jumpers carry')} data, + and ground; ${cut.length === 0 ? 'none has its + cut' : `${cut.length} ${cut.length === 1 ? 'has its' : 'have their'} + cut`}.`,
      },
      ...(cut.length === 0 ? [] : [table]),
    ],
  };
}

const findingWords = ({ severity, message, mend }: Finding): string =>
  `${severity[0]!.toUpperCase()}${severity.slice(1)}: ${message} ${mend}`;

/** Holds, or what breaks it. A feed's own fuse above its own wire is among the findings. */
function fuseSection({ project, assessment }: Sources): SheetSection {
  const { panel, feedSizes, fuseRule } = assessment;
  const { violations, shortsChecked } = fuseRule;
  const told = fuseRuleFindings(project, panel, feedSizes, fuseRule);
  const rule =
    'For every short and every conductor, + and ground, the fuses whose current crosses it sum to at most its rating.';
  const result =
    violations.length === 0
      ? `It holds for ${counted(shortsChecked, 'short')}.`
      : `${counted(shortsChecked, 'short was', 'shorts were')} looked at; ${counted(violations.length, 'conductor is', 'conductors are')} without protection.${told.length === 0 ? ' The findings below say which.' : ''}`;
  return {
    title: 'Fuse rule',
    parts: [
      {
        kind: 'text',
        text: panel.feeds.length === 0 ? `${rule} There is no feed to protect yet.` : `${rule} ${result}`,
      },
      ...(told.length === 0 ? [] : [{ kind: 'list', items: told.map(findingWords) } as const]),
    ],
  };
}

function findingSection({ project, layout, assessment }: Sources): SheetSection {
  const told = powerFindings(project, layout, assessment).filter(({ code }) => code !== 'fuse-rule');
  return {
    title: 'Findings about power',
    parts: [
      told.length === 0
        ? { kind: 'text', text: 'None beside what is said above.' }
        : { kind: 'list', items: told.map(findingWords) },
    ],
  };
}

export function powerSections(project: Project, layout: Layout, assessment: PowerAssessment): SheetSection[] {
  const summary = powerSummary(project, layout, assessment);
  const words = runWords(layout);
  const sources: Sources = { project, layout, assessment, summary, words };
  return [
    supplySection(sources),
    zoneSection(sources),
    feedSection(sources),
    jumperSection(sources),
    fuseSection(sources),
    dataLineSection(project, layout, assessment, words),
    findingSection(sources),
    { title: 'Cautions', parts: [{ kind: 'list', items: powerCautions }] },
  ];
}
