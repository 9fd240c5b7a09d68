// What is worth telling about lampshows: clips that never play, and parameters that the player can't follow to the letter.
// Not here: too large or too slow for the board (src/board/budget.ts), flash analysis (src/light, later).
import { areaLeds, type Layout } from '../panel/index.ts';
import {
  type Clip,
  type EffectKind,
  type EffectOf,
  type Finding,
  limits,
  type Project,
  pointer,
} from '../project/index.ts';
import type { SpeedPrediction } from './frame-time.ts';
import { lettersFault } from './letters.ts';
import { cellsPerMm, leastPatchMm, type MappedLed, mappedLeds } from './maps.ts';

interface Remark {
  readonly code: string;
  readonly message: string;
  readonly mend: string;
}

type Remarks = {
  readonly [K in EffectKind]?: (effect: EffectOf<K>, leds: readonly MappedLed[]) => Remark | undefined;
};

/** Rings closer than the LEDs themselves can't be told apart: two LEDs a ring at least, of the closest neighbours along a run. */
const leastLedsARing = 2;

/** The drift is a whole number of 2^-24 cells a millisecond; below ten of them it would be over 5 % off. */
const leastDriftRate = 10;

function latticeRemark(patchMm: number, speed: number, leds: readonly MappedLed[]): Remark | undefined {
  const leastMm = leastPatchMm(leds);
  if (patchMm < leastMm)
    return {
      code: 'cloud-patch-small',
      message: `Patches of ${patchMm} mm are finer than the player can draw on this area; they become ${leastMm.toFixed(0)} mm.`,
      mend: `Make them at least ${Math.ceil(leastMm)} mm.`,
    };
  const leastSpeed = (leastDriftRate * 1000) / (2 ** 24 * cellsPerMm(leds, patchMm));
  if (speed > 0 && speed < leastSpeed)
    return {
      code: 'cloud-drift-slow',
      message: `${speed} mm/s is slower than the player can keep to.`,
      mend: `Let it drift at least ${leastSpeed.toFixed(1)} mm/s, or not at all.`,
    };
  return undefined;
}

/** Distance of the two closest neighbours on the wire, mm; 0 for a lone LED. */
function closestMm(leds: readonly MappedLed[]): number {
  const distances = leds.slice(1).map((led, i) => Math.hypot(led.xMm - leds[i]!.xMm, led.yMm - leds[i]!.yMm));
  return distances.length === 0 ? 0 : distances.reduce((least, mm) => Math.min(least, mm));
}

const remarks: Remarks = {
  rings: ({ spacingMm }, leds) => {
    const leastMm = leastLedsARing * closestMm(leds);
    if (spacingMm < leastMm)
      return {
        code: 'ring-spacing-small',
        message: `Rings every ${spacingMm} mm are finer than the LEDs of this area can show.`,
        mend: `Space them at least ${Math.ceil(leastMm)} mm apart.`,
      };
    return undefined;
  },
  cloud: ({ patchMm, driftMmPerSecond }, leds) => latticeRemark(patchMm, driftMmPerSecond, leds),
  fire: ({ patchMm, riseMmPerSecond }, leds) => latticeRemark(patchMm, riseMmPerSecond, leds),
};

const remarkOn = ({ effect }: Clip, leds: readonly MappedLed[]): Omit<Finding, 'at'> | undefined => {
  if (leds.length === 0) return undefined;
  if (effect.kind === 'letters') return lettersFault(effect, leds);
  const row = remarks[effect.kind] as
    | ((effect: Clip['effect'], leds: readonly MappedLed[]) => Remark | undefined)
    | undefined;
  const remark = row?.(effect, leds);
  return remark && { severity: 'warning', ...remark };
};

/** Findings about all shows. */
export function lampshowFindings(project: Project, layout: Layout, speed: SpeedPrediction): Finding[] {
  const findings: Finding[] = [];
  const ledsById = new Map(
    project.areas.map((area) => [area.id, mappedLeds(areaLeds(layout, area))] as const),
  );
  for (const [s, show] of project.lampshows.entries())
    for (const [r, row] of show.rows.entries()) {
      if (row.muted && row.clips.length > 0)
        findings.push({
          severity: 'note',
          code: 'row-muted',
          at: pointer('lampshows', s, 'rows', r, 'muted'),
          message: `A row of "${show.id}" is muted: it plays neither here nor on the board.`,
          mend: 'Turn it on again before you export.',
        });
      for (const [c, clip] of row.clips.entries()) {
        const at = pointer('lampshows', s, 'rows', r, 'clips', c);
        if (clip.startMs >= show.lengthMs)
          findings.push({
            severity: 'warning',
            code: 'clip-after-end',
            at: `${at}/startMs`,
            message: `The clip starts at ${clip.startMs / 1000} s, but the show "${show.name ?? show.id}" ends at ${show.lengthMs / 1000} s.`,
            mend: 'Start it earlier, or lengthen the show.',
          });
        const remark = remarkOn(clip, ledsById.get(clip.area)!);
        if (remark) findings.push({ at: `${at}/effect`, ...remark });
      }
    }
  if (speed.frameMs > limits.frameMs)
    findings.push({
      severity: 'error',
      code: 'show-too-slow',
      at: '/lampshows',
      message: `The slowest frame would take ${speed.frameMs} ms; the player's limit is ${limits.frameMs} ms.`,
      mend: 'Let fewer clips play at the same time, or let them light fewer LEDs.',
    });
  return findings;
}
