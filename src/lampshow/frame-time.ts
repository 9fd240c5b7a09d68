// How long the slowest frame takes on the board, and the frame time that follows from it: one whole number of milliseconds for the whole
// project, the least that the slowest predicted frame of all shows needs, plus 2 %.
// Not here: the cycles themselves (player-cycles.ts). Which clips play is known exactly; each is counted as if all its LEDs were lit.
import { boards, rowById, whitePlace } from '../catalogue/index.ts';
import type { Layout } from '../panel/index.ts';
import type { Lampshow, Project } from '../project/index.ts';
import { lineBytesPerLed, linePairs, type Segment, segmentsOf } from './line-data.ts';
import { playerCycles as cost } from './player-cycles.ts';
import { type ClipCosts, clipCosts, type Fading } from './render-cycles.ts';
import { clipsInOrder } from './show-data.ts';
import { clipsOnBlack } from './spans.ts';

/** Cycles of everything that doesn't depend on what plays: the limiter and the wire. */
function outputCycles(project: Project, layout: Layout, segments: readonly Segment[]): number {
  const sum = (values: readonly number[]) => values.reduce((all, value) => all + value, 0);
  const { limiter } = cost;
  const segmentCycles = segments.map(({ ledCount, strip }) => {
    const shares = strip.currentModel === 'largest';
    const perLed =
      whitePlace(strip.colourOrder) >= 0 ? limiter.ledWhite : shares ? limiter.ledShared : limiter.led;
    return limiter.segment + ledCount * perLed;
  });
  const limited = project.power.limitAmps === undefined ? 0 : limiter.begin + sum(segmentCycles);
  const lineBytes = layout.lines.map((line) => sum(lineBytesPerLed(line)));
  // Lines that go out together take as long as the longer one.
  const pairs = linePairs(project, layout, segments);
  const shorter = pairs.map(([a, b]) => Math.min(lineBytes[a]!, lineBytes[b]!));
  const sends = layout.lines.length - pairs.length;
  return limited + cost.send + sends * cost.sendLine + (sum(lineBytes) - sum(shorter)) * cost.sendByte;
}

/** The dearest moment of a show: what plays and what fades changes only where a clip begins, ends, or comes to the end or beginning of a fade. */
function slowestRender(show: Lampshow, { cyclesOf, wiresOf }: ClipCosts): number {
  const inOrder = clipsInOrder(show);
  const onBlack = clipsOnBlack(inOrder, wiresOf);
  const clips = inOrder.map((clip, i) => {
    const to = clip.startMs + clip.lengthMs;
    const cycles = new Map<string, number>();
    return {
      from: clip.startMs,
      to,
      fadedInMs: clip.startMs + (clip.fadeInMs ?? 0),
      fadesOutMs: to - (clip.fadeOutMs ?? 0),
      cyclesWith: (fading: Fading): number => {
        const key = `${fading.in} ${fading.out}`;
        const value = cycles.get(key) ?? cyclesOf(clip, onBlack[i]!, fading) - cost.scan;
        cycles.set(key, value);
        return value;
      },
    };
  });
  const moments = new Set(
    clips.flatMap(({ from, fadedInMs, fadesOutMs }) => [from, fadedInMs, fadesOutMs + 1]),
  );
  let dearest = 0;
  for (const ms of moments) {
    let sum = 0;
    for (const { from, to, fadedInMs, fadesOutMs, cyclesWith } of clips)
      if (from <= ms && ms < to) sum += cyclesWith({ in: ms < fadedInMs, out: ms > fadesOutMs });
    dearest = Math.max(dearest, sum);
  }
  return clips.length * cost.scan + dearest;
}

/** Whether the director and the inputs have anything to do. */
const isHearing = ({ gameEvents, inputs }: Project): boolean =>
  (gameEvents ?? []).length > 0 ||
  inputs?.serial === true ||
  inputs?.i2cAddress !== undefined ||
  inputs?.roomPin !== undefined;
const eventPins = ({ gameEvents }: Project): number =>
  (gameEvents ?? []).filter(({ pin }) => pin !== undefined).length;

export interface SpeedPrediction {
  /** Slowest frame of each show, cycles, the wait for its moment left out. */
  readonly slowestFrameCycles: ReadonlyMap<string, number>;
  readonly frameMs: number;
  /** What each show could reach if it alone set the pace. */
  readonly framesPerSecond: ReadonlyMap<string, number>;
}

/** 2 %: the board's crystal and ours may differ, and a frame that is late is lost. */
const reserve = 1.02;

/** Predicts the speed on the project's board. */
export function predictSpeed(project: Project, layout: Layout): SpeedPrediction {
  const clockHz = rowById(boards, project.board.id)!.clockHz;
  const segments = segmentsOf(layout);
  const costs = clipCosts(project, layout, segments);
  const poll = isHearing(project) ? cost.poll + cost.eventPin * eventPins(project) : 0;
  const hearing = isHearing(project) ? cost.director + cost.eventPin * eventPins(project) : 0;
  const output = outputCycles(project, layout, segments);
  const slowestFrameCycles = new Map(
    project.lampshows.map((show) => {
      // The latch is waited for before sending; rendering and the limiter fill that time.
      const drawn = cost.frame + hearing + slowestRender(show, costs);
      const render = Math.max(drawn + (poll * drawn) / cost.pollEvery, cost.latch);
      return [show.id, render + output] as const;
    }),
  );
  const slowest = Math.max(...slowestFrameCycles.values());
  const framesPerSecond = new Map(
    [...slowestFrameCycles].map(([show, cycles]) => [show, clockHz / cycles] as const),
  );
  return {
    slowestFrameCycles,
    frameMs: Math.max(1, Math.ceil((slowest * reserve * 1000) / clockHz)),
    framesPerSecond,
  };
}
