// What follows from the power that is on screen, worked out once for all who show it: the data lines, what each supply carries.
import {
  type DataLineAdvice,
  dataLineAdvice,
  dataLineFindings,
  type SupplyLoad,
  solvePanel,
  supplyLoads,
} from '../../../power/index.ts';
import type { Finding } from '../../../project/index.ts';
import { useFigures } from '../../workbench/context.ts';
import type { Figures } from '../../workbench/figures.ts';

/** An answer for each figures, made when it is first asked for. */
function once<T>(make: (figures: Figures) => T): (figures: Figures) => T {
  const known = new WeakMap<Figures, T>();
  return (figures) => {
    if (!known.has(figures)) known.set(figures, make(figures));
    return known.get(figures)!;
  };
}

const dataLinesOf = once(
  ({
    compiled: { project, layout },
    assessment: { panel, inUse },
  }): { readonly lines: readonly DataLineAdvice[]; readonly findings: readonly Finding[] } => {
    const given = { panel, volts: solvePanel(panel, inUse.ledAmps) };
    return {
      lines: dataLineAdvice(project, layout, given),
      findings: dataLineFindings(project, layout, given),
    };
  },
);

const supplyLoadsOf = once(({ compiled: { project }, assessment: { panel } }): readonly SupplyLoad[] =>
  supplyLoads(project, panel),
);

export const useDataLines = () => dataLinesOf(useFigures());
export const useSupplyLoads = (): readonly SupplyLoad[] => supplyLoadsOf(useFigures());
