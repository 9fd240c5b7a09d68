// A show surveyed from its first frame to its last: what it draws at most and on average. Works in slices with a pause between, so that the
// page goes on drawing. Not here: volts; those of a whole show come from the command line's `power`.
import { frameAmps, type PanelNetwork, totalAmps } from '../../power/index.ts';

export interface ShowSurvey {
  readonly peakAmps: number;
  readonly averageAmps: number;
}

export interface SurveyTask {
  readonly panel: PanelNetwork;
  readonly frameCount: number;
  readonly wireBytes: (frame: number) => Uint8Array;
  /** Waits until there is time for the next slice; false: nobody wants the survey any more. */
  readonly pause: () => Promise<boolean>;
  /** Whether this slice has lasted long enough. */
  readonly isSliceOver: () => boolean;
}

/** Undefined where it was given up. */
export async function surveyShow(task: SurveyTask): Promise<ShowSurvey | undefined> {
  const { panel, frameCount, wireBytes, pause, isSliceOver } = task;
  const ledAmps = new Float64Array(panel.leds.length);
  let peakAmps = 0;
  let sumAmps = 0;
  for (let frame = 0; frame < frameCount; frame++) {
    if (isSliceOver() && !(await pause())) return undefined;
    const amps = totalAmps(frameAmps(panel, wireBytes(frame), ledAmps));
    peakAmps = Math.max(peakAmps, amps);
    sumAmps += amps;
  }
  return { peakAmps, averageAmps: sumAmps / Math.max(1, frameCount) };
}
