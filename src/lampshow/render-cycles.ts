// What a clip costs the board in a frame in which it plays, clock cycles, at its dearest moment: every loop counted as long as it gets for these LEDs,
// this gradient, this way of blending. The figures are in player-cycles.ts.
// Not here: which clips play together (frame-time.ts).
import { type AreaLed, areaLeds, type Layout } from '../panel/index.ts';
import type { Blend, Clip, EffectOf, Project } from '../project/index.ts';
import {
  clipColours,
  cloudRows,
  effectMap,
  effectParameters,
  isRowwise,
  type PlayerEffect,
  playerEffectOf,
} from './effects.ts';
import { gradientPieces } from './gradients.ts';
import { type Segment, segmentOrder } from './line-data.ts';
import { type MappedLed, mappedLeds } from './maps.ts';
import { playerCycles as cost } from './player-cycles.ts';
import { type Span, spansOf } from './spans.ts';

interface AreaCost {
  readonly leds: readonly MappedLed[];
  readonly wires: ReadonlySet<number>;
  readonly spans: readonly Span[];
}

/** How often the colour table is filled: once, and again for each change of colour order along the spans. */
const tableFills = (spans: readonly Span[]): number =>
  spans.filter((span, i) => i === 0 || segmentOrder(spans[i - 1]!.segment) !== segmentOrder(span.segment))
    .length;

/** Which of a clip's fades are under way at a moment. */
export interface Fading {
  readonly in: boolean;
  readonly out: boolean;
}

/** Whether the clip's colours are less than the gradient's. */
const changesLevel = (clip: Clip, fading: Fading): boolean =>
  fading.in || fading.out || (clip.levelPercent ?? 100) < 100 || clip.envelope !== undefined;

/** Effects whose level changes with time over the whole area. */
const dimming = (clip: Clip): boolean => {
  const { effect } = clip;
  return (
    effect.kind === 'bursts' ||
    effect.kind === 'lightning' ||
    (effect.kind === 'glow' && effect.breathSeconds !== undefined && (effect.depth ?? 0) > 0)
  );
};

/** Entries of the table that lie on an edge, or, for a column, are dark behind its end. */
function edgeEntries(clip: Clip, entries: number): number {
  const { effect } = clip;
  switch (effect.kind) {
    case 'band':
      return entries * ((effect.tail ?? 0) + (1 - (effect.tail ?? 0)) * effect.softness);
    case 'spokes':
      return entries * effect.softness;
    case 'chase':
      return effect.softness > 0 ? entries : 0;
    case 'rings':
    case 'column':
      return entries;
    default:
      return 0;
  }
}

function paintedTable({ palette, frames }: EffectOf<'painted'>): number {
  const { perColour, perPair, begin, pairsMost } = cost.palette;
  const fades = frames.length > 1 && frames.some(({ fadeMs }) => (fadeMs ?? 0) > 0);
  const pairs = fades && palette.length <= pairsMost ? palette.length ** 2 : 0;
  return begin + palette.length * perColour + pairs * perPair;
}

function tableCycles(clip: Clip, fading: Fading, project: Project): number {
  if (clip.effect.kind === 'painted') return paintedTable(clip.effect);
  const { table } = cost;
  const use = clipColours(clip);
  const gradient = project.gradients.find((one) => one.id === clip.gradient)!;
  const pieces = gradientPieces(gradient, use).length;
  const player = playerEffectOf(clip.effect);
  const looksBetween = player === 'bands' || clip.cycle !== undefined;
  const hasEdges = player === 'column' || (player === 'bands' && clip.effect.kind !== 'stream');
  const scaled =
    hasEdges || player === 'letters' || changesLevel(clip, fading) || dimming(clip) || clip.blend === 'tint';
  // Stars that are laid over take the fade themselves.
  const kept = player === 'stars' && clip.blend === 'over';
  return (
    table.begin +
    pieces *
      (table.piece +
        (looksBetween ? table.pieceBetween : 0) +
        (clip.blend === 'tint' ? table.pieceTint : 0)) +
    (clip.cycle ? table.begunAgain + pieces * table.pieceSkipped : 0) +
    use.entries * (scaled && !kept ? table.scaled : table.plain) +
    (clip.blend === 'tint' ? use.entries * table.tint : 0) +
    (hasEdges ? table.edges + edgeEntries(clip, use.entries) * table.edge : 0) +
    (player === 'letters' ? use.entries * table.four : 0)
  );
}

/** The most LEDs that a band lights at a time: the fullest window of its lit steps. */
export function mostLitByBands(effect: Clip['effect'], leds: readonly MappedLed[]): number {
  const parameters = effectParameters(effect, leds);
  const lit = Math.min(256, Math.ceil((parameters[4]! | (parameters[5]! << 8)) / 256));
  const counts = new Array<number>(512).fill(0);
  for (const step of effectMap(effect, leds)) {
    counts[step]!++;
    counts[step + 256]!++;
  }
  let inside = counts.slice(0, lit).reduce((sum, count) => sum + count, 0);
  let most = inside;
  for (let from = 1; from <= 256; from++) {
    inside += (counts[from + lit - 1] ?? 0) - counts[from - 1]!;
    most = Math.max(most, inside);
  }
  return most;
}

/** Bands of all 256 steps, and everything that lies on a whole way, take the loop without dark LEDs. */
function isWholeWay(clip: Clip, player: PlayerEffect, leds: readonly MappedLed[]): boolean {
  if (player !== 'bands') return true;
  const parameters = effectParameters(clip.effect, leds);
  return parameters[5] === 255 && ((parameters[12]! >> 4) & 3) === 2;
}

type Loop = keyof typeof cost.loops;
const loopOf = (clip: Clip, player: PlayerEffect, leds: readonly MappedLed[]): Loop => {
  if (player === 'stars') return 'chance';
  if (player === 'cloud') return isRowwise(clip.effect as EffectOf<'cloud'>, leds) ? 'row' : 'cloud';
  if (player === 'fire' || player === 'letters') return player;
  if (player === 'painted') return paintedLoop(clip.effect as EffectOf<'painted'>);
  return isWholeWay(clip, player, leds) ? 'way' : 'along';
};
const paintedLoop = ({ palette, frames }: EffectOf<'painted'>): Loop => {
  const fades = frames.length > 1 && frames.some(({ fadeMs }) => (fadeMs ?? 0) > 0);
  if (!fades) return 'painted';
  return palette.length <= cost.palette.pairsMost ? 'paintedPairs' : 'paintedSums';
};

/** A star's throw is spread as evenly as a byte's fold can: at most so many of 256 LEDs more than its density says are lit at once. */
const starsUnevenness = 4;

/** What the stretches themselves cost: each, its loop's beginning, and the groups in which some effects gather entries. */
function spanCycles(loop: Loop, spans: readonly Span[]): number {
  const group = loop in cost.group ? cost.group[loop as keyof typeof cost.group] : undefined;
  const groups = group
    ? spans.reduce((sum, { ledCount }) => sum + Math.ceil(ledCount / group.leds), 0) * group.cycles
    : 0;
  return spans.length * (cost.span + cost.spanBegin[loop]) + groups;
}

function ledCycles(clip: Clip, loop: Loop, onBlack: boolean, leds: readonly MappedLed[]): number {
  const how: Blend | 'write' = onBlack && loop !== 'chance' ? 'write' : clip.blend;
  const perLed = cost.loops[loop][how];
  if (loop === 'row') return leds.length * perLed + cloudRows(effectMap(clip.effect, leds)) * cost.row;
  let lit = leds.length;
  if (loop === 'along') lit = mostLitByBands(clip.effect, leds);
  if (loop === 'chance') {
    const { density } = clip.effect as EffectOf<'stars'>;
    lit = Math.min(lit, Math.ceil((lit * (256 * density + starsUnevenness)) / 256));
  }
  return lit * perLed + (leds.length - lit) * (loop === 'chance' ? cost.dark.chance : cost.dark.along);
}

const fadeCycles = (clip: Clip, fading: Fading): number =>
  (fading.in ? cost.fade : 0) +
  (fading.out ? cost.fade : 0) +
  (clip.envelope ? cost.envelope + clip.envelope.length * cost.envelopePoint : 0);

function prepareCycles(clip: Clip, player: PlayerEffect): number {
  const { effect } = clip;
  const eases = 'easing' in effect && effect.easing !== undefined && effect.easing !== 'none';
  return (
    cost.prepare[player] +
    (eases ? cost.easing : 0) +
    (clip.cycle ? cost.cycle : 0) +
    (effect.kind === 'painted' ? effect.frames.length * cost.paintedFrame : 0)
  );
}

export interface ClipCosts {
  readonly cyclesOf: (clip: Clip, onBlack: boolean, fading: Fading) => number;
  readonly wiresOf: (area: string) => ReadonlySet<number>;
}

/** The clip's share of a frame in which it plays, for the clips of a project. Figures in cycles. */
export function clipCosts(project: Project, layout: Layout, segments: readonly Segment[]): ClipCosts {
  const known = new Map<string, AreaCost>();
  const areaOf = (id: string): AreaCost => {
    const value = known.get(id) ?? areaCost(areaLeds(layout, project.areas.find((one) => one.id === id)!));
    known.set(id, value);
    return value;
  };
  const areaCost = (leds: readonly AreaLed[]): AreaCost => {
    const wires = leds.map((led) => led.wire);
    return { leds: mappedLeds(leds), wires: new Set(wires), spans: spansOf(wires, segments) };
  };
  const cyclesOf = (clip: Clip, onBlack: boolean, fading: Fading): number => {
    const { leds, spans } = areaOf(clip.area);
    if (leds.length === 0) return 0;
    const player = playerEffectOf(clip.effect);
    const loop = loopOf(clip, player, leds);
    return (
      cost.clip +
      fadeCycles(clip, fading) +
      prepareCycles(clip, player) +
      tableFills(spans) * tableCycles(clip, fading, project) +
      spanCycles(loop, spans) +
      ledCycles(clip, loop, onBlack, leds)
    );
  };
  return { cyclesOf, wiresOf: (area) => areaOf(area).wires };
}
