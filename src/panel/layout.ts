// The layout: where every LED is (mm), in which order data passes them, and the jumpers between runs.
// A pure function of the project; nothing of it is stored. Runs that no chain passes have places, but no wire number.
// Axes as in the document: x right, y down, seen from the front.
import { pitchMm } from '../catalogue/index.ts';
import type { Project, Run, StripData } from '../project/index.ts';
import { distanceMm, type PointMm } from './plane.ts';
import { stripOfRun } from './strips.ts';

export interface Led extends PointMm {
  readonly run: string;
  /** From 0 at the run's DIN. */
  readonly led: number;
  readonly spare: boolean;
  /** Found broken: dark, though it passes data on. */
  readonly dead: boolean;
}

export interface PlacedRun {
  readonly run: Run;
  /** Index in the project's list of runs. */
  readonly runIndex: number;
  readonly strip: StripData;
  readonly leds: readonly Led[];
  /** Middle of the cut edge before the first and behind the last LED, half a pitch away. */
  readonly dinEnd: PointMm;
  readonly doutEnd: PointMm;
  /** The cut piece: LEDs x pitch. */
  readonly cutLengthMm: number;
}

export interface Jumper {
  readonly from: PlacedRun;
  readonly to: PlacedRun;
  readonly power: 'carried' | 'cut';
  readonly lengthMm: number;
  readonly wire: string;
}

export interface PlacedLine {
  /** Arduino pin, or undefined while the builder hasn't chosen one. */
  readonly pin: number | undefined;
  readonly runs: readonly PlacedRun[];
  readonly jumpers: readonly Jumper[];
  readonly ledCount: number;
}

export interface Layout {
  readonly runs: readonly PlacedRun[];
  readonly lines: readonly PlacedLine[];
  /** All LEDs of all lines in the order of the wire: line after line, run after run. */
  readonly wireLeds: readonly Led[];
  readonly unchained: readonly PlacedRun[];
}

export const defaultJumperWire = 'AWG 20';
/** No wire can be shorter and still be soldered at both ends (common practice, no source). */
const shortestJumperMm = 10;

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
  readonly placed: PlacedRun;
}
/** Documents never change in place: a run that is the same object, on the same reels, lies where it lay. Keeps a drag of one run cheap. */
const knownPlaces = new WeakMap<Run, KnownPlace>();

function placedRun(project: Project, run: Run, runIndex: number): PlacedRun {
  const known = knownPlaces.get(run);
  if (known && known.strips === project.strips && known.placed.runIndex === runIndex) return known.placed;
  const placed = placeRun(project, run, runIndex);
  knownPlaces.set(run, { strips: project.strips, placed });
  return placed;
}

function placeRun(project: Project, run: Run, runIndex: number): PlacedRun {
  const strip = stripOfRun(project, run);
  const pitch = pitchMm(strip);
  const arrow = arrowVector(run.arrowDeg);
  const at = (steps: number): PointMm => ({
    xMm: run.firstLed.xMm + arrow.x * pitch * steps,
    yMm: run.firstLed.yMm + arrow.y * pitch * steps,
  });
  const spare = new Set(run.spareLeds);
  const dead = new Set(run.deadLeds);
  return {
    run,
    runIndex,
    strip,
    leds: Array.from({ length: run.ledCount }, (_, led) => ({
      ...at(led),
      run: run.id,
      led,
      spare: spare.has(led),
      dead: dead.has(led),
    })),
    dinEnd: at(-0.5),
    doutEnd: at(run.ledCount - 0.5),
    cutLengthMm: run.ledCount * pitch,
  };
}

/** Places every LED and follows every chain. */
export function layOut(project: Project): Layout {
  const runs = project.runs.map((run, index) => placedRun(project, run, index));
  const byId = new Map(runs.map((placed) => [placed.run.id, placed]));
  const chained = new Set<PlacedRun>();
  const lines = project.dataLines.map((line): PlacedLine => {
    const chain = line.chain.map((link) => {
      const placed = byId.get(link.run);
      if (!placed) throw new Error(`no run "${link.run}"; the project was not checked`);
      chained.add(placed);
      return placed;
    });
    const jumpers = line.chain.slice(1).map((link, i): Jumper => {
      const from = chain[i]!;
      const to = chain[i + 1]!;
      return {
        from,
        to,
        power: link.jumper?.power ?? 'carried',
        lengthMm: link.jumper?.lengthMm ?? Math.max(shortestJumperMm, distanceMm(from.doutEnd, to.dinEnd)),
        wire: link.jumper?.wire ?? defaultJumperWire,
      };
    });
    return {
      pin: line.pin,
      runs: chain,
      jumpers,
      ledCount: chain.reduce((sum, placed) => sum + placed.run.ledCount, 0),
    };
  });
  return {
    runs,
    lines,
    wireLeds: lines.flatMap((line) => line.runs.flatMap((placed) => placed.leds)),
    unchained: runs.filter((placed) => !chained.has(placed)),
  };
}

/** Each run's number: 1 for the first run that data reaches, on over all data lines. Runs outside every chain have none. */
export const chainNumbers = (layout: Layout): ReadonlyMap<string, number> =>
  new Map(layout.lines.flatMap((line) => line.runs).map(({ run }, index) => [run.id, index + 1]));
