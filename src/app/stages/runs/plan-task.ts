// Planning chains as a task that can be sent to another thread and back: a project without its pictures, and plans without their edits. Pure.
import {
  type ChainOrder,
  type ChainPlan,
  type DroppedCut,
  inSequence,
  type PlanOptions,
  planChainEdit,
  setChainOrder,
} from '../../../panel/index.ts';
import type { Edit, Project } from '../../../project/index.ts';

export interface PlanTask {
  readonly project: Project;
  /** Data lines to plan, by their indices. */
  readonly lines: readonly number[];
  readonly turn: PlanOptions['turn'];
}

export interface LinePlan {
  readonly line: number;
  readonly nowMm: number;
  readonly lengthMm: number;
  readonly boundMm: number;
  readonly proved: boolean;
  readonly order: readonly ChainOrder[];
  readonly droppedCuts: readonly DroppedCut[];
}

export interface PlanChoices {
  /** A data line's index, or all of them. */
  readonly line: number | 'all';
  readonly mayTurn: boolean;
  /** Whether chains come from the board's place; else they may begin with any run. */
  readonly fromBoard: boolean;
}

export function planTask(project: Project, { line, mayTurn, fromBoard }: PlanChoices): PlanTask {
  const { place, ...board } = project.board;
  // Pictures are large, and no chain depends on them.
  const { artwork: _, opacity: __, ...panel } = project.panel;
  return {
    project: { ...project, panel, board: fromBoard && place ? { ...board, place } : board },
    lines: line === 'all' ? project.dataLines.map((_line, index) => index) : [line],
    turn: mayTurn ? 'all' : 'none',
  };
}

const linePlan = (
  project: Project,
  line: number,
  plan: ChainPlan,
): Omit<LinePlan, 'nowMm' | 'droppedCuts'> => {
  const { order, lengthMm, boundMm, proved } = plan;
  const { chain } = project.dataLines[line]!;
  return {
    line,
    lengthMm,
    boundMm,
    proved,
    order: order.map(({ run, reversed }) => ({ run: chain[run]!.run, reversed })),
  };
};

export const planned = ({ project, lines, turn }: PlanTask): LinePlan[] =>
  lines.map((line) => {
    const { plan, nowMm, droppedCuts } = planChainEdit(project, line, { turn });
    return { ...linePlan(project, line, plan), nowMm, droppedCuts };
  });

/** All plans as one edit. */
export const planEdit = (plans: readonly LinePlan[]): Edit =>
  inSequence(plans.map(({ line, order }) => setChainOrder(line, order)));

const saves = ({ nowMm, lengthMm }: LinePlan): boolean => lengthMm < nowMm - 0.05;

export const isWorthwhile = (plans: readonly LinePlan[]): boolean => plans.some(saves);

/** How sure a plan is to be the least. */
export function verdict({ proved, lengthMm, boundMm }: LinePlan): string {
  if (proved) return 'proved least';
  // Rounded up, so that it stays true.
  const percent = boundMm > 0 ? Math.ceil((1000 * (lengthMm - boundMm)) / boundMm) / 10 : undefined;
  return percent === undefined
    ? 'best found'
    : `best found, at most ${percent.toFixed(1)} % above the least possible`;
}
