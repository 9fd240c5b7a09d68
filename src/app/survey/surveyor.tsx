// Surveys the chosen show, and all that the project can play for flashes, for everything below.
import type { ReactNode } from 'react';
import { useFlashSurveying } from './use-flashes.ts';
import { SurveyContext, useSurveying } from './use-show-survey.ts';

export function Surveyor({ children }: { readonly children: ReactNode }) {
  useFlashSurveying();
  return <SurveyContext.Provider value={useSurveying()}>{children}</SurveyContext.Provider>;
}
