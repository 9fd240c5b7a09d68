// Effects: from the document's plain units to the player's 13 parameter bytes. One row an effect, like effects.h on the other side.
// Not here: what the effect looks like (firmware-templates/player/effects.h). How to add one: DEVELOPERS.md.
import type { Effect, EffectKind, EffectOf } from '../project/index.ts';
import { ByteWriter } from './byte-writer.ts';

/** What parameters in mm and seconds need to know. */
export interface EffectScale {
  /** Millimetres of one position unit: the panel's diagonal is 255 units. */
  readonly unitMm: number;
}

export const parameterBytes = 13;

interface EffectRow<K extends EffectKind> {
  /** EffectNumber of show_data.h. */
  readonly number: number;
  readonly write: (effect: EffectOf<K>, to: ByteWriter, scale: EffectScale) => void;
}

/** Turns (or cells) a millisecond, 8.24 fixed point. */
const rate = (turnsPerSecond: number): number => Math.round((turnsPerSecond / 1000) * 2 ** 24);
const byte = (share: number): number => Math.min(255, Math.max(0, Math.round(share * 255)));
const word = (value: number): number => Math.min(65_535, Math.max(0, Math.round(value)));
/** A position in units, held on the panel. */
export const positionUnit = (mm: number, scale: EffectScale): number =>
  Math.min(255, Math.max(0, Math.round(mm / scale.unitMm)));

const travels = { forward: 0, backward: 1, 'there-and-back': 2 } as const;
/** Places run from 0 to 255; a whole turn is 65,536. One band there and back uses half a turn, so that its two ends don't meet. */
const wayStep = { forward: 256, backward: 256, 'there-and-back': 128 } as const;
/** Narrower bands would vanish between two places. */
const leastHalfWidth = 320;
/** Cells a unit, 0.16 fixed point: the lattice of 9 x 9 corners has room for 7 cells across the diagonal, and one more for the drift. */
const mostCellStep = Math.floor((7 * 65_536) / 255);

export const effectRows: { readonly [K in EffectKind]: EffectRow<K> } = {
  glow: {
    number: 0,
    write: (effect, to) => {
      to.u32(effect.breathSeconds === undefined ? 0 : rate(1 / effect.breathSeconds));
      to.u8(effect.breathSeconds === undefined ? 0 : byte(effect.depth ?? 0));
      to.u8(byte(effect.gradientPlace));
      to.u8(byte(effect.gradientSpan));
    },
  },
  band: {
    number: 1,
    write: (effect, to) => {
      const step = effect.bands > 1 ? 256 * effect.bands : wayStep[effect.travel];
      const halfWidth = Math.min(32_767, Math.max(leastHalfWidth, (effect.width * step * 256) / 2));
      // A turn is the distance between two bands; there and back, it is both ways.
      to.u32(
        rate(
          effect.travel === 'there-and-back' ? 0.5 / effect.passSeconds : effect.bands / effect.passSeconds,
        ),
      );
      to.u16(step);
      to.u16(word(halfWidth));
      to.u16(word((255 * 65_536) / halfWidth));
      to.u8(Math.min(255, Math.round(16 / Math.max(effect.softness, 1 / 15))));
      to.u8(travels[effect.travel]);
    },
  },
  stars: {
    number: 2,
    write: (effect, to) => {
      to.u32(rate(1 / effect.lifeSeconds));
      to.u8(byte(effect.density));
      to.u8(effect.seed);
    },
  },
  rings: {
    number: 3,
    write: (effect, to, scale) => {
      // A ring is 256 steps wide, of which this many are lit.
      const litSteps = Math.max(1, Math.round(effect.width * 256));
      to.u32(rate(1 / effect.ringSeconds));
      to.u8(positionUnit(effect.centre.xMm, scale));
      to.u8(positionUnit(effect.centre.yMm, scale));
      to.u16(word((65_536 * scale.unitMm) / effect.spacingMm));
      to.u8(litSteps - 1);
      to.u16(word(65_536 / litSteps));
      to.u8(effect.inward ? 1 : 0);
    },
  },
  cloud: {
    number: 4,
    write: (effect, to, scale) => {
      const cellsPerUnit = cloudCellStep(effect.patchMm, scale) / 65_536;
      const cellsPerMm = cellsPerUnit / scale.unitMm;
      const angle = (effect.driftDeg * Math.PI) / 180;
      // The lattice moves against the samples: to drift right, samples are taken further left.
      const drift = (direction: number) => rate(-effect.driftMmPerSecond * cellsPerMm * direction) >>> 0;
      to.u16(Math.round(cellsPerUnit * 65_536));
      to.u8(effect.seed);
      to.u32(drift(Math.cos(angle)));
      to.u32(drift(-Math.sin(angle)));
    },
  },
};

/** Cells a unit, 0.16 fixed point, held to what the player can draw. */
export const cloudCellStep = (patchMm: number, scale: EffectScale): number =>
  Math.min(mostCellStep, Math.max(1, Math.round((65_536 * scale.unitMm) / patchMm)));

/** EffectNumber and the 13 parameter bytes. */
export function effectBytes(
  effect: Effect,
  scale: EffectScale,
): { readonly number: number; readonly bytes: Uint8Array } {
  const row = effectRows[effect.kind] as EffectRow<EffectKind>;
  const to = new ByteWriter();
  row.write(effect, to, scale);
  const bytes = new Uint8Array(parameterBytes);
  bytes.set(to.bytes());
  return { number: row.number, bytes };
}
