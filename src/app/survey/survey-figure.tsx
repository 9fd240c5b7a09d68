// A figure of the chosen show's survey, in amperes: soft while a new survey is being made, dashes before the first.
import type { ShowSurvey } from './show-survey.ts';
import css from './survey.module.css';
import { useShowSurvey } from './use-show-survey.ts';

export function SurveyFigure({ of }: { readonly of: (survey: ShowSurvey) => number }) {
  const { survey, isCurrent } = useShowSurvey();
  if (!survey) return '-.--';
  return isCurrent ? (
    of(survey).toFixed(2)
  ) : (
    <span className={css['old']} title="being measured again">
      {of(survey).toFixed(2)}
    </span>
  );
}
