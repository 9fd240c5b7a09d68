// The chains as columns, one a run, in planned order; runs outside every chain come last. And where a column that is dragged comes to stand. Pure.
import { chainNumbers, type Layout, type PlacedRun } from '../../../panel/index.ts';
import type { Project } from '../../../project/index.ts';
import type { ChainPlace } from './chain-places.ts';

/** The jumper that leads to a run; none leads to the first of a line, nor to one that the data goes past. */
export interface JumperPlace extends ChainPlace {
  readonly power: 'carried' | 'cut';
  readonly lengthMm: number;
}

export interface ChainColumn {
  readonly placed: PlacedRun;
  /** Undefined outside every chain. */
  readonly at: ChainPlace | undefined;
  /** On the panel; runs that no data reaches have none. */
  readonly number: number | undefined;
  readonly jumper: JumperPlace | undefined;
}

export function chainColumns(project: Project, layout: Layout): ChainColumn[] {
  const placedOf = new Map(layout.runs.map((placed) => [placed.run.id, placed]));
  const numbers = chainNumbers(layout);
  const jumpers = new Map(
    layout.lines.flatMap(({ index: line, jumpers: own }) =>
      own.map(({ to, place, power, lengthMm }): [string, JumperPlace] => [
        to.run.id,
        { line, place, power, lengthMm },
      ]),
    ),
  );
  const column = (run: string, at?: ChainPlace): ChainColumn => ({
    placed: placedOf.get(run)!,
    at,
    number: numbers.get(run),
    jumper: jumpers.get(run),
  });
  const chained = project.dataLines.flatMap(({ chain }, line) =>
    chain.map(({ run }, place) => column(run, { line, place })),
  );
  const inChain = new Set(chained.map(({ placed }) => placed.run.id));
  const outside = project.runs.filter(({ id }) => !inChain.has(id)).map(({ id }) => column(id));
  return [...chained, ...outside];
}

export interface Drop {
  /** The column that the pointer is over. */
  readonly target: string;
  readonly side: 'before' | 'behind';
}

/** Where the run comes to stand: its place once it is out of the chain, or outside. Undefined where nothing changes. */
export function placeOfDrop(
  columns: readonly ChainColumn[],
  run: string,
  { target, side }: Drop,
): ChainPlace | 'outside' | undefined {
  const from = columns.find(({ placed }) => placed.run.id === run);
  const to = columns.find(({ placed }) => placed.run.id === target);
  if (!from || !to || from === to) return undefined;
  if (!to.at) return from.at ? 'outside' : undefined;
  const sameLine = from.at?.line === to.at.line;
  const before = to.at.place + (side === 'behind' ? 1 : 0);
  const place = sameLine && from.at!.place < before ? before - 1 : before;
  return sameLine && place === from.at!.place ? undefined : { line: to.at.line, place };
}
