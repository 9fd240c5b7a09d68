// The survey of the show that is chosen, made while the page has time and anew after every edit of it. Until a new one is done the last one
// stands, so that its figures don't flicker under the hand.
import { createContext, useContext, useEffect, useMemo, useState } from 'react';
import type { CompiledProject } from '../../board/index.ts';
import { framesOfShow } from '../playback/frames.ts';
import { usePlaybackPart, useSettled, useWorkbench } from '../workbench/context.ts';
import { type ShowSurvey, surveyShow } from './show-survey.ts';

/** A third of the shortest frame: playing must not stumble. */
const sliceMs = 5;
/** A burst of edits is surveyed once, when it is over. */
const calmMs = 250;

interface KnownSurvey {
  readonly show: string;
  readonly survey: ShowSurvey;
  /** What it was made from. */
  readonly showData: CompiledProject['showData'];
}

export interface ShownSurvey {
  /** Undefined until the first is done. */
  readonly survey: ShowSurvey | undefined;
  /** Whether it is of the document as it is, and not of the one before the last edits. */
  readonly isCurrent: boolean;
}

const noSurvey: ShownSurvey = { survey: undefined, isCurrent: false };

export const SurveyContext = createContext<ShownSurvey>(noSurvey);

/** The survey of the show that is chosen. */
export const useShowSurvey = (): ShownSurvey => useContext(SurveyContext);

/** Makes the surveys; once on the page, for all who read them. */
export function useSurveying(): ShownSurvey {
  const id = usePlaybackPart('show');
  const workbench = useWorkbench();
  const compiled = useSettled();
  const [known, setKnown] = useState<KnownSurvey>();
  const { showData } = compiled;
  // What the wire carries follows from the show data alone.
  // biome-ignore lint/correctness/useExhaustiveDependencies: show and frame time come with the show data
  useEffect(() => {
    const show = compiled.project.lampshows.find((one) => one.id === id);
    if (!show || !showData) return;
    let wanted = true;
    let sliceEnd = 0;
    const pauseFor = (delayMs: number) =>
      new Promise<boolean>((resolve) => {
        setTimeout(() => {
          sliceEnd = performance.now() + sliceMs;
          // An edit may come before this effect hears of it.
          resolve(wanted && workbench.state.settled.showData === showData);
        }, delayMs);
      });
    const survey = async () => {
      if (!(await pauseFor(known?.show === id ? calmMs : 0))) return undefined;
      workbench.settleFigures();
      return surveyShow({
        panel: workbench.state.figures.assessment.panel,
        frameCount: framesOfShow(show, compiled.frameMs),
        wireBytes: (frame) => workbench.wireBytes(id, frame),
        isSliceOver: () => performance.now() >= sliceEnd,
        pause: () => pauseFor(0),
      });
    };
    survey().then(
      (done) => done && wanted && setKnown({ show: id, survey: done, showData }),
      (error: unknown) =>
        setKnown(() => {
          throw error;
        }),
    );
    return () => {
      wanted = false;
    };
  }, [workbench, id, showData]);
  return useMemo(
    () => (known?.show === id ? { survey: known.survey, isCurrent: known.showData === showData } : noSurvey),
    [known, id, showData],
  );
}
