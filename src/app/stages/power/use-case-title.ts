// What the figures of the chosen thing are of: the case that is looked at, and whether something is taken to be broken.
import { useFigures, useShownPower } from '../../workbench/context.ts';
import { caseTitle } from '../../workbench/power-view.ts';

export function useIsBroken(): boolean {
  const { assessment: plan } = useFigures();
  const { assessment } = useShownPower();
  return assessment !== plan;
}

/** To go on with after other words. */
export const lowered = (title: string): string => `${title.charAt(0).toLowerCase()}${title.slice(1)}`;

export function useCaseTitle(): string {
  const { compiled, assessment } = useFigures();
  const { view } = useShownPower();
  const { limitAmps } = compiled.project.power;
  return caseTitle(view.loadCase, { limitAmps, hotCelsius: assessment.hot.celsius }, useIsBroken());
}
