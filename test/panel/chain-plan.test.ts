// Planning of chains. For few runs every order and every direction is tried here, plainly; for many, what must hold of any plan and of any bound.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { chainCosts, chainLengthMm } from '../../src/panel/chain-costs.ts';
import { setChainOrder } from '../../src/panel/chain-edits.ts';
import { mostExactRuns } from '../../src/panel/chain-exact.ts';
import { proveChain } from '../../src/panel/chain-proof.ts';
import { shortChain } from '../../src/panel/chain-search.ts';
import {
  type ChainPlan,
  type ChainRun,
  type ChainTask,
  distanceMm,
  layOut,
  type PointMm,
  planChain,
  planChainEdit,
  planChainsEdit,
  quickChain,
  typeChain,
} from '../../src/panel/index.ts';
import { edited, type Project, type Run, startHistory } from '../../src/project/index.ts';
import { holdsLaws } from '../support/edit-laws.ts';
import { projectOf } from '../support/projects.ts';
import { seedOf } from '../support/seed.ts';
import { wiredProject } from '../support/wired-project.ts';

const at = (xMm: number, yMm: number): PointMm => ({ xMm, yMm });
const coordinate = fc.integer({ min: 0, max: 6000 }).map((tenths) => tenths / 10);
const anyPoint = fc.tuple(coordinate, coordinate).map(([x, y]) => at(x, y));
const anyRun: fc.Arbitrary<ChainRun> = fc.record({
  dinEnd: anyPoint,
  doutEnd: anyPoint,
  mayTurn: fc.boolean(),
});

/** A chain's task with every mix of directions: all free, all fixed, or by run; with and without a start and a first run. */
const anyTask = (minLength: number, maxLength: number): fc.Arbitrary<ChainTask> =>
  fc
    .tuple(
      fc.array(anyRun, { minLength, maxLength, size: 'max' }),
      fc.constantFrom('all', 'none', 'some'),
      fc.option(anyPoint, { nil: undefined }),
      fc.option(fc.nat(), { nil: undefined, freq: 1 }),
    )
    .map(([runs, turn, start, first]) => ({
      runs: runs.map((run) => (turn === 'some' ? run : { ...run, mayTurn: turn === 'all' })),
      start,
      first: first === undefined ? undefined : first % runs.length,
      lengthMm: distanceMm,
    }));

/** The least wire of all orders and directions, by trying each. */
function byTrying({ runs, start, first, lengthMm }: ChainTask): number {
  const ends = runs.flatMap((run) => [run.dinEnd, run.doutEnd]);
  const wire = ends.map((a) => ends.map((b) => lengthMm(a, b)));
  const lead = ends.map((end, e) => {
    if (first !== undefined && first !== e >> 1) return Number.POSITIVE_INFINITY;
    return start ? lengthMm(start, end) : 0;
  });
  let least = Number.POSITIVE_INFINITY;
  const goOn = (fromEnd: readonly number[], passed: number, left: number, soFarMm: number): void => {
    for (let end = 0; end < ends.length; end++) {
      if ((passed >> (end >> 1)) % 2 === 1 || (end % 2 === 1 && !runs[end >> 1]!.mayTurn)) continue;
      const exit = end % 2 === 0 ? end + 1 : end - 1;
      const wayMm = soFarMm + fromEnd[end]!;
      if (left > 1) goOn(wire[exit]!, passed + 2 ** (end >> 1), left - 1, wayMm);
      else if (wayMm < least) least = wayMm;
    }
  };
  goOn(lead, 0, runs.length, 0);
  return least;
}

/** Holds a plan to what any chain is: every run once, none turned that may not be, the first one first, and as long as it says. */
function isChain(task: ChainTask, plan: Pick<ChainPlan, 'order' | 'lengthMm'>): void {
  expect(plan.order.map(({ run }) => run).sort((a, b) => a - b)).toEqual(task.runs.map((_, i) => i));
  for (const { run, reversed } of plan.order) expect(reversed && !task.runs[run]!.mayTurn).toBe(false);
  if (task.first !== undefined) expect(plan.order[0]!.run).toBe(task.first);
  let from = task.start;
  let lengthMm = 0;
  for (const { run, reversed } of plan.order) {
    const { dinEnd, doutEnd } = task.runs[run]!;
    if (from) lengthMm += task.lengthMm(from, reversed ? doutEnd : dinEnd);
    from = reversed ? dinEnd : doutEnd;
  }
  expect(plan.lengthMm).toBeCloseTo(lengthMm, 6);
}

describe('[CHAIN1] the least chain', () => {
  test('of up to 8 runs is the least of all orders and directions, on 200 panels', {
    timeout: 120_000,
  }, () => {
    const sizes = new Set<number>();
    fc.assert(
      fc.property(anyTask(1, 8), (task) => {
        sizes.add(task.runs.length);
        const plan = planChain(task);
        isChain(task, plan);
        expect(plan.proved).toBe(true);
        expect(Math.abs(plan.lengthMm - byTrying(task))).toBeLessThan(1e-9);
        expect(plan.boundMm).toBe(plan.lengthMm);
      }),
      { seed: seedOf(51), numRuns: 200, endOnFailure: true },
    );
    expect(sizes.size).toBe(8);
  });

  test('rows one under the other are passed to and fro', () => {
    // Ten rows 300 mm long, 25 mm apart, all drawn to the right: nine jumpers straight down, every second run turned round.
    const rows = Array.from({ length: 10 }, (_, i) => ({
      dinEnd: at(100, 25 * i),
      doutEnd: at(400, 25 * i),
      mayTurn: true,
    }));
    const plan = planChain({ runs: rows, start: at(100, 0), lengthMm: distanceMm });
    expect(plan.lengthMm).toBeCloseTo(9 * 25, 9);
    expect(plan.order).toEqual(rows.map((_, run) => ({ run, reversed: run % 2 === 1 })));
    const fixed = rows.map((run) => ({ ...run, mayTurn: false }));
    // Each jumper goes back under its row: nine times sqrt(300^2 + 25^2).
    expect(planChain({ runs: fixed, lengthMm: distanceMm }).lengthMm).toBeCloseTo(9 * Math.hypot(300, 25), 9);
  });

  test('no runs make no chain', () => {
    expect(planChain({ runs: [], lengthMm: distanceMm })).toEqual({
      order: [],
      lengthMm: 0,
      boundMm: 0,
      proved: true,
    });
  });
});

describe('[CHAIN2] more runs than can be proved by all sets', () => {
  const effort = { firstTrees: 200, caseTrees: 30, cases: 4000 };

  test('bounds never exceed the least chain, and a proof by cases finds it, on 150 panels', () => {
    let cases = 0;
    fc.assert(
      fc.property(anyTask(2, 7), (task) => {
        const costs = chainCosts(task);
        const leastMm = byTrying(task);
        // From a poor chain, so that the proof has to find the better one itself.
        const poor = Int32Array.from(task.runs, (_, i) => 2 * i);
        if (task.first !== undefined) [poor[0], poor[task.first]] = [poor[task.first]!, poor[0]!];
        for (const start of [poor, shortChain(costs, 5)]) {
          const rough = proveChain(costs, start, { ...effort, cases: 0 });
          expect(rough.boundMm).toBeLessThanOrEqual(leastMm + 1e-9);
          if (!rough.proved) cases++;
          const proof = proveChain(costs, start, effort);
          expect(proof.boundMm).toBeLessThanOrEqual(leastMm + 1e-9);
          expect(proof.proved).toBe(true);
          expect(proof.lengthMm).toBeLessThan(leastMm + 1e-3);
          expect(chainLengthMm(costs, proof.entries)).toBe(proof.lengthMm);
        }
      }),
      { seed: seedOf(53), numRuns: 150, endOnFailure: true },
    );
    expect(cases).toBeGreaterThan(20);
  });

  test('14 to 16 runs by cases are as short as by all sets', () => {
    fc.assert(
      fc.property(anyTask(mostExactRuns - 2, mostExactRuns), (task) => {
        const exact = planChain(task);
        const costs = chainCosts(task);
        const proof = proveChain(costs, shortChain(costs, 200), effort);
        expect(proof.boundMm).toBeLessThanOrEqual(exact.lengthMm + 1e-9);
        expect(proof.lengthMm).toBeGreaterThan(exact.lengthMm - 1e-9);
        if (proof.proved) expect(proof.lengthMm).toBeLessThan(exact.lengthMm + 1e-3);
      }),
      { seed: seedOf(54), numRuns: 12, endOnFailure: true },
    );
  });

  test('17 to 40 runs: a chain, and a bound not above it', { timeout: 60_000 }, () => {
    fc.assert(
      fc.property(anyTask(mostExactRuns + 1, 40), (task) => {
        const plan = planChain(task);
        isChain(task, plan);
        expect(plan.boundMm).toBeLessThanOrEqual(plan.lengthMm);
        expect(plan.boundMm).toBeGreaterThan(0);
        if (plan.proved) expect(plan.boundMm).toBeGreaterThan(plan.lengthMm - 0.01);
        const quick = quickChain(task);
        isChain(task, {
          order: quick,
          lengthMm: chainLengthMm(
            chainCosts(task),
            Int32Array.from(quick, ({ run, reversed }) => 2 * run + (reversed ? 1 : 0)),
          ),
        });
      }),
      { seed: seedOf(55), numRuns: 12, endOnFailure: true },
    );
  });

  test('forty rows in two columns: proved, each jumper as short as it can be', () => {
    // Column ends meet 10 mm apart in the middle, rows lie 25 mm apart. Every row has a jumper of 10 mm, and 19 lead down a row.
    // No chain is shorter: of 39 jumpers at most 20 can be 10 mm long, one a row, and all others are 25 mm at least.
    const runs = Array.from({ length: 40 }, (_, i) => {
      const xMm = i % 2 === 0 ? 5 : 305;
      const yMm = 25 * (i >> 1);
      return { dinEnd: at(xMm, yMm), doutEnd: at(xMm + 290, yMm), mayTurn: true };
    });
    const plan = planChain({ runs, lengthMm: distanceMm });
    expect(plan.lengthMm).toBeCloseTo(20 * 10 + 19 * 25, 6);
    expect(plan.proved).toBe(true);
  });

  test('255 runs: a chain with a bound, the same every time', { timeout: 60_000 }, () => {
    const [task] = fc.sample(anyTask(255, 255), { seed: seedOf(56), numRuns: 1 }) as [ChainTask];
    const runs = task.runs.map((run) => ({ ...run, mayTurn: true }));
    const plan = planChain({ runs, lengthMm: distanceMm });
    isChain({ runs, lengthMm: distanceMm }, plan);
    expect(plan.boundMm).toBeGreaterThan(0);
    expect(plan.boundMm).toBeLessThanOrEqual(plan.lengthMm);
    expect(planChain({ runs, lengthMm: distanceMm })).toEqual(plan);
  });
});

// ---- as edits ----

const run = (id: string, xMm: number, yMm: number, arrowDeg: number, ledCount: number): Run => ({
  id,
  firstLed: at(xMm, yMm),
  arrowDeg,
  ledCount,
  strip: 'ws2812b-60',
});
/** 10 LEDs at 60 per m, pitch 16.667 mm: cut ends half a pitch beyond. Three rows drawn to the right, in a poor order. */
const threeRows = projectOf({
  runs: [run('top', 50, 50, 0, 10), run('middle', 50, 80, 0, 10), run('bottom', 50, 110, 0, 10)],
  dataLines: [
    {
      pin: 6,
      chain: [
        { run: 'top' },
        { run: 'bottom', jumper: { power: 'cut', lengthMm: 300 } },
        { run: 'middle', jumper: { wire: 'AWG 22' } },
      ],
    },
  ],
});
const ids = (project: Project, line = 0): string[] => project.dataLines[line]!.chain.map((link) => link.run);

describe('[CHAIN3] planned chains in the project', () => {
  test('rows are passed to and fro, and what was cut and is gone is told', () => {
    const planned = planChainEdit(threeRows, 0, { turn: 'all', first: 'top' });
    const after = holdsLaws(threeRows, 'plan', planned.edit);
    // Two jumpers of 30 mm each, straight down; before, 10 x pitch across and 60 down, then 10 x pitch across and 30 up.
    const across = 10_000 / 60;
    expect(planned.plan.lengthMm).toBeCloseTo(60, 9);
    expect(planned.nowMm).toBeCloseTo(Math.hypot(across, 60) + Math.hypot(across, 30), 9);
    expect(after.dataLines).toEqual([
      { pin: 6, chain: [{ run: 'top' }, { run: 'middle' }, { run: 'bottom' }] },
    ]);
    // One way or the other: the middle one is turned, or both others are.
    const turned = after.runs.filter(({ arrowDeg }) => arrowDeg === 180).map(({ id }) => id);
    expect([['middle'], ['top', 'bottom']]).toContainEqual(turned);
    expect(planned.droppedCuts).toEqual([{ from: 'top', to: 'bottom' }]);
  });

  test('a jumper whose two ends are still joined keeps what was set, though data passes it the other way', () => {
    const turned = setChainOrder(0, [
      { run: 'bottom', reversed: true },
      { run: 'top', reversed: true },
      { run: 'middle', reversed: false },
    ]);
    expect(holdsLaws(threeRows, 'order', turned).dataLines[0]!.chain).toEqual([
      { run: 'bottom' },
      { run: 'top', jumper: { power: 'cut', lengthMm: 300 } },
      { run: 'middle' },
    ]);
  });

  test('directions stay where none may be turned, and only the named ones are turned', () => {
    const none = holdsLaws(threeRows, 'plan', planChainEdit(threeRows, 0, { turn: 'none' }).edit);
    expect(none.runs).toEqual(threeRows.runs);
    const some = planChainEdit(threeRows, 0, { turn: new Set(['middle']) });
    const after = holdsLaws(threeRows, 'plan', some.edit);
    expect(after.runs.map(({ arrowDeg }) => arrowDeg)).toEqual([0, 180, 0]);
    expect(some.plan.lengthMm).toBeCloseTo(60, 9);
  });

  test('the board counts as the place that chains come from', () => {
    const placed: Project = { ...threeRows, board: { ...threeRows.board, place: at(50, 200) } };
    const after = holdsLaws(placed, 'plan', planChainEdit(placed, 0, { turn: 'all' }).edit);
    expect(ids(after)).toEqual(['bottom', 'middle', 'top']);
  });

  test('a chain that can not be shorter is left as it is', () => {
    const after = holdsLaws(threeRows, 'plan', planChainEdit(threeRows, 0, { turn: 'all' }).edit);
    const again = planChainEdit(after, 0, { turn: 'all' });
    expect(edited(startHistory(after), 'plan', again.edit).project).toBe(after);
    expect(again.droppedCuts).toEqual([]);
    expect(again.plan.order).toEqual([0, 1, 2].map((one) => ({ run: one, reversed: false })));
  });

  test('any project: every line keeps its runs, no LED moves, jumpers are as long as planned, cut ones stay or are told', () => {
    fc.assert(
      fc.property(wiredProject, fc.constantFrom('all' as const, 'none' as const), (before, turn) => {
        const planned = planChainsEdit(before, { turn });
        const after = holdsLaws(before, 'plan chains', planned.edit);
        const spots = (project: Project): string[] =>
          layOut(project)
            .runs.flatMap((one) =>
              one.leds.map((led) => `${led.xMm.toFixed(3)} ${led.yMm.toFixed(3)} ${led.spare} ${led.dead}`),
            )
            .sort();
        expect(spots(after)).toEqual(spots(before));
        let cutsNow = 0;
        let cutsBefore = 0;
        const placedById = new Map(layOut(after).runs.map((one) => [one.run.id, one]));
        for (const [l, line] of before.dataLines.entries()) {
          expect(ids(after, l).sort()).toEqual(line.chain.map((link) => link.run).sort());
          const placed = ids(after, l).map((id) => placedById.get(id)!);
          const straightMm = placed
            .slice(1)
            .reduce((sum, one, i) => sum + Math.max(10, distanceMm(placed[i]!.doutEnd, one.dinEnd)), 0);
          expect(planned.lines[l]!.plan.lengthMm).toBeCloseTo(straightMm, 2);
          cutsBefore += line.chain.slice(1).filter((link) => link.jumper?.power === 'cut').length;
          cutsNow += after.dataLines[l]!.chain.slice(1).filter((link) => link.jumper?.power === 'cut').length;
        }
        expect(cutsNow + planned.droppedCuts.length).toBe(cutsBefore);
      }),
      { seed: seedOf(57), numRuns: 60, endOnFailure: true },
    );
  });
});

describe('[CHAIN4] typed chains', () => {
  test('an order of all runs is taken, directions as they are', () => {
    const typed = typeChain(threeRows, 0, ['middle', 'top', 'bottom']);
    if (!typed.ok) throw new Error('refused');
    const after = holdsLaws(threeRows, 'type', typed.value.edit);
    expect(after.dataLines[0]!.chain).toEqual([
      { run: 'middle' },
      { run: 'top' },
      { run: 'bottom', jumper: { power: 'cut', lengthMm: 300 } },
    ]);
    expect(after.runs).toEqual(threeRows.runs);
    expect(typed.value.droppedCuts).toEqual([]);
  });

  test.each([
    ['a run twice', ['top', 'top', 'middle', 'bottom'], ['"top" 2 times']],
    ['a run left out', ['top', 'middle'], ['no "bottom"']],
    ['a run of nobody', ['top', 'middle', 'bottom', 'moon'], ['"moon", which is not on it']],
    ['nothing', [], ['no "top"', 'no "bottom"', 'no "middle"']],
  ])('%s is a problem', (_name, order, found) => {
    const typed = typeChain(threeRows, 0, order);
    expect(typed.ok ? [] : typed.problems.map((problem) => problem.found)).toEqual(found);
    expect(typed.ok ? [] : typed.problems.map((problem) => problem.at)).toEqual(
      found.map(() => '/dataLines/0/chain'),
    );
  });

  test('an order that is none of this line is a fault of the caller', () => {
    const wrong = setChainOrder(0, [{ run: 'top', reversed: false }]);
    expect(() => edited(startHistory(threeRows), 'order', wrong)).toThrow('data line 0 has other runs');
  });
});
