// The layout: where every LED is (mm), in which order data passes them, and the jumpers between runs.
// A pure function of the project; nothing of it is stored. Runs that no chain passes have places, but no wire number.
// Axes as in the document: x right, y down, seen from the front.
import { pitchMm } from '../catalogue/index.ts';
import type { Project, Run, StripData } from '../project/index.ts';
import { type BuiltLink, builtLines, builtRun, runAsBuilt } from './as-built.ts';
import { jumperLengthMm } from './jumper-route.ts';
import type { PointMm } from './plane.ts';
import { stripOfRun } from './strips.ts';

export interface Led extends PointMm {
  readonly run: string;
  /** From 0 at the run's DIN. */
  readonly led: number;
  readonly spare: boolean;
  /** Found broken: dark, though it passes data on. */
  readonly dead: boolean;
  /** A wire leads the data past it: dark, and not on the wire. */
  readonly bypassed: boolean;
}

export interface PlacedRun {
  /** As planned; colour order and reel as built stand in `strip`. */
  readonly run: Run;
  /** Index in the project's list of runs. */
  readonly runIndex: number;
  readonly strip: StripData;
  /** By their planned numbers, from 0 at the planned DIN. */
  readonly leds: readonly Led[];
  /** The same as the data passes them: from the other end where the strip was laid the other way round, bypassed ones left out. */
  readonly wireLeds: readonly Led[];
  /** Whether the data enters at the planned last LED. */
  readonly isTurned: boolean;
  /** Middle of the cut edge before the first and behind the last LED that data passes, half a pitch away. */
  readonly dinEnd: PointMm;
  readonly doutEnd: PointMm;
  /** From one LED to the next along the strip. */
  readonly pitchMm: number;
  /** The cut piece: LEDs x pitch. */
  readonly cutLengthMm: number;
}

export interface Jumper {
  /** Place of the run it leads to in the planned chain of its data line. */
  readonly place: number;
  readonly from: PlacedRun;
  readonly to: PlacedRun;
  readonly power: 'carried' | 'cut';
  readonly lengthMm: number;
  readonly wire: string;
}

export interface PlacedLine {
  /** Index in the project's list of data lines. */
  readonly index: number;
  /** Arduino pin, or undefined while the builder hasn't chosen one. */
  readonly pin: number | undefined;
  readonly runs: readonly PlacedRun[];
  readonly jumpers: readonly Jumper[];
  /** LEDs on the wire. */
  readonly ledCount: number;
  /** Place in `runs` of the first one that is fed at its DOUT: it and all behind it stay dark. */
  readonly darkFrom: number | undefined;
}

export interface Layout {
  readonly runs: readonly PlacedRun[];
  readonly lines: readonly PlacedLine[];
  /** All LEDs of all lines in the order of the wire: line after line, run after run. */
  readonly wireLeds: readonly Led[];
  /** Each LED's number on the wire; none for LEDs that get no data. */
  readonly wireNumbers: ReadonlyMap<Led, number>;
  /** All LEDs that chains were planned to pass, in planned order, be they built or not. */
  readonly plannedLeds: readonly Led[];
  /** Runs that no chain passes, or none that carries data to any LED. */
  readonly unchained: readonly PlacedRun[];
}

export const defaultJumperWire = 'AWG 20';

/** What a builder calls a run: its name, or its id where it has none. */
export const runTitle = ({ name, id }: Pick<Run, 'name' | 'id'>): string => name ?? id;

/** Direction of a run's arrow as a unit vector in panel axes. */
export function arrowVector(arrowDeg: number): { readonly x: number; readonly y: number } {
  const quarter = arrowDeg / 90;
  // Exact for the four usual directions, so that a straight row has equal y to the last digit.
  if (Number.isInteger(quarter)) {
    const turned = ((quarter % 4) + 4) % 4;
    return (
      (
        [
          { x: 1, y: 0 },
          { x: 0, y: -1 },
          { x: -1, y: 0 },
          { x: 0, y: 1 },
        ] as const
      )[turned] ?? { x: 1, y: 0 }
    );
  }
  const radians = (arrowDeg * Math.PI) / 180;
  return { x: Math.cos(radians), y: -Math.sin(radians) };
}

interface KnownPlace {
  readonly strips: Project['strips'];
  readonly asBuilt: Project['asBuilt'];
  readonly placed: PlacedRun;
}
/** Documents never change in place: a run that is the same object, on the same reels, lies where it lay. Keeps a drag of one run cheap. */
const knownPlaces = new WeakMap<Run, KnownPlace>();

function placedRun(project: Project, run: Run, runIndex: number): PlacedRun {
  const { strips, asBuilt } = project;
  const known = knownPlaces.get(run);
  if (known && known.strips === strips && known.asBuilt === asBuilt && known.placed.runIndex === runIndex)
    return known.placed;
  const placed = placeRun(project, run, runIndex);
  knownPlaces.set(run, { strips, asBuilt, placed });
  return placed;
}

/** Where a run lies after so many pitches from its first LED, and how far apart its LEDs are along it, mm. */
export function runPath(
  run: Pick<Run, 'firstLed' | 'arrowDeg' | 'ledCount' | 'ring'>,
  stripPitchMm: number,
): { readonly pitchMm: number; readonly at: (pitches: number) => PointMm } {
  const { firstLed, ring } = run;
  const arrow = arrowVector(run.arrowDeg);
  if (!ring)
    return {
      pitchMm: stripPitchMm,
      at: (pitches) => ({
        xMm: firstLed.xMm + arrow.x * stripPitchMm * pitches,
        yMm: firstLed.yMm + arrow.y * stripPitchMm * pitches,
      }),
    };
  const { radiusMm } = ring;
  // The centre lies on the left of the arrow, or on its right where the data goes round clockwise.
  const left = ring.clockwise ? -1 : 1;
  const centre = {
    xMm: firstLed.xMm + left * radiusMm * arrow.y,
    yMm: firstLed.yMm - left * radiusMm * arrow.x,
  };
  return {
    pitchMm: (2 * Math.PI * radiusMm) / run.ledCount,
    at: (pitches) => {
      const angle = (2 * Math.PI * pitches) / run.ledCount;
      const along = radiusMm * Math.sin(angle);
      const across = left * radiusMm * Math.cos(angle);
      return {
        xMm: centre.xMm + along * arrow.x - across * arrow.y,
        yMm: centre.yMm + along * arrow.y + across * arrow.x,
      };
    },
  };
}

/** Middle of a ring board. */
export function ringCentre(run: Pick<Run, 'firstLed' | 'arrowDeg' | 'ring'>): PointMm | undefined {
  if (!run.ring) return undefined;
  const arrow = arrowVector(run.arrowDeg);
  const left = run.ring.clockwise ? -1 : 1;
  return {
    xMm: run.firstLed.xMm + left * run.ring.radiusMm * arrow.y,
    yMm: run.firstLed.yMm - left * run.ring.radiusMm * arrow.x,
  };
}

function placeRun(project: Project, run: Run, runIndex: number): PlacedRun {
  const strip = stripOfRun(project, runAsBuilt(project, run));
  const isTurned = builtRun(project, run.id).laidReversed ?? false;
  const { pitchMm: pitch, at } = runPath(run, pitchMm(strip));
  const spare = new Set(run.spareLeds);
  const dead = new Set(run.deadLeds);
  const bypassed = new Set(run.bypassedLeds);
  const leds = Array.from({ length: run.ledCount }, (_, led) => ({
    ...at(led),
    run: run.id,
    led,
    spare: spare.has(led),
    dead: dead.has(led),
    bypassed: bypassed.has(led),
  }));
  const onWire = bypassed.size === 0 ? leds : leds.filter((led) => !led.bypassed);
  const ends = [at(-0.5), at(run.ledCount - 0.5)] as const;
  return {
    run,
    runIndex,
    strip,
    leds,
    wireLeds: isTurned ? onWire.toReversed() : onWire,
    isTurned,
    dinEnd: ends[isTurned ? 1 : 0],
    doutEnd: ends[isTurned ? 0 : 1],
    pitchMm: pitch,
    cutLengthMm: run.ledCount * pitch,
  };
}

interface KnownJumper {
  readonly from: PlacedRun;
  readonly planned: BuiltLink['jumper'];
  readonly backing: Project['panel']['backing'];
  readonly keepOuts: Project['panel']['keepOuts'];
  readonly jumper: Jumper;
}
/** By the run that it leads to: while one run is dragged, all jumpers between the others stay the same objects. */
const knownJumpers = new WeakMap<PlacedRun, KnownJumper>();

function jumperBetween(
  { backing, keepOuts }: Project['panel'],
  from: PlacedRun,
  to: PlacedRun,
  { place, jumper: planned }: BuiltLink,
): Jumper {
  const known = knownJumpers.get(to);
  if (
    known?.from === from &&
    known.planned === planned &&
    known.backing === backing &&
    known.keepOuts === keepOuts &&
    known.jumper.place === place
  )
    return known.jumper;
  const panel = { ...(backing && { backing }), ...(keepOuts && { keepOuts }) };
  const jumper: Jumper = {
    place,
    from,
    to,
    power: planned?.power ?? 'carried',
    lengthMm: planned?.lengthMm ?? jumperLengthMm(panel, from.doutEnd, to.dinEnd),
    wire: planned?.wire ?? defaultJumperWire,
  };
  knownJumpers.set(to, { from, planned, backing, keepOuts, jumper });
  return jumper;
}

/** Places every LED and follows every chain, as built. */
export function layOut(project: Project): Layout {
  const runs = project.runs.map((run, index) => placedRun(project, run, index));
  const byId = new Map(runs.map((placed) => [placed.run.id, placed]));
  const built = builtLines(project).map((line, index): PlacedLine => {
    const chain = line.chain.map((link) => {
      const placed = byId.get(link.run);
      if (!placed) throw new Error(`no run "${link.run}"; the project was not checked`);
      return placed;
    });
    const jumpers = line.chain
      .slice(1)
      .map((link, i) => jumperBetween(project.panel, chain[i]!, chain[i + 1]!, link));
    const darkFrom = chain.findIndex(({ run }) => builtRun(project, run.id).fedAtDout);
    return {
      index,
      pin: line.pin,
      runs: chain,
      jumpers,
      ledCount: chain.reduce((sum, placed) => sum + placed.wireLeds.length, 0),
      darkFrom: darkFrom < 0 ? undefined : darkFrom,
    };
  });
  // A line whose runs were all left out carries nothing.
  const lines = built.filter((line) => line.ledCount > 0);
  const chained = new Set(lines.flatMap((line) => line.runs));
  const wireLeds = lines.flatMap((line) => line.runs.flatMap((placed) => placed.wireLeds));
  return {
    runs,
    lines,
    wireLeds,
    wireNumbers: new Map(wireLeds.map((led, wire) => [led, wire])),
    plannedLeds: project.dataLines.flatMap((line) => line.chain.flatMap(({ run }) => byId.get(run)!.leds)),
    unchained: runs.filter((placed) => !chained.has(placed)),
  };
}

/** Each run's number: 1 for the first run that data reaches, on over all data lines. Runs outside every chain have none. */
export const chainNumbers = (layout: Layout): ReadonlyMap<string, number> =>
  new Map(layout.lines.flatMap((line) => line.runs).map(({ run }, index) => [run.id, index + 1]));
