// Whether the panel is as large as the real artwork: each measure against the distance of its two places on the panel.
// Not here: setting the scale (true-scale.ts), editing measures (src/project/edits-measures.ts).
import { type Finding, type Project, pointer } from '../project/index.ts';
import { distanceMm } from './plane.ts';

/** A tape measure is read to half a millimetre; over longer ways a panel that is true to half a per cent still meets its channels (common practice, no source). */
const toleranceMm = 0.5;
const toleranceShare = 0.005;

/** A warning for each measure that is off by more than both tolerances. */
export function measureFindings({ panel }: Pick<Project, 'panel'>): Finding[] {
  return (panel.measures ?? []).flatMap(({ from, to, measuredMm }, index): Finding[] => {
    const foundMm = distanceMm(from, to);
    const offMm = Math.abs(foundMm - measuredMm);
    if (offMm <= toleranceMm || offMm <= toleranceShare * measuredMm) return [];
    return [
      {
        severity: 'warning',
        code: 'scale-check',
        at: pointer('panel', 'measures', index),
        message: `These places lie ${foundMm.toFixed(1)} mm apart on the panel, but ${measuredMm.toFixed(1)} mm were measured.`,
        mend:
          index === 0
            ? 'Set the scale from this measure again, or measure once more.'
            : 'Measure once more; if both measures hold, straighten the photo by its four corners.',
      },
    ];
  });
}
