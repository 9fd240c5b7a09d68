// The sums behind the chain table and the dialog that plans chains: typed orders, columns that are dragged, plans that are sent to another thread.
// Expected orders are written by hand; that plans are least is tested in test/panel/chain-plan.test.ts.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { chainColumns, placeOfDrop } from '../../src/app/stages/runs/chain-columns.ts';
import {
  isWorthwhile,
  type LinePlan,
  planEdit,
  planned,
  planTask,
  verdict,
} from '../../src/app/stages/runs/plan-task.ts';
import { orderText, parseOrder } from '../../src/app/stages/runs/typed-order.ts';
import { chainNumbers, layOut, planChainEdit } from '../../src/panel/index.ts';
import {
  type Edit,
  edited,
  moveRunToChain,
  type Project,
  startHistory,
  unchainRun,
} from '../../src/project/index.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';
import { wiredProject } from '../support/wired-project.ts';

const applied = (project: Project, edit: Edit): Project =>
  edited(startHistory(project), 'edit', edit).project;

/** Six runs, row-0 to row-5, numbers 1 to 6. */
const six = projectOf({ runs: rowsOfStrip(60, 10) });
const numbers = chainNumbers(layOut(six));
const rows = (...indices: number[]): string[] => indices.map((index) => `row-${index}`);
const named: Project['runs'] = six.runs.map((run) =>
  run.id === 'row-2' ? { ...run, name: 'Sky, low' } : run,
);
const titled: Project['runs'] = six.runs.map((run) => (run.id === 'row-2' ? { ...run, name: 'Moon' } : run));

describe('typed orders', () => {
  test.each([
    ['5, 3, 1-2, 6, 4', rows(4, 2, 0, 1, 5, 3)],
    ['6-1', rows(5, 4, 3, 2, 1, 0)],
    [' 1 ; 2 ', rows(0, 1)],
    ['row-5, 1 \u2013 3', rows(5, 0, 1, 2)],
    ['', []],
  ])('"%s" names the runs in that order', (text, ids) => {
    expect(parseOrder(text, six.runs, numbers)).toEqual({ ok: true, value: ids });
  });

  test('a name counts as it is written, in any case', () => {
    expect(parseOrder('moon, 1', titled, numbers)).toEqual({ ok: true, value: rows(2, 0) });
    // A comma always parts.
    expect(parseOrder('Sky, low', named, numbers).ok).toBe(false);
  });

  test.each(['7', '0', 'row-9', '1.5', '1-99999', '1 2', '-3'])('"%s" is not taken', (text) => {
    expect(parseOrder(text, six.runs, numbers).ok).toBe(false);
  });

  test('three or more in a row are written as a stretch, a run without a number by its id', () => {
    expect(orderText(rows(0, 1, 2, 5, 3, 4), numbers)).toBe('1-3, 6, 4, 5');
    expect(orderText(['row-0', 'dark', 'row-1'], numbers)).toBe('1, dark, 2');
    expect(orderText([], numbers)).toBe('');
  });

  test('what is written is read back', () => {
    const orders = fc.shuffledSubarray(rows(0, 1, 2, 3, 4, 5));
    fc.assert(
      fc.property(orders, (order) => {
        expect(parseOrder(orderText(order, numbers), six.runs, numbers)).toEqual({ ok: true, value: order });
      }),
      { seed: 21, numRuns: 300 },
    );
  });
});

const columnsOf = (project: Project) => chainColumns(project, layOut(project));

describe('columns', () => {
  test('all runs, in planned order, those outside last; numbers are those of the panel', () => {
    const apart = applied(six, unchainRun('row-1'));
    const columns = columnsOf(apart);
    expect(columns.map(({ placed }) => placed.run.id)).toEqual(rows(0, 2, 3, 4, 5, 1));
    expect(columns.map(({ number }) => number)).toEqual([1, 2, 3, 4, 5, undefined]);
    expect(columns.map(({ at }) => at?.place)).toEqual([0, 1, 2, 3, 4, undefined]);
    // Five runs are joined by four jumpers.
    expect(columns.filter(({ jumper }) => jumper)).toHaveLength(4);
  });

  test('a run that was left out keeps its column, without a number', () => {
    const built: Project = { ...six, asBuilt: { runs: [{ run: 'row-1', skipped: true }], swaps: [] } };
    const columns = columnsOf(built);
    expect(columns.map(({ placed }) => placed.run.id)).toEqual(rows(0, 1, 2, 3, 4, 5));
    expect(columns.map(({ number }) => number)).toEqual([1, undefined, 2, 3, 4, 5]);
  });

  test('a dropped column comes to stand right beside the other one, whatever the lines', () => {
    fc.assert(
      fc.property(
        wiredProject,
        fc.nat(),
        fc.nat(),
        fc.constantFrom('before', 'behind'),
        (project, a, b, side) => {
          const plain: Project = { ...project, asBuilt: { runs: [], swaps: [] } };
          const columns = columnsOf(plain);
          const [run, target] = [columns[a % columns.length]!, columns[b % columns.length]!].map(
            ({ placed }) => placed.run.id,
          ) as [string, string];
          const place = placeOfDrop(columns, run, { target, side: side as 'before' | 'behind' });
          const isOutside = (id: string) =>
            columns.find(({ placed }) => placed.run.id === id)!.at === undefined;
          if (run === target) expect(place).toBeUndefined();
          else if (isOutside(target)) expect(place).toBe(isOutside(run) ? undefined : 'outside');
          else {
            if (place === 'outside') throw new Error('a run of a chain was aimed at');
            const after = place ? applied(plain, moveRunToChain(run, place.line, place.place)) : plain;
            const chain = after.dataLines
              .map((line) => line.chain.map((link) => link.run))
              .find((runs) => runs.includes(target))!;
            expect(chain[chain.indexOf(target) + (side === 'before' ? -1 : 1)]).toBe(run);
          }
        },
      ),
      { seed: 22, numRuns: 200 },
    );
  });
});

const choices = { line: 'all', mayTurn: true, fromBoard: false } as const;
const linePlan = (plan: Partial<LinePlan>): LinePlan => ({
  line: 0,
  nowMm: 100,
  lengthMm: 80,
  boundMm: 80,
  proved: true,
  order: [],
  droppedCuts: [],
  ...plan,
});

describe('planning beside the page', () => {
  test('a task survives being sent, and comes back as the plan that the edit makes', () => {
    const crossed = applied(six, moveRunToChain('row-4', 0, 0));
    const withPicture: Project = {
      ...crossed,
      panel: { ...crossed.panel, artwork: { mediaType: 'image/png', base64: 'AA==' } },
    };
    const task = structuredClone(planTask(withPicture, choices));
    expect(task.project.panel).not.toHaveProperty('artwork');
    const plans = structuredClone(planned(task));
    const direct = planChainEdit(crossed, 0, { turn: 'all' });
    expect(plans[0]!.lengthMm).toBe(direct.plan.lengthMm);
    expect(plans[0]!.lengthMm).toBeLessThan(plans[0]!.nowMm);
    expect(isWorthwhile(plans)).toBe(true);
    expect(applied(crossed, planEdit(plans))).toEqual(applied(crossed, direct.edit));
  });

  test('arrows stay where they may not turn; the board counts where chains begin there', () => {
    const placed: Project = { ...six, board: { ...six.board, place: { xMm: 1000, yMm: 20 } } };
    const stay = planned(planTask(placed, { ...choices, mayTurn: false }));
    expect(stay[0]!.order.some(({ reversed }) => reversed)).toBe(false);
    const [anywhere] = planned(planTask(placed, choices));
    const [fromBoard] = planned(planTask(placed, { ...choices, fromBoard: true }));
    // The nearest end of any run lies about 800 mm from there.
    expect(fromBoard!.lengthMm - anywhere!.lengthMm).toBeGreaterThan(700);
  });

  test('one line alone can be planned', () => {
    const two = applied(six, moveRunToChain('row-5', 1, 0));
    expect(planned(planTask(two, choices)).map(({ line }) => line)).toEqual([0, 1]);
    expect(planned(planTask(two, { ...choices, line: 1 })).map(({ line }) => line)).toEqual([1]);
  });

  test.each([
    [{}, 'proved least'],
    // 81 is 1.25 % above 80, and 1.3 is said so as not to promise too much.
    [{ proved: false, lengthMm: 81 }, 'best found, at most 1.3 % above the least possible'],
    [{ proved: false, boundMm: 0 }, 'best found'],
  ])('how sure a plan is: %j', (plan, words) => {
    expect(verdict(linePlan(plan))).toBe(words);
  });

  test('what saves nothing is not worth soldering anew', () => {
    expect(isWorthwhile([linePlan({ lengthMm: 100 })])).toBe(false);
    expect(isWorthwhile([linePlan({ lengthMm: 100 }), linePlan({ lengthMm: 99 })])).toBe(true);
  });
});
