// The survey of the show that is chosen, made while the page has time; a show that was surveyed before is at hand at once.
import { useEffect, useState } from 'react';
import { framesOfShow, type OpenedProject } from '../opening/open-project.ts';
import { type ShowSurvey, surveyShow } from './show-survey.ts';

/** A third of the shortest frame: playing must not stumble. */
const sliceMs = 5;

export function useShowSurvey(opened: OpenedProject, show: string): ShowSurvey | undefined {
  const [surveys, setSurveys] = useState<ReadonlyMap<string, ShowSurvey>>(new Map());
  const known = surveys.get(show);
  useEffect(() => {
    if (known) return;
    let wanted = true;
    let sliceEnd = 0;
    const { examination, assessment, project } = opened;
    const survey = surveyShow({
      layout: examination.layout,
      panel: assessment.panel,
      frameCount: framesOfShow(project.lampshows.find((one) => one.id === show)!, examination.frameMs),
      wireBytes: (frame) => opened.wireBytes(show, frame),
      isSliceOver: () => performance.now() >= sliceEnd,
      pause: () =>
        new Promise((resolve) => {
          setTimeout(() => {
            sliceEnd = performance.now() + sliceMs;
            resolve(wanted);
          });
        }),
    });
    survey.then(
      (done) => done && setSurveys((before) => new Map([...before, [show, done]])),
      (error: unknown) =>
        setSurveys(() => {
          throw error;
        }),
    );
    return () => {
      wanted = false;
    };
  }, [opened, show, known]);
  return known;
}
