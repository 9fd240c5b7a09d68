// Effects: from the document's plain units to what the player knows: an effect of its own few, 16 parameter bytes, what it knows of each LED
// (maps.ts), and how many of a gradient's colours it uses. One row an effect; several rows may share one of the player's.
// Not here: what it looks like (firmware-templates/player/effects.h). How to add one: DEVELOPERS.md.
import type { Clip, Effect, EffectKind, EffectOf } from '../project/index.ts';
import { bandColours, easings, heldWidth, turnSteps, writeBands } from './bands.ts';
import { ByteWriter } from './byte-writer.ts';
import { byte, rate, word } from './fixed-point.ts';
import { type GradientUse, gradientEntries, wholeTable } from './gradients.ts';
import { letterMap, writeLetters } from './letters.ts';
import {
  angleMap,
  cellsPerMm,
  chanceMap,
  chanceOrderMap,
  chaseMap,
  distanceMap,
  fireMap,
  gradientMap,
  latticeMap,
  type MappedLed,
  wayMap,
} from './maps.ts';
import { packFrames, writeFrames } from './painted.ts';

export const parameterBytes = 16;

/** EffectNumber of show_data.h. */
export const playerEffects = {
  glow: 0,
  bands: 1,
  column: 2,
  bursts: 3,
  lightning: 4,
  stars: 5,
  cloud: 6,
  fire: 7,
  painted: 8,
  letters: 9,
} as const;

/** Where an effect puts what doesn't fit its parameters: the show data themselves, and what of it lies there already. */
export interface Extras {
  readonly to: ByteWriter;
  readonly known: Map<string, number>;
}

export type PlayerEffect = keyof typeof playerEffects;

interface EffectRow<K extends EffectKind> {
  readonly player: PlayerEffect;
  readonly write: (effect: EffectOf<K>, to: ByteWriter, leds: readonly MappedLed[], extras: Extras) => void;
  readonly map: (effect: EffectOf<K>, leds: readonly MappedLed[]) => Uint8Array;
  /** Colours of the gradient that the table holds; all 64 where absent. */
  readonly colours?: (effect: EffectOf<K>) => GradientUse;
}

/** Appends `bytes` unless the same bytes were appended before; returns their offset. */
export function once({ to, known }: Extras, bytes: Uint8Array): number {
  const key = bytes.join();
  const at = known.get(key) ?? to.length;
  if (!known.has(key)) {
    known.set(key, at);
    to.append(bytes);
  }
  return at;
}

/** One band there and back uses half a turn, so that its two ends don't meet. */
const stepsPerWay = ({ bands, travel }: EffectOf<'band'>): number =>
  travel === 'there-and-back' && bands === 1 ? turnSteps / 2 : turnSteps * bands;

/** Part of the gradient lies on the way. */
const wayColours = ({
  gradientPlace,
  gradientSpan,
}: {
  gradientPlace: number;
  gradientSpan: number;
}): GradientUse => ({ ...wholeTable, from: gradientPlace, span: gradientSpan });

const lightningSlotMs = 2000;

function writeDrift(
  to: ByteWriter,
  leds: readonly MappedLed[],
  patchMm: number,
  mmPerSecond: number,
  deg: number,
): void {
  const angle = (deg * Math.PI) / 180;
  // The lattice moves against the samples: to drift right, samples are taken further left.
  const cells = -mmPerSecond * cellsPerMm(leds, patchMm);
  to.u32(rate(cells * Math.cos(angle)));
  to.u32(rate(-cells * Math.sin(angle)));
}

/** So many LEDs in a row make the loop for rows worth its beginning of each row. */
const ledsWorthARow = 10;

/** Whether neighbours on the wire mostly share a height in the lattice, as in horizontal runs. */
export function isRowwise({ patchMm }: EffectOf<'cloud'>, leds: readonly MappedLed[]): boolean {
  return cloudRows(latticeMap(leds, patchMm)) * ledsWorthARow <= leds.length;
}

/** How often the height in the lattice changes along the wire, the beginning included. */
export function cloudRows(map: Uint8Array): number {
  let rows = 0;
  for (let y = 1; y < map.length; y += 2) if (y === 1 || map[y] !== map[y - 2]) rows++;
  return rows;
}

const places = (_effect: unknown, leds: readonly MappedLed[]): Uint8Array => wayMap(leds, 1);

const columnTravels = { fills: 0, empties: 1, 'fills-and-empties': 2 } as const;
const fireBase = 80;

const stars =
  (dies: 0 | 1) => (effect: { lifeSeconds: number; density: number; seed: number }, to: ByteWriter) => {
    to.u32(rate(1 / effect.lifeSeconds));
    to.u8(byte(effect.density));
    to.u8(effect.seed);
    to.u8(dies);
  };

export const effectRows: { readonly [K in EffectKind]: EffectRow<K> } = {
  glow: {
    player: 'glow',
    map: places,
    colours: wayColours,
    write: (effect, to) => {
      to.u32(effect.breathSeconds === undefined ? 0 : rate(1 / effect.breathSeconds));
      to.u8(effect.breathSeconds === undefined ? 0 : byte(effect.depth ?? 0));
    },
  },
  band: {
    player: 'bands',
    map: (effect, leds) => wayMap(leds, stepsPerWay(effect) / turnSteps, effect.mirror),
    colours: (effect) => bandColours(effect.width * stepsPerWay(effect)),
    write: (effect, to) => {
      const widthSteps = heldWidth(effect.width * stepsPerWay(effect));
      writeBands(to, {
        // A turn is the distance between two bands; there and back, it is both ways.
        turnsPerSecond:
          effect.travel === 'there-and-back' ? 0.5 / effect.passSeconds : effect.bands / effect.passSeconds,
        widthSteps,
        offsetSteps: widthSteps / 2,
        softness: effect.softness,
        tail: effect.tail ?? 0,
        travel: effect.travel,
        easing: effect.easing,
        lowFirst: false,
        bands: effect.bands,
      });
    },
  },
  chase: {
    player: 'bands',
    map: (effect, leds) => chaseMap(leds, effect.every),
    colours: (effect) => bandColours(chaseWidth(effect)),
    write: (effect, to) =>
      writeBands(to, {
        turnsPerSecond: 1 / (effect.every * effect.stepSeconds),
        widthSteps: chaseWidth(effect),
        offsetSteps: chaseWidth(effect) / 2,
        softness: effect.softness === 0 ? 0 : 1,
        tail: 0,
        travel: effect.travel,
        lowFirst: false,
        bands: effect.every,
      }),
  },
  spokes: {
    player: 'bands',
    map: (effect, leds) => angleMap(leds, effect.centre, effect.spokes, (effect.twistDeg ?? 0) / 360),
    colours: (effect) => bandColours(effect.width * turnSteps),
    write: (effect, to) => {
      const widthSteps = heldWidth(effect.width * turnSteps);
      writeBands(to, {
        turnsPerSecond: effect.spokes / effect.turnSeconds,
        widthSteps,
        offsetSteps: widthSteps / 2,
        softness: effect.softness,
        tail: 0,
        travel: effect.counterClockwise ? 'backward' : 'forward',
        lowFirst: false,
        bands: effect.spokes,
      });
    },
  },
  rings: {
    player: 'bands',
    map: (effect, leds) => distanceMap(leds, effect.centre, effect.spacingMm),
    colours: (effect) => bandColours(effect.width * turnSteps),
    write: (effect, to) =>
      writeBands(to, {
        turnsPerSecond: 1 / effect.ringSeconds,
        widthSteps: effect.width * turnSteps,
        offsetSteps: 0,
        softness: 1,
        tail: 0,
        travel: effect.inward ? 'backward' : 'forward',
        lowFirst: true,
        bands: 1,
      }),
  },
  stream: {
    player: 'bands',
    map: (effect, leds) => wayMap(leds, effect.repeats),
    colours: () => bandColours(turnSteps),
    write: (effect, to) =>
      writeBands(to, {
        turnsPerSecond: effect.repeats / effect.passSeconds,
        widthSteps: turnSteps,
        offsetSteps: 0,
        softness: 0,
        tail: 0,
        travel: effect.travel,
        lowFirst: true,
        bands: effect.repeats,
      }),
  },
  column: {
    player: 'column',
    map: (effect, leds) => (effect.order === 'by-chance' ? chanceOrderMap(leds) : wayMap(leds, 1)),
    write: (effect, to) => {
      const endEntries = Math.max(1, Math.round(effect.softness * gradientEntries));
      to.u32(rate((effect.travel === 'fills-and-empties' ? 0.5 : 1) / effect.fillSeconds));
      to.u16(word((255 * 256) / endEntries));
      to.u8(gradientEntries + endEntries);
      to.u8(columnTravels[effect.travel] + 4 * easings[effect.easing ?? 'none'] + (effect.byValue ? 16 : 0));
    },
  },
  bursts: {
    player: 'bursts',
    map: places,
    colours: wayColours,
    write: (effect, to) => {
      const flashesApart = effect.flashes + Math.round(effect.pauseSeconds * effect.flashesPerSecond);
      const lit = Math.round(effect.litShare * 256);
      const edge = (effect.softness * lit) / 2;
      to.u32(rate(effect.flashesPerSecond / flashesApart));
      to.u8(effect.flashes);
      to.u8(flashesApart);
      to.u8(lit);
      // The steepest edge takes four 256ths of a flash; a gentler one is full no later than half way through the light.
      to.u8(Math.min(255, Math.ceil((4 * 255) / Math.max(1, edge))));
    },
  },
  lightning: {
    player: 'lightning',
    map: places,
    colours: wayColours,
    write: (effect, to) => {
      to.u16(lightningSlotMs);
      to.u8(byte((effect.strikesPerMinute * lightningSlotMs) / 60_000));
      to.u8(effect.seed);
      to.u16(Math.round(effect.glowSeconds * 1000));
    },
  },
  stars: { player: 'stars', map: (_effect, leds) => chanceMap(leds), write: stars(0) },
  glints: { player: 'stars', map: (_effect, leds) => chanceMap(leds), write: stars(1) },
  cloud: {
    player: 'cloud',
    map: (effect, leds) => latticeMap(leds, effect.patchMm),
    write: (effect, to, leds) => {
      writeDrift(to, leds, effect.patchMm, effect.driftMmPerSecond, effect.driftDeg);
      to.u8(effect.seed);
      to.u8(isRowwise(effect, leds) ? 1 : 0);
    },
  },
  fire: {
    player: 'fire',
    map: (effect, leds) => fireMap(leds, effect.patchMm),
    write: (effect, to, leds) => {
      writeDrift(to, leds, effect.patchMm, effect.riseMmPerSecond, 90);
      to.u8(effect.seed);
      to.u8(0);
      to.u8(fireBase);
      // A flame of middling heat (128 of 255 over the base) has lost it all at its height; the player takes four times this share.
      to.u8(Math.min(255, Math.round(((128 + fireBase) / 4 / effect.height) * (256 / 255))));
    },
  },
  painted: {
    player: 'painted',
    map: () => new Uint8Array(),
    write: (effect, to, leds, extras) =>
      to.offset(writeFrames((bytes) => once(extras, bytes), packFrames(effect, leds))),
  },
  letters: {
    player: 'letters',
    map: (effect, leds) => letterMap(effect, leds),
    colours: () => ({ ...wholeTable, repeated: 4 }),
    write: (effect, to, leds, extras) => writeLetters(effect, to, leds, (bytes) => once(extras, bytes)),
  },
};

/** One lamp's share of a chase, or two where each fades into the next, steps. */
const chaseWidth = ({ every, softness }: EffectOf<'chase'>): number => (turnSteps / every) * (1 + softness);

const rowOf = (effect: Effect): EffectRow<EffectKind> => effectRows[effect.kind] as EffectRow<EffectKind>;

export const playerEffectOf = (effect: Effect): PlayerEffect => rowOf(effect).player;

/** Effects never change in place: what was made of one for a list of LEDs stays true. Keeps an edit of one clip cheap. */
function remembered<T>(make: (effect: Effect, leds: readonly MappedLed[]) => T): typeof make {
  const known = new WeakMap<Effect, { readonly leds: readonly MappedLed[]; readonly value: T }>();
  return (effect, leds) => {
    const last = known.get(effect);
    if (last?.leds === leds) return last.value;
    const value = make(effect, leds);
    known.set(effect, { leds, value });
    return value;
  };
}

/** What an effect knows of each LED, in the order of the LEDs, as long as its gradient stays. */
export const effectMap = remembered((effect, leds) => rowOf(effect).map(effect, leds));

const gradientUse = (effect: Effect): GradientUse => rowOf(effect).colours?.(effect) ?? wholeTable;

/** Part of a gradient that travels along itself: all of its colours come by, so that they all must be in the table. */
const travellingPart = ({ effect, cycle }: Pick<Clip, 'effect' | 'cycle'>) =>
  cycle && 'gradientPlace' in effect ? effect : undefined;

/** How a clip uses its gradient. */
export const clipColours = (clip: Pick<Clip, 'effect' | 'cycle'>): GradientUse =>
  travellingPart(clip) ? wholeTable : gradientUse(clip.effect);

/** What the player knows of each LED in a clip, in the order of the LEDs. */
export function clipMap(clip: Pick<Clip, 'effect' | 'cycle'>, leds: readonly MappedLed[]): Uint8Array {
  const part = travellingPart(clip);
  return part ? gradientMap(leds, part.gradientPlace, part.gradientSpan) : effectMap(clip.effect, leds);
}

/** The 16 parameter bytes. */
export function effectBytes(effect: Effect, leds: readonly MappedLed[], extras: Extras): Uint8Array {
  const to = new ByteWriter();
  rowOf(effect).write(effect, to, leds, extras);
  const bytes = new Uint8Array(parameterBytes);
  bytes.set(to.bytes());
  return bytes;
}

/** The same without what lies outside them: offsets are those of an empty show. */
export const effectParameters = remembered((effect, leds) =>
  effectBytes(effect, leds, { to: new ByteWriter(), known: new Map() }),
);

/** The gradient's own travel, turns a millisecond. */
export const cycleRate = (cycle: { seconds: number; backward?: boolean } | undefined): number =>
  cycle ? rate((cycle.backward ? 1 : -1) / cycle.seconds) : 0;
