// Where a run stands in the chains, and what a data line is called. Pure.
import type { Project } from '../../../project/index.ts';

export interface ChainPlace {
  readonly line: number;
  /** From 0. */
  readonly place: number;
}

export function chainPlaceOf({ dataLines }: Pick<Project, 'dataLines'>, run: string): ChainPlace | undefined {
  for (const [line, { chain }] of dataLines.entries()) {
    const place = chain.findIndex((link) => link.run === run);
    if (place >= 0) return { line, place };
  }
  return undefined;
}

/** Arduino's names: D2, and A0 for pin 14 of the small boards. */
export const pinName = (pin: number | undefined, line: number): string =>
  pin === undefined ? `Line ${line + 1}, no pin` : pin < 14 ? `D${pin}` : `A${pin - 14}`;
