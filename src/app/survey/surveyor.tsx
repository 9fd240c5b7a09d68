// Surveys the chosen show for everything below.
import type { ReactNode } from 'react';
import { SurveyContext, useSurveying } from './use-show-survey.ts';

export const Surveyor = ({ children }: { readonly children: ReactNode }) => (
  <SurveyContext.Provider value={useSurveying()}>{children}</SurveyContext.Provider>
);
