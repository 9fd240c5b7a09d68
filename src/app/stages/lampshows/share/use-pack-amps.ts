// What the shows of a pack draw on this panel, each at its peak, without the current limit: played from beginning to end by a player of its own while the
// page has time.
import { useEffect, useState } from 'react';
import playerUrl from '../../../../../firmware-templates/prebuilt/player.wasm?url';
import { Player } from '../../../../lampshow/index.ts';
import { framesOfShow } from '../../../playback/frames.ts';
import { surveyShow } from '../../../survey/show-survey.ts';
import { useWorkbench } from '../../../workbench/context.ts';
import type { PackPreview } from './pack-preview.ts';

/** A third of the shortest frame. */
const sliceMs = 5;
const calmMs = 250;

/** Peak amperes by show id; those that are not known yet are missing. */
export function usePackAmps(preview: PackPreview | undefined): ReadonlyMap<string, number> {
  const workbench = useWorkbench();
  const [amps, setAmps] = useState<{
    readonly of: PackPreview;
    readonly peaks: ReadonlyMap<string, number>;
  }>();
  useEffect(() => {
    if (!preview?.after || !preview.unlimited) return;
    const { after, unlimited, plan } = preview;
    let wanted = true;
    let sliceEnd = 0;
    const pauseFor = (delayMs: number) =>
      new Promise<boolean>((resolve) => {
        setTimeout(() => {
          sliceEnd = performance.now() + sliceMs;
          resolve(wanted);
        }, delayMs);
      });
    const survey = async () => {
      if (!(await pauseFor(calmMs))) return;
      const response = await fetch(playerUrl);
      const player = await Player.load(await response.arrayBuffer());
      player.setShowData(unlimited);
      const peaks = new Map<string, number>();
      for (const id of plan.shows) {
        const show = after.project.lampshows.find((one) => one.id === id)!;
        const done = await surveyShow({
          panel: workbench.state.figures.assessment.panel,
          frameCount: framesOfShow(show, unlimited.frameMs),
          wireBytes: (frame) => player.frame(id, frame),
          isSliceOver: () => performance.now() >= sliceEnd,
          pause: () => pauseFor(0),
        });
        if (!done) return;
        peaks.set(id, done.peakAmps);
        setAmps({ of: preview, peaks: new Map(peaks) });
      }
    };
    survey().catch((error: unknown) =>
      setAmps(() => {
        throw error;
      }),
    );
    return () => {
      wanted = false;
    };
  }, [workbench, preview]);
  return amps && amps.of === preview ? amps.peaks : new Map();
}
