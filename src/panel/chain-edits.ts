// Planned and typed chains as edits: the order of a data line's runs, and which of them are turned round. Areas, feeds, spare and dead LEDs follow, because
// turning goes through reverseRun. A jumper keeps what was set for it where the same two ends are still joined; otherwise a plain one takes its place,
// and a cut +5 V that goes with it is told.
import {
  type Edit,
  failed,
  isPlace,
  ok,
  type Problem,
  type Project,
  pointer,
  type Result,
} from '../project/index.ts';
import { type ChainPlan, type ChainStep, planChain } from './chain-plan.ts';
import { jumperLengthMm } from './jumper-route.ts';
import { layOut, type PlacedRun } from './layout.ts';
import type { PointMm } from './plane.ts';
import { reverseRun } from './run-edits.ts';

type Link = Project['dataLines'][number]['chain'][number];

/** A run of a chain, and whether it is turned round as the chain is made. */
export interface ChainOrder {
  readonly run: string;
  readonly reversed: boolean;
}

/** A jumper whose +5 V was cut, and which is gone: the two runs it joined. */
export interface DroppedCut {
  readonly from: string;
  readonly to: string;
}

export interface ChainEdit {
  readonly edit: Edit;
  readonly droppedCuts: readonly DroppedCut[];
}

export interface PlannedChain extends ChainEdit {
  /** Runs by their places in the data line's chain before the edit. */
  readonly plan: ChainPlan;
  /** Wire as the chain is now, counted like the plan's. */
  readonly nowMm: number;
}

export interface PlanOptions {
  /** Runs that may be turned round: all, none, or the ids of some. */
  readonly turn: 'all' | 'none' | ReadonlySet<string>;
  /** The run that stays first. */
  readonly first?: string | undefined;
  /** Where chains come from; the board's place where absent, and nowhere in particular where it has none. */
  readonly start?: PointMm | undefined;
}

const chainOf = (project: Project, dataLine: number): Link[] => {
  const line = project.dataLines[dataLine];
  if (!line) throw new Error(`no data line ${dataLine} to edit`);
  return line.chain;
};

/** The two ends that a jumper joins, whichever way data passes it; the one that leads to the first run comes from the board. */
function joint(before: ChainOrder | undefined, { run, reversed }: ChainOrder): string {
  const entry = `${run} ${reversed ? 'dout' : 'din'}`;
  const leaves = before ? `${before.run} ${before.reversed ? 'din' : 'dout'}` : '';
  return [leaves, entry].sort().join(' | ');
}

const isSame = (chain: readonly Link[], order: readonly ChainOrder[]): boolean =>
  chain.every(({ run }, i) => order[i]!.run === run && !order[i]!.reversed);

const isPermutation = (chain: readonly Link[], order: readonly string[]): boolean =>
  [...order].sort().join('\n') ===
  chain
    .map(({ run }) => run)
    .sort()
    .join('\n');

/** The chain in this order, as links. Jumpers by the ends they join. */
function linksFor(chain: readonly Link[], order: readonly ChainOrder[]): Link[] {
  const now = chain.map(({ run }): ChainOrder => ({ run, reversed: false }));
  const set = new Map(chain.map(({ jumper }, i) => [joint(now[i - 1], now[i]!), jumper]));
  return order.map((step, i): Link => {
    const jumper = set.get(joint(order[i - 1], step));
    return { run: step.run, ...(jumper ? { jumper: { ...jumper } } : {}) };
  });
}

/** Brings a data line's chain into this order, which must hold all of its runs, and turns runs round. Throws where it doesn't. */
export const setChainOrder =
  (dataLine: number, order: readonly ChainOrder[]): Edit =>
  (project) => {
    const chain = chainOf(project, dataLine);
    if (
      !isPermutation(
        chain,
        order.map(({ run }) => run),
      )
    )
      throw new Error(`data line ${dataLine} has other runs`);
    if (isSame(chain, order)) return;
    project.dataLines[dataLine]!.chain = linksFor(chain, order);
    for (const { run, reversed } of order) if (reversed) reverseRun(run)(project);
  };

/** Cut jumpers that this order does without. What is set for the way from the board joins no two runs, and is no jumper. */
function cutsDropped(chain: readonly Link[], order: readonly ChainOrder[]): DroppedCut[] {
  const joints = new Set(order.map((step, i) => joint(order[i - 1], step)));
  return chain.flatMap(({ run, jumper }, i): DroppedCut[] => {
    const before = chain[i - 1];
    if (!before || jumper?.power !== 'cut') return [];
    const isKept = joints.has(joint({ run: before.run, reversed: false }, { run, reversed: false }));
    return isKept ? [] : [{ from: before.run, to: run }];
  });
}

/** A run of which is told how it was built is soldered already; and a last LED beyond all places can't become the first. */
const mayTurn = ({ asBuilt }: Project, { run, leds }: PlacedRun, turn: PlanOptions['turn']): boolean =>
  turn !== 'none' &&
  (turn === 'all' || turn.has(run.id)) &&
  !asBuilt?.runs.some((built) => built.run === run.id) &&
  isPlace(leds.at(-1)!);

/** Plans one data line's chain for least wire. Lengths that were set for single jumpers don't count: a plan joins other ends. */
export function planChainEdit(project: Project, dataLine: number, options: PlanOptions): PlannedChain {
  const chain = chainOf(project, dataLine);
  const byId = new Map(layOut(project).runs.map((placed) => [placed.run.id, placed]));
  const placed = chain.map(({ run }) => byId.get(run)!);
  const first = chain.findIndex(({ run }) => run === options.first);
  const start = options.start ?? project.board.place;
  const lengthMm = (from: PointMm, to: PointMm): number => jumperLengthMm(project.panel, from, to);
  const plan = planChain({
    runs: placed.map((one) => ({
      dinEnd: one.dinEnd,
      doutEnd: one.doutEnd,
      mayTurn: mayTurn(project, one, options.turn),
    })),
    start,
    first: first < 0 ? undefined : first,
    lengthMm,
  });
  const nowMm = placed.reduce((sum, { dinEnd }, i) => {
    const from = i === 0 ? start : placed[i - 1]!.doutEnd;
    return from ? sum + lengthMm(from, dinEnd) : sum;
  }, 0);
  // An order that saves nothing is no reason to solder anew.
  const isBetter = plan.lengthMm < nowMm - 1e-6 || (first > 0 && options.first !== undefined);
  const order = plan.order.map(({ run, reversed }): ChainOrder => ({ run: chain[run]!.run, reversed }));
  const asIs = chain.map((_, run): ChainStep => ({ run, reversed: false }));
  if (!isBetter)
    return { plan: { ...plan, order: asIs, lengthMm: nowMm }, nowMm, edit: () => {}, droppedCuts: [] };
  return { plan, nowMm, edit: setChainOrder(dataLine, order), droppedCuts: cutsDropped(chain, order) };
}

export interface PlannedChains extends ChainEdit {
  /** One for each data line. */
  readonly lines: readonly PlannedChain[];
}

/** Plans every data line's chain; each keeps its runs. One edit. */
export function planChainsEdit(project: Project, options: PlanOptions): PlannedChains {
  const lines = project.dataLines.map((_, dataLine) => planChainEdit(project, dataLine, options));
  return {
    lines,
    droppedCuts: lines.flatMap(({ droppedCuts }) => droppedCuts),
    edit: (draft) => {
      for (const { edit } of lines) edit(draft);
    },
  };
}

/** An order of runs that the builder typed. A problem where it is not every run of the data line, once. */
export function typeChain(project: Project, dataLine: number, order: readonly string[]): Result<ChainEdit> {
  const chain = chainOf(project, dataLine);
  const mine = new Set(chain.map(({ run }) => run));
  const counts = new Map<string, number>();
  for (const run of order) counts.set(run, (counts.get(run) ?? 0) + 1);
  const problem = (found: string, mend: string): Problem => ({
    code: 'chain-order',
    at: pointer('dataLines', dataLine, 'chain'),
    expected: `each run of this data line once, ${mine.size} in all`,
    found,
    mend,
  });
  const problems = [
    ...[...counts.keys()]
      .filter((run) => !mine.has(run))
      .map((run) =>
        problem(`"${run}", which is not on it`, 'Take it out, or move the run to this data line first.'),
      ),
    ...[...counts]
      .filter(([run, count]) => count > 1 && mine.has(run))
      .map(([run, count]) =>
        problem(`"${run}" ${count} times`, 'Data enters a run once: leave one of them.'),
      ),
    ...[...mine]
      .filter((run) => !counts.has(run))
      .map((run) => problem(`no "${run}"`, 'Add it, or unchain the run first.')),
  ];
  if (problems.length > 0) return failed(problems);
  const steps = order.map((run): ChainOrder => ({ run, reversed: false }));
  return ok({ edit: setChainOrder(dataLine, steps), droppedCuts: cutsDropped(chain, steps) });
}
