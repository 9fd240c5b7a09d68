// Which supply each run of a path is planned on, and where + must not be joined for it. A plan moves no run to another supply: it keeps the one of its present
// feeds, so what a supply carries, and whether it is enough, stays as it is. Where there are none it goes with the runs that its + is joined to, else it takes
// the first supply that its strip is made for. + is cut between runs of two supplies, and so between strips for different volts: no supply suits both.
// What stands against that in the document is told as faults. Not here: their wording (plan-reasons.ts), and the plan itself.
import type { Feed, StripData } from '../project/index.ts';
import { supplyVoltsWrong } from './findings-supplies.ts';
import { type Supply, supplyOf } from './supplies.ts';

/** A run of a path, with the + jumper before it as built; the first run has none. */
export interface SuppliedRun {
  readonly run: string;
  readonly strip: StripData;
  readonly isJoined: boolean;
  /** Whether planning may change that. */
  readonly isFree: boolean;
}

export type SupplyFault =
  /** Kept feeds from more than one supply where + stays joined. */
  | { readonly kind: 'several-supplies'; readonly runs: readonly string[] }
  /** + stays joined between strips for different volts. */
  | { readonly kind: 'several-volts'; readonly runs: readonly string[]; readonly volts: readonly number[] }
  /** A strip that its supply is not made for. */
  | {
      readonly kind: 'wrong-supply';
      readonly runs: readonly string[];
      readonly strip: StripData;
      readonly supply: Supply;
    };

export interface PathSupplies {
  /** By run: index of its supply. */
  readonly supplies: readonly number[];
  /** By run: whether + before it must be cut; false for the first. */
  readonly isCut: readonly boolean[];
  readonly faults: readonly SupplyFault[];
}

/** Runs whose + no plan divides. */
interface Block {
  readonly runs: SuppliedRun[];
  readonly faults: SupplyFault[];
  supply: number | undefined;
}

function blocksOf(runs: readonly SuppliedRun[]): Block[] {
  const blocks: Block[] = [];
  for (const [index, run] of runs.entries())
    if (index > 0 && run.isJoined && !run.isFree) blocks.at(-1)!.runs.push(run);
    else blocks.push({ runs: [run], faults: [], supply: undefined });
  return blocks;
}

const idsOf = (runs: readonly SuppliedRun[]): string[] => runs.map(({ run }) => run);

/** The supply of a block's own feeds, kept ones before others. */
function takeFromFeeds(block: Block, supplies: readonly Supply[], feeds: readonly Feed[]): void {
  const own = feeds.filter(({ run }) => block.runs.some((one) => one.run === run));
  const kept = own.filter(({ isKept }) => isKept);
  const used = new Set((kept.length > 0 ? kept : own.slice(0, 1)).map((feed) => supplyOf(supplies, feed)));
  [block.supply] = used;
  if (used.size > 1) block.faults.push({ kind: 'several-supplies', runs: idsOf(block.runs) });
}

/** Whether + is joined between a block and the one before it, between strips for the same volts. */
const goWith = (before: Block | undefined, block: Block | undefined): boolean =>
  before !== undefined &&
  block !== undefined &&
  block.runs[0]!.isJoined &&
  before.runs.at(-1)!.strip.supplyVolts === block.runs[0]!.strip.supplyVolts;

function takeFromNeighbours(blocks: readonly Block[]): void {
  for (const [index, block] of blocks.entries())
    if (goWith(blocks[index - 1], block)) block.supply ??= blocks[index - 1]!.supply;
  for (let index = blocks.length - 2; index >= 0; index--)
    if (goWith(blocks[index], blocks[index + 1])) blocks[index]!.supply ??= blocks[index + 1]!.supply;
}

const firstThatSuits = ({ runs }: Block, supplies: readonly Supply[]): number =>
  Math.max(
    0,
    supplies.findIndex((supply) => runs.every(({ strip }) => supplyVoltsWrong(strip, supply) === undefined)),
  );

function voltsFaults(blocks: readonly Block[], supplies: readonly Supply[]): SupplyFault[] {
  const several = blocks.flatMap(({ runs }): SupplyFault[] => {
    const volts = [...new Set(runs.map(({ strip }) => strip.supplyVolts))];
    return volts.length > 1 ? [{ kind: 'several-volts', runs: idsOf(runs), volts }] : [];
  });
  if (several.length > 0) return several;
  const wrong = new Map<string, { strip: StripData; supply: Supply; runs: string[] }>();
  for (const { runs, supply: index } of blocks)
    for (const { run, strip } of runs) {
      const supply = supplies[index!]!;
      if (supplyVoltsWrong(strip, supply) === undefined) continue;
      const key = `${index} ${strip.id}`;
      wrong.set(key, { strip, supply, runs: [...(wrong.get(key)?.runs ?? []), run] });
    }
  return [...wrong.values()].map((one): SupplyFault => ({ kind: 'wrong-supply', ...one }));
}

/**
 * @param runs of one data line as built, or one run outside every chain
 * @param feeds of the whole document
 */
export function suppliesOfPath(
  runs: readonly SuppliedRun[],
  supplies: readonly Supply[],
  feeds: readonly Feed[],
): PathSupplies {
  const blocks = blocksOf(runs);
  for (const block of blocks) takeFromFeeds(block, supplies, feeds);
  takeFromNeighbours(blocks);
  for (const block of blocks) block.supply ??= firstThatSuits(block, supplies);
  const all = blocks.flatMap((block) => block.runs.map((run) => ({ ...run, supply: block.supply! })));
  return {
    supplies: all.map(({ supply }) => supply),
    isCut: all.map(({ supply }, index) => index > 0 && all[index - 1]!.supply !== supply),
    faults: [...blocks.flatMap(({ faults }) => faults), ...voltsFaults(blocks, supplies)],
  };
}
