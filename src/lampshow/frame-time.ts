// How long the slowest frame takes on the board, and the frame time that follows from it: one whole number of milliseconds for the whole
// project, the least that the slowest predicted frame of all shows needs, plus 2 %.
// Not here: the cycles themselves (player-cycles.ts). Which clips play is known exactly; each is counted as if all its LEDs were lit.
import { boards, rowById } from '../catalogue/index.ts';
import { areaLeds, type Layout } from '../panel/index.ts';
import type { Clip, Lampshow, Project } from '../project/index.ts';
import { gradientUse, litShare, playerEffectOf } from './effects.ts';
import { gradientPieces } from './gradients.ts';
import { lineBytesPerLed, linePairs, type Segment, segmentOrder, segmentsOf } from './line-data.ts';
import { playerCycles as cost } from './player-cycles.ts';
import { clipsInOrder, type Span, spansOf } from './show-data.ts';

/** The clip's share of a frame in which it plays, cycles. */
type ClipCost = (clip: Clip) => number;

const memo = <K, V>(make: (key: K) => V): ((key: K) => V) => {
  const known = new Map<K, V>();
  return (key) => {
    const value = known.get(key) ?? make(key);
    known.set(key, value);
    return value;
  };
};

/** How often the colour table is filled: once, and again for each change of colour order along the spans. */
const tableFills = (spans: readonly Span[]): number =>
  spans.filter((span, i) => i === 0 || segmentOrder(spans[i - 1]!.segment) !== segmentOrder(span.segment)).length;

/** Whether the clip's colours are ever less than the gradient's. */
const changesLevel = (clip: Clip): boolean =>
  (clip.fadeInMs ?? 0) > 0 ||
  (clip.fadeOutMs ?? 0) > 0 ||
  (clip.levelPercent ?? 100) < 100 ||
  clip.envelope !== undefined;

function tableCycles(clip: Clip, pieces: number): number {
  const { entries } = gradientUse(clip.effect);
  const player = playerEffectOf(clip.effect);
  const hasEdges = player === 'bands' || player === 'column' || player === 'letters';
  const scaled = hasEdges || changesLevel(clip) || clip.blend === 'tint';
  const perEntry = (scaled ? cost.tableScaled : cost.tablePlain) + (hasEdges ? cost.tableEdge : 0);
  return entries * perEntry + pieces * cost.piece;
}

interface AreaCost {
  readonly ledCount: number;
  readonly spans: readonly Span[];
}

/** LEDs that the effect lights at most at a time. */
function mostLit(clip: Clip, ledCount: number): number {
  const share = litShare(clip.effect);
  return Math.min(ledCount, Math.ceil(share * ledCount));
}

function clipCost(project: Project, layout: Layout, segments: readonly Segment[]): ClipCost {
  const areaById = memo((id: string): AreaCost => {
    const leds = areaLeds(layout, project.areas.find((one) => one.id === id)!);
    return {
      ledCount: leds.length,
      spans: spansOf(
        leds.map((led) => led.wire),
        segments,
      ),
    };
  });
  return (clip) => {
    const { ledCount, spans } = areaById(clip.area);
    if (ledCount === 0) return 0;
    const player = playerEffectOf(clip.effect);
    const lit = mostLit(clip, ledCount);
    const dark = player === 'stars' ? cost.dark.chance : cost.dark.along;
    const gradient = project.gradients.find((one) => one.id === clip.gradient)!;
    const table = tableCycles(clip, gradientPieces(gradient, gradientUse(clip.effect)).length);
    const fades = (clip.fadeInMs ? cost.fade : 0) + (clip.fadeOutMs ? cost.fade : 0) + (clip.envelope ? cost.envelope : 0);
    return (
      cost.clip +
      fades +
      cost.prepare[player] +
      tableFills(spans) * table +
      spans.length * cost.span +
      lit * cost.lit[player][clip.blend] +
      (ledCount - lit) * dark
    );
  };
}

/** Cycles of everything that doesn't depend on what plays: the limiter and the wire. */
function outputCycles(project: Project, layout: Layout, segments: readonly Segment[]): number {
  const leds = layout.wireLeds.length;
  const limiter =
    project.power.limitAmps === undefined
      ? 0
      : cost.limiter + segments.length * cost.limiterSegment + leds * cost.limiterLed;
  const lineBytes = layout.lines.map((line) => lineBytesPerLed(line).reduce<number>((sum, bytes) => sum + bytes, 0));
  // Lines that go out together take as long as the longer one.
  const shorter = linePairs(project, layout, segments).map(([a, b]) => Math.min(lineBytes[a]!, lineBytes[b]!));
  const sum = (values: readonly number[]) => values.reduce((all, value) => all + value, 0);
  const send = cost.send + layout.lines.length * cost.sendLine + (sum(lineBytes) - sum(shorter)) * cost.sendByte;
  return limiter + send;
}

/** The dearest moment of a show: the active clips change only where one begins or ends. */
function slowestRender(show: Lampshow, costOf: ClipCost): number {
  const clips = clipsInOrder(show).map((clip) => ({
    from: clip.startMs,
    to: clip.startMs + clip.lengthMs,
    cycles: costOf(clip),
  }));
  const moments = clips.map((clip) => clip.from);
  const dearest = Math.max(
    0,
    ...moments.map((ms) =>
      clips.reduce((sum, clip) => (clip.from <= ms && ms < clip.to ? sum + clip.cycles : sum), 0),
    ),
  );
  return cost.frame + clips.length * cost.scan + dearest;
}

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
  const costOf = memo(clipCost(project, layout, segments));
  const output = outputCycles(project, layout, segments);
  const slowestFrameCycles = new Map(
    project.lampshows.map((show) => {
      // The latch is waited for before sending; rendering and the limiter fill that time.
      const render = Math.max(slowestRender(show, costOf), cost.latch);
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
