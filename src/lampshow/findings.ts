// What is worth telling about lampshows: clips that never play, and parameters that the player can't follow to the letter.
// Not here: too large or too slow for the board (src/board/budget.ts), flash analysis (src/light, later).
import {
  type Clip,
  type EffectKind,
  type EffectOf,
  type Finding,
  limits,
  type Project,
  pointer,
} from '../project/index.ts';
import { cloudCellStep, type EffectScale } from './effects.ts';
import type { SpeedPrediction } from './frame-time.ts';
import { effectScale } from './show-data.ts';

interface Remark {
  readonly code: string;
  readonly message: string;
  readonly mend: string;
}

type Remarks = {
  readonly [K in EffectKind]?: (
    effect: EffectOf<K>,
    project: Project,
    scale: EffectScale,
  ) => Remark | undefined;
};

/** Positions are whole units of a 255th of the diagonal; a ring needs a few of them to have a shape. */
const leastRingUnits = 3;

/** The drift is a whole number of 2^-24 cells a millisecond; below ten of them it would be over 5 % off. */
const leastDriftRate = 10;

const remarks: Remarks = {
  rings: ({ centre, spacingMm }, { panel }, { unitMm }) => {
    if (centre.xMm < 0 || centre.xMm > panel.widthMm || centre.yMm < 0 || centre.yMm > panel.heightMm)
      return {
        code: 'ring-centre-off-panel',
        message: 'The rings start outside the panel; the player takes the nearest place it can name.',
        mend: 'Move their centre onto the panel.',
      };
    if (spacingMm < leastRingUnits * unitMm)
      return {
        code: 'ring-spacing-small',
        message: `Rings every ${spacingMm} mm are finer than the player can tell apart on this panel.`,
        mend: `Space them at least ${Math.ceil(leastRingUnits * unitMm)} mm apart.`,
      };
    return undefined;
  },
  cloud: ({ patchMm, driftMmPerSecond }, _project, scale) => {
    const step = cloudCellStep(patchMm, scale);
    const leastMm = (65_536 * scale.unitMm) / cloudCellStep(Number.MIN_VALUE, scale);
    if (patchMm < leastMm)
      return {
        code: 'cloud-patch-small',
        message: `Patches of ${patchMm} mm are finer than the player can draw; they become ${leastMm.toFixed(0)} mm.`,
        mend: `Make them at least ${Math.ceil(leastMm)} mm.`,
      };
    const leastDrift = (leastDriftRate * 1000 * 65_536 * scale.unitMm) / (2 ** 24 * step);
    if (driftMmPerSecond > 0 && driftMmPerSecond < leastDrift)
      return {
        code: 'cloud-drift-slow',
        message: `A drift of ${driftMmPerSecond} mm/s is slower than the player can keep to.`,
        mend: `Let it drift at least ${leastDrift.toFixed(1)} mm/s, or not at all.`,
      };
    return undefined;
  },
};

function remarkOn(clip: Clip, project: Project, scale: EffectScale): Remark | undefined {
  const row = remarks[clip.effect.kind] as
    | ((effect: Clip['effect'], project: Project, scale: EffectScale) => Remark | undefined)
    | undefined;
  return row?.(clip.effect, project, scale);
}

/** Findings about all shows. */
export function lampshowFindings(project: Project, speed: SpeedPrediction): Finding[] {
  const findings: Finding[] = [];
  const scale = effectScale(project);
  for (const [s, show] of project.lampshows.entries())
    for (const [r, row] of show.rows.entries())
      for (const [c, clip] of row.clips.entries()) {
        const at = pointer('lampshows', s, 'rows', r, 'clips', c);
        if (clip.startMs >= show.lengthMs)
          findings.push({
            severity: 'warning',
            code: 'clip-after-end',
            at: `${at}/startMs`,
            message: `The clip starts at ${clip.startMs} ms, but the show "${show.id}" ends at ${show.lengthMs} ms.`,
            mend: 'Start it earlier, or lengthen the show.',
          });
        const remark = remarkOn(clip, project, scale);
        if (remark) findings.push({ severity: 'warning', at: `${at}/effect`, ...remark });
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
