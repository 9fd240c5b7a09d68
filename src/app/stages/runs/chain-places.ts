// Where a run stands in the chains, and what a data line is called. Pure.
import { boards, pinLabel, rowById } from '../../../catalogue/index.ts';
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

/** A data line by its pin's name as printed on the board: D2, A0. */
export function lineName({ board, dataLines }: Pick<Project, 'board' | 'dataLines'>, line: number): string {
  const pin = dataLines[line]?.pin;
  return pin === undefined ? `Line ${line + 1}, no pin` : pinLabel(rowById(boards, board.id)!, pin);
}
