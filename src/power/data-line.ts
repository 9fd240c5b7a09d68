// What to know of each data line before it is wired: whether its levels are high enough at the first LED and from run to run, its resistor, how long
// the lead from the board is, and how near its wires come to coil wiring. Not here: levels of chips (data-levels.ts), wording (data-line-findings.ts).
import { type Board, boards, rowById } from '../catalogue/index.ts';
import {
  type BuiltLink,
  builtLines,
  jumperLengthMm,
  type Layout,
  nearestCoilWiring,
  type PlacedLine,
  type PlacedRun,
  wireWay,
} from '../panel/index.ts';
import { type KeepOut, type Project, pointer } from '../project/index.ts';
import {
  chipVolts,
  highLevelVolts,
  linePicofarads,
  lowLevelVolts,
  mostChipVolts,
  pinLevel,
  rcNanoseconds,
  shifterLevel,
} from './data-levels.ts';
import { groundNode, type PanelNetwork } from './panel-network.ts';
import type { PanelVolts } from './panel-solve.ts';
import { settled } from './sizing.ts';
import { suppliesOf, supplyOf } from './supplies.ts';

/** Parts that a data line should have, all common practice, no source. */
export const dataLineParts = {
  /** In series at its beginning. */
  resistorOhms: 330,
  leastResistorOhms: 300,
  mostResistorOhms: 500,
  /** From the data wire to ground at the board: keeps the line low while the board starts. */
  pullDownOhms: 10_000,
  /** Across + and ground at each feed, 6.3 V or more on 5 V, 16 V or more on 12 V. */
  capacitorMicrofarads: 1000,
  /** From the board to the first LED, where no buffer drives it; its ground runs beside it. */
  mostLeadMm: 500,
} as const;

/** What a board on USB may get at the end of its cable (common practice, no source). */
const usbVolts = 4.6;

/** A panel and its volts in white. */
export interface DataVolts {
  readonly panel: PanelNetwork;
  readonly volts: Pick<PanelVolts, 'ledVolts' | 'riseVolts'>;
}

export interface FirstLevel {
  readonly hasShifter: boolean;
  /** What comes out of the pin or the shifter, into the first LED's input and at its data sheet's load. */
  readonly outputVolts: number;
  readonly loadedVolts: number;
  /** Volts of the first LED's chip, and how far its ground lies above the board's, in the case that is worse: dark or white. */
  readonly chipVolts: number;
  readonly groundVolts: number;
  /** What its input takes for high, above the board's ground. */
  readonly neededVolts: number;
  /** Output less what is needed. */
  readonly marginVolts: number;
  readonly loadedMarginVolts: number;
  /** Highest chip volts that the output is enough for. */
  readonly mostChipVolts: number;
  /** fine: also at the data sheet's load. unloaded: while it drives nothing but the LED. low: not enough. */
  readonly verdict: 'fine' | 'unloaded' | 'low';
}

export interface JumperLevel {
  /** Of the run it leads to, in the planned chain. */
  readonly place: number;
  readonly at: string;
  readonly from: PlacedRun;
  readonly to: PlacedRun;
  /** How far the high level lies above what is needed, and the low level below what is allowed; white. */
  readonly highMarginVolts: number;
  readonly lowMarginVolts: number;
}

export interface CoilDistance {
  readonly at: string;
  /** Undefined: the lead from the board. */
  readonly from: PlacedRun | undefined;
  readonly to: PlacedRun;
  readonly keepOut: KeepOut;
  readonly distanceMm: number;
}

export interface DataLineAdvice {
  /** Index in the project's list of data lines. */
  readonly line: number;
  readonly pin: number | undefined;
  readonly first: FirstLevel;
  /** From run to run, in the order of the data; those between runs with volts, where volts are given. */
  readonly jumpers: readonly JumperLevel[];
  readonly resistor: {
    /** The document's; what to take where it has none. */
    readonly ohms: number;
    readonly isGiven: boolean;
    /** With the first LED's input and the lead, as long as it is known. */
    readonly rcNanoseconds: number;
  };
  /** Undefined where neither the document has its length nor the board a place. */
  readonly lead:
    | { readonly lengthMm: number; readonly from: 'project' | 'drawing'; readonly at: string }
    | undefined;
  /** Each wire of the line with the coil wiring that it comes nearest to, the nearest first. */
  readonly coils: readonly CoilDistance[];
  /** Feeds on its runs: one capacitor each. */
  readonly capacitorCount: number;
}

/** Highest volts that the supplies can give to the zone at the beginning of a line: those on its feeds, the first one where it has none. */
function highestVolts(project: Project, { runs, jumpers }: PlacedLine): number {
  const cut = jumpers.findIndex(({ power }) => power === 'cut');
  const zone = new Set((cut < 0 ? runs : runs.slice(0, cut + 1)).map(({ run }) => run.id));
  const supplies = suppliesOf(project);
  const feeding = project.power.feeds
    .filter((feed) => zone.has(feed.run))
    .map((feed) => supplies[supplyOf(supplies, feed)]!.volts);
  return feeding.length > 0 ? Math.max(...feeding) : supplies[0]!.volts;
}

const boardOf = ({ board: { id } }: Project): Board => {
  const board = rowById(boards, id);
  if (!board) throw new Error(`no board "${id}"; the project was not checked`);
  return board;
};

/** What a pin's chip runs from: 3.3 V, or 5 V less what USB loses or the first supply is trimmed below it. */
function pinVolts({ board: { outputVolts = 5 }, power }: Project): number {
  const source = power.controller?.from === 'usb' ? usbVolts : power.supply.volts;
  return Math.min(outputVolts, source);
}

interface KnownVolts {
  readonly chipVolts: number;
  readonly groundVolts: number;
}
/** Looks up an LED's volts by run and planned number; undefined where it is not fed. */
function voltsByLed(given: DataVolts | undefined) {
  const byRun = new Map<string, Map<number, number>>();
  for (const [index, { run, led }] of (given?.panel.leds ?? []).entries()) {
    const leds = byRun.get(run) ?? new Map<number, number>();
    byRun.set(run, leds.set(led, index));
  }
  return (placed: PlacedRun, led: number): KnownVolts | undefined => {
    const index = byRun.get(placed.run.id)?.get(led);
    if (given === undefined || index === undefined || given.panel.isPowered[index] === 0) return undefined;
    return {
      chipVolts: chipVolts(placed.strip, given.volts.ledVolts[index]!),
      groundVolts: given.volts.riseVolts[groundNode(index)]!,
    };
  };
}
type VoltsOf = ReturnType<typeof voltsByLed>;

/** Runs of a line whose data goes to some LED, with where the wire to them stands in the document. */
const dataRuns = (line: PlacedLine): { readonly placed: PlacedRun; readonly place: number | undefined }[] =>
  line.runs.flatMap((placed, i) =>
    placed.wireLeds.length > 0 ? [{ placed, place: line.jumpers[i - 1]?.place }] : [],
  );

/** Dark, a chip stands at its supply's volts as trimmed, and no ground is lifted; white counts where its volts are known. */
function firstLevel(project: Project, line: PlacedLine, voltsOf: VoltsOf): FirstLevel {
  const first = dataRuns(line)[0]!.placed;
  const hasShifter = project.dataLines[line.index]!.hasShifter ?? false;
  const level = hasShifter ? shifterLevel : pinLevel(boardOf(project), pinVolts(project));
  const needed = (known: KnownVolts): number => known.groundVolts + highLevelVolts(known.chipVolts);
  const dark: KnownVolts = {
    chipVolts: chipVolts(first.strip, highestVolts(project, line)),
    groundVolts: 0,
  };
  const white = voltsOf(first, first.wireLeds[0]!.led);
  const worse = white && needed(white) > needed(dark) ? white : dark;
  const marginVolts = settled(level.volts - needed(worse));
  const loadedMarginVolts = settled(level.loadedVolts - needed(worse));
  return {
    hasShifter,
    outputVolts: level.volts,
    loadedVolts: level.loadedVolts,
    ...worse,
    neededVolts: needed(worse),
    marginVolts,
    loadedMarginVolts,
    mostChipVolts: mostChipVolts(level.volts),
    verdict: loadedMarginVolts >= 0 ? 'fine' : marginVolts >= 0 ? 'unloaded' : 'low',
  };
}

/**
 * A chip's output reaches its own volts and its own ground (from memory; data sheets of these chips give no figures for it). The next chip sees both
 * less the difference of the two grounds.
 */
function jumperLevels(line: PlacedLine, voltsOf: VoltsOf): JumperLevel[] {
  const runs = dataRuns(line);
  return runs.slice(1).flatMap(({ placed: to, place }, i): JumperLevel[] => {
    const from = runs[i]!.placed;
    const sender = voltsOf(from, from.wireLeds.at(-1)!.led);
    const receiver = voltsOf(to, to.wireLeds[0]!.led);
    if (!sender || !receiver || place === undefined) return [];
    const liftVolts = sender.groundVolts - receiver.groundVolts;
    return [
      {
        place,
        at: pointer('dataLines', line.index, 'chain', place),
        from,
        to,
        highMarginVolts: settled(liftVolts + sender.chipVolts - highLevelVolts(receiver.chipVolts)),
        lowMarginVolts: settled(lowLevelVolts(receiver.chipVolts) - liftVolts),
      },
    ];
  });
}

function leadOf({ panel, board }: Project, line: PlacedLine, link: BuiltLink): DataLineAdvice['lead'] {
  const at = pointer('dataLines', line.index, 'chain', link.place);
  const given = link.jumper?.lengthMm;
  if (given !== undefined) return { lengthMm: given, from: 'project', at };
  if (!board.place) return undefined;
  return { lengthMm: jumperLengthMm(panel, board.place, line.runs[0]!.dinEnd), from: 'drawing', at };
}

function coilDistances({ panel, board }: Project, line: PlacedLine, link: BuiltLink): CoilDistance[] {
  const keepOuts = panel.keepOuts ?? [];
  const leadAt = pointer('dataLines', line.index, 'chain', link.place);
  const wires = [
    ...(board.place
      ? [{ at: leadAt, from: undefined, to: line.runs[0]!, start: board.place, end: line.runs[0]!.dinEnd }]
      : []),
    ...line.jumpers.map(({ place, from, to }) => ({
      at: pointer('dataLines', line.index, 'chain', place),
      from,
      to,
      start: from.doutEnd,
      end: to.dinEnd,
    })),
  ];
  return wires
    .flatMap(({ at, from, to, start, end }): CoilDistance[] => {
      const nearest = nearestCoilWiring(wireWay(panel, start, end), keepOuts);
      return nearest ? [{ at, from, to, ...nearest }] : [];
    })
    .sort((one, other) => one.distanceMm - other.distanceMm);
}

/**
 * Advice for every data line that carries data to some LED.
 * @param given volts in white; without them, only the dark panel counts and levels from run to run are not looked at
 */
export function dataLineAdvice(project: Project, layout: Layout, given?: DataVolts): DataLineAdvice[] {
  const voltsOf = voltsByLed(given);
  const built = builtLines(project);
  return layout.lines.map((line): DataLineAdvice => {
    const link = built[line.index]!.chain[0]!;
    const lead = leadOf(project, line, link);
    const { resistorOhms } = project.dataLines[line.index]!;
    const ohms = resistorOhms ?? dataLineParts.resistorOhms;
    const ids = new Set(line.runs.map(({ run }) => run.id));
    return {
      line: line.index,
      pin: line.pin,
      first: firstLevel(project, line, voltsOf),
      jumpers: jumperLevels(line, voltsOf),
      resistor: {
        ohms,
        isGiven: resistorOhms !== undefined,
        rcNanoseconds: rcNanoseconds(ohms, linePicofarads(lead?.lengthMm ?? 0)),
      },
      lead,
      coils: coilDistances(project, line, link),
      capacitorCount: project.power.feeds.filter(({ run }) => ids.has(run)).length,
    };
  });
}
