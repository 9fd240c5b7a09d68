// How long the slowest frame takes on the board, and the frame time that follows from it: one whole number of milliseconds for the whole
// project, the least that the slowest predicted frame of all shows needs, plus 2 %.
// Not here: the cycles themselves (player-cycles.ts). Which clips play is known exactly; each is counted as if all its LEDs were lit.
import { boards, rowById } from '../catalogue/index.ts';
import { areaLeds, type Layout } from '../panel/index.ts';
import type { Clip, Lampshow, Project } from '../project/index.ts';
import { gradientPieces } from './gradients.ts';
import { chunkLeds, playerCycles as cost } from './player-cycles.ts';
import { clipsInOrder, mixedSegments, type Segment, type Span, segmentsOf, spansOf } from './show-data.ts';

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
  spans.filter(
    (span, i) => i === 0 || spans[i - 1]!.segment.strip.colourOrder !== span.segment.strip.colourOrder,
  ).length;

/** Whether the clip's colours are ever less than the gradient's. */
const changesLevel = (clip: Clip): boolean =>
  (clip.fadeInMs ?? 0) > 0 || (clip.fadeOutMs ?? 0) > 0 || (clip.levelPercent ?? 100) < 100;

function clipCost(project: Project, layout: Layout, segments: readonly Segment[]): ClipCost {
  const spansById = memo((id: string) => {
    const area = project.areas.find((one) => one.id === id)!;
    return spansOf(
      areaLeds(layout, area).map((led) => led.wire),
      segments,
    );
  });
  const piecesById = memo(
    (id: string) => gradientPieces(project.gradients.find((one) => one.id === id)!).length,
  );
  return (clip) => {
    const spans = spansById(clip.area);
    const perLed = cost.effectLed[clip.effect.kind] + cost.blendLed[clip.blend];
    const spanCycles = spans.reduce(
      (sum, { ledCount }) =>
        sum + cost.span + Math.ceil(ledCount / chunkLeds) * cost.chunk[clip.effect.kind] + ledCount * perLed,
      0,
    );
    const plain = clip.blend === 'over' || (clip.blend !== 'tint' && !changesLevel(clip));
    const table = (plain ? cost.tablePlain : cost.tableFaded) + piecesById(clip.gradient) * cost.piece;
    const fades = (clip.fadeInMs ? cost.fade : 0) + (clip.fadeOutMs ? cost.fade : 0);
    return cost.clip + fades + cost.prepare[clip.effect.kind] + tableFills(spans) * table + spanCycles;
  };
}

/** Cycles of everything that doesn't depend on what plays: the limiter and the wire. */
function outputCycles(project: Project, layout: Layout, segments: readonly Segment[]): number {
  const leds = layout.wireLeds.length;
  const limiter =
    project.power.limitAmps === undefined
      ? 0
      : cost.limiter + segments.length * cost.limiterSegment + leds * cost.limiterLed;
  const gamma = mixedSegments(segments).reduce(
    (sum, { ledCount }) => sum + cost.gammaSegment + ledCount * cost.gammaLed,
    0,
  );
  const send = cost.send + layout.lines.length * cost.sendLine + leds * cost.sendLed;
  return limiter + gamma + send;
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
