// What supplies must be rated for, which of the usual sizes do, zones over several supplies, energy and heat. Rules: 80 % of the rating at most, usual
// sizes of 5 V supplies 10, 14, 18, 40, 60 A (from memory of one series), 85 % efficiency, a board of 50 mA, four hours (common practice, no source).
// Arithmetic stands beside each check; packing is compared with a search over all subsets.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { supplyAmps } from '../../src/catalogue/index.ts';
import { type Layout, layOut } from '../../src/panel/index.ts';
import {
  eveningEnergy,
  type NoSplit,
  ownedSupply,
  type PanelNetwork,
  packLeast,
  panelNetwork,
  powerFindings,
  type SupplySplit,
  splitOverSupplies,
  supplyDrawAmps,
  supplyLoads,
  supplyNeedAmps,
  supplySizes,
  totalAmps,
  whiteAmps,
} from '../../src/power/index.ts';
import { checkProject, type Project } from '../../src/project/index.ts';
import { seedOf } from '../support/seed.ts';
import { wiredProject } from '../support/wired-project.ts';
import { buildPanel, hair, type PanelPlan } from './build-project.ts';
import { expectClose } from './expect-volts.ts';

const seed = seedOf(5_105);

interface Built {
  readonly project: Project;
  readonly layout: Layout;
  readonly panel: PanelNetwork;
}

function built(plan: PanelPlan, power: Partial<Project['power']> = {}): Built {
  const { project: plain, layout } = buildPanel(plan);
  const project = { ...plain, power: { ...plain.power, ...power } };
  expect(checkProject(project).ok).toBe(true);
  return { project, layout, panel: panelNetwork(project, layout) };
}

const usb = { controller: { from: 'usb' } } as const;
const fed = (...runs: (string | readonly [run: string, supply: string])[]) =>
  runs.map((run) =>
    typeof run === 'string' ? { run, led: 0, ...hair } : { run: run[0], led: 0, ...hair, supply: run[1] },
  );
/** 432 LEDs of 36 mA: 15.552 A (worked case 6 of the voltage drops). */
const dense: PanelPlan = { lines: [[{ leds: 432 }]], feeds: fed('r0') };

describe('the need of one supply', () => {
  test('432 LEDs of 36 mA take 15.552 A, so 19.44 A: of the usual sizes 18 A fails and 40 A is enough', () => {
    const { project, panel } = built(dense, usb);
    const [load] = supplyLoads(project, panel);
    expectClose(load!.worstAmps, 15.552);
    expectClose(load!.drawAmps, 15.552);
    expectClose(load!.needAmps, 19.44);
    const sizes = supplySizes({ ...load!, supply: { ...load!.supply, amps: 40 } });
    expect(sizes.map(({ amps, watts, verdict, isOwn }) => [amps, watts, verdict, isOwn])).toEqual([
      [10, 50, 'too-small', false],
      [14, 70, 'too-small', false],
      // 15.552 A are 86.4 % of 18 A: it gives them, but not with a fifth to spare.
      [18, 90, 'tight', false],
      [40, 200, 'enough', true],
      [60, 300, 'enough', false],
    ]);
    expectClose(sizes[2]!.loadShare, 0.864);
    expectClose(sizes[3]!.loadShare, 0.3888);
  });

  test('the board counts where it runs from the supply: 50 mA, or what the project says', () => {
    const needOf = (controller: Project['power']['controller']) => {
      const { project, panel } = built(dense, controller ? { controller } : {});
      return supplyLoads(project, panel)[0]!.needAmps;
    };
    // (15.552 + 0.05) / 0.8, (15.552 + 0.4) / 0.8.
    expectClose(needOf(undefined), 19.5025);
    expectClose(needOf({ milliamps: 400 }), 19.94);
    expectClose(needOf({ from: 'usb', milliamps: 400 }), 19.44);
  });

  test('a size exactly as large as the need is enough, a milliampere less is not', () => {
    const at = (amps: number) => {
      const { project, panel } = built({ ...dense, supply: { amps } }, usb);
      return supplyLoads(project, panel)[0]!.verdict;
    };
    expect([at(19.44), at(19.439), at(15.552), at(15.551)]).toEqual([
      'enough',
      'tight',
      'tight',
      'too-small',
    ]);
  });

  test('the limiter holds what is on the wire, the chips’ own current and LEDs off the wire it does not', () => {
    const plan = (limitAmps: number): PanelPlan => ({
      reel: { quiescentMilliamps: 1 },
      lines: [[{ leds: 100 }]],
      unchained: [{ leds: 50 }],
      feeds: fed('r0', 'r1'),
      limitAmps,
    });
    const drawOf = (limitAmps: number) => {
      const { project, panel } = built(plan(limitAmps), usb);
      return supplyLoads(project, panel)[0]!.drawAmps;
    };
    // On the wire 2 A, off it 50 x 1 mA dark.
    expectClose(drawOf(2), 2.05);
    // 100 mA is the least that the chips draw.
    expectClose(drawOf(0.02), 0.15);
    // All white: 150 x 37 mA.
    expectClose(drawOf(50), 5.55);
  });

  test('the plain form: the lesser of white and limit, the board, at 80 %', () => {
    const { project } = built(dense);
    expectClose(supplyNeedAmps(project, 8), 8.05 / 0.8);
    expectClose(supplyNeedAmps({ power: { ...project.power, limitAmps: 3 } }, 8), 3.05 / 0.8);
    expectClose(supplyDrawAmps({ power: { ...project.power, limitAmps: 9 } }, 8), 8.05);
  });
});

describe('several supplies', () => {
  const twoZones = (limitAmps?: number): PanelPlan => ({
    reel: { quiescentMilliamps: 1 },
    lines: [[{ leds: 100 }, { leds: 60, jumper: { power: 'cut' } }]],
    feeds: fed('r0', ['r1', 'second']),
    supply: { amps: 5 },
    moreSupplies: [{ id: 'second', volts: 5, amps: 2 }],
    ...(limitAmps === undefined ? {} : { limitAmps }),
  });

  test('each carries its own zones, the first the board', () => {
    const { project, panel } = built(twoZones());
    const loads = supplyLoads(project, panel);
    expect(loads.map(({ zones, ledCount, supply }) => [supply.id, zones, ledCount])).toEqual([
      [undefined, [0], 100],
      ['second', [1], 60],
    ]);
    // 100 x 37 mA + 50 mA; 60 x 37 mA.
    expectClose(loads[0]!.drawAmps, 3.75);
    expectClose(loads[1]!.drawAmps, 2.22);
    expectClose(loads[1]!.needAmps, 2.775);
    expectClose(loads[1]!.loadShare, 1.11);
    expect(loads.map(({ verdict }) => verdict)).toEqual(['enough', 'too-small']);
  });

  test('the limit is one for all: each must stand it alone, less what the other’s chips draw', () => {
    const { project, panel } = built(twoZones(2));
    const loads = supplyLoads(project, panel);
    // 2 A - 60 x 1 mA + 50 mA; 2 A - 100 x 1 mA.
    expectClose(loads[0]!.drawAmps, 1.99);
    expectClose(loads[1]!.drawAmps, 1.9);
  });

  test('a zone without a feed counts for the first supply', () => {
    const { project, panel } = built({ ...twoZones(), feeds: fed('r0') });
    expect(supplyLoads(project, panel).map(({ ledCount }) => ledCount)).toEqual([160, 0]);
  });
});

describe('zones over several supplies', () => {
  const split = ({ project, panel }: Built, sizeAmps: number): SupplySplit => {
    const found = splitOverSupplies(project, panel, sizeAmps);
    if ('reason' in found) throw new Error(found.reason);
    return found;
  };
  /** Zones of whole runs, 36 mA an LED, each with a feed at its first LED. */
  const zones = (leds: readonly number[], power: Partial<Project['power']> = usb): Built =>
    built(
      {
        lines: [leds.map((count) => ({ leds: count, jumper: { power: 'cut' as const } }))],
        feeds: fed(...leds.map((_, i) => `r${i}`)),
      },
      power,
    );
  const applied = ({ project, layout }: Built, found: SupplySplit): Built => {
    const { power } = project;
    const feeds = power.feeds.map(({ supply: _, ...feed }, index) => {
      const supply = found.feedSupplies[index];
      return supply === undefined ? feed : { ...feed, supply };
    });
    const after = {
      ...project,
      power: {
        ...power,
        supply: { ...power.supply, amps: found.sizeAmps },
        moreSupplies: [...found.moreSupplies],
        feeds,
      },
    };
    expect(checkProject(after).ok).toBe(true);
    return { project: after, layout, panel: panelNetwork(after, layout) };
  };

  test('six zones of 3.6 A fit two and two on supplies of 10 A, of which 8 A are used: three', () => {
    const found = split(zones([100, 100, 100, 100, 100, 100]), 10);
    expect(found.supplies.map(({ zones: own, loadAmps }) => [own.length, loadAmps])).toEqual([
      [2, 7.2],
      [2, 7.2],
      [2, 7.2],
    ]);
    expect(found.isProvedLeast).toBe(true);
    expect(found.moreSupplies).toEqual([
      { id: 'supply-2', volts: 5, amps: 10 },
      { id: 'supply-3', volts: 5, amps: 10 },
    ]);
  });

  test('the board takes room on the first', () => {
    // 2 x 4 A fill 10 A to its 80 %: with the board that is too much for either of two.
    const reel = { channelMilliamps: 40 / 3 };
    const plan: PanelPlan = {
      reel,
      lines: [Array.from({ length: 4 }, () => ({ leds: 100, jumper: { power: 'cut' as const } }))],
      feeds: fed('r0', 'r1', 'r2', 'r3'),
    };
    expect(split(built(plan, usb), 10).supplies).toHaveLength(2);
    const withBoard = split(built(plan), 10).supplies;
    expect(withBoard).toHaveLength(3);
    expectClose(
      withBoard.reduce((sum, one) => sum + one.loadAmps, 0),
      16.05,
    );
  });

  test('a zone that is too large for the size is told; so are more supplies than a document holds', () => {
    const { project, panel } = zones([100, 230]);
    // 230 x 36 mA = 8.28 A, over 8.
    expect(splitOverSupplies(project, panel, 10)).toEqual<NoSplit>({ reason: 'zone-too-large', zones: [1] });
    const many = zones(Array.from({ length: 9 }, () => 120));
    // Two of 4.32 A are over 8 A: nine zones take nine supplies, a document has eight.
    expect(splitOverSupplies(many.project, many.panel, 10)).toEqual<NoSplit>({
      reason: 'too-many-supplies',
      supplyCount: 9,
    });
  });

  test('supplies that are there keep their ids, places and grounds, and are trimmed like the first, so that no zone sags for moving', () => {
    const place = { xMm: 10, yMm: 20 };
    const one = built(
      {
        lines: [[{ leds: 200 }, { leds: 200, jumper: { power: 'cut' } }]],
        feeds: fed('r0', ['r1', 'left']),
        moreSupplies: [{ id: 'left', volts: 5.1, amps: 60, place }],
      },
      usb,
    );
    const found = split(one, 10);
    expect(found.moreSupplies).toEqual([{ id: 'left', volts: 5, amps: 10, place }]);
    expect([...found.feedSupplies].sort()).toEqual(['left', undefined]);
  });

  test('zones of another voltage stay with their supply', () => {
    const one = built(
      {
        lines: [
          [
            { leds: 200 },
            { leds: 200, jumper: { power: 'cut' } },
            { leds: 60, strip: 'ws2815-60', jumper: { power: 'cut' } },
          ],
        ],
        feeds: fed('r0', 'r1', ['r2', 'twelve']),
        moreSupplies: [{ id: 'twelve', volts: 12, amps: 6 }],
      },
      usb,
    );
    const found = split(one, 10);
    expect(found.moreSupplies).toEqual([
      { id: 'twelve', volts: 12, amps: 6 },
      { id: 'supply-2', volts: 5, amps: 10 },
    ]);
    expect(found.feedSupplies[2]).toBe('twelve');
    expect(found.supplies.flatMap((supply) => supply.zones).sort()).toEqual([0, 1]);
  });

  test('the usual sizes, largest first, take so many supplies', () => {
    // 21.6 A need 27 A: one of 60 or 40 A; 14.4 A fit 18 A, 11.2 A three zones of 3.6 A on 14 A.
    const { project, panel } = zones([100, 100, 100, 100, 100, 100]);
    const takes = supplyAmps[5].toReversed().map((sizeAmps) => {
      const found = splitOverSupplies(project, panel, sizeAmps);
      return [sizeAmps, 'supplies' in found ? found.supplies.length : found.reason];
    });
    expect(takes).toEqual([
      [60, 1],
      [40, 1],
      [18, 2],
      [14, 2],
      [10, 3],
    ]);
  });

  test('on random panels every zone lies on one supply, none is loaded over 80 %, and no zone is forgotten', () => {
    let several = 0;
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 200 }), { minLength: 1, maxLength: 12 }),
        fc.constantFrom(...supplyAmps['5']),
        fc.integer({ min: 0, max: 2000 }),
        (leds, sizeAmps, milliamps) => {
          const before = zones(leds, { controller: { milliamps } });
          const found = splitOverSupplies(before.project, before.panel, sizeAmps);
          if ('reason' in found) return;
          several += found.supplies.length > 1 ? 1 : 0;
          const { project, panel, layout } = applied(before, found);
          const loads = supplyLoads(project, panel);
          expect(loads.map(({ verdict }) => verdict)).toEqual(loads.map(() => 'enough'));
          for (const [i, load] of loads.entries()) {
            expect(load.zones).toEqual(found.supplies[i]!.zones);
            expectClose(load.drawAmps, found.supplies[i]!.loadAmps);
          }
          expect(loads.flatMap((load) => load.zones).sort((a, b) => a - b)).toEqual([...leds.keys()]);
          const codes = powerFindings(project, layout).map(({ code }) => code);
          expect(codes).not.toContain('supplies-joined');
          expect(codes).not.toContain('supply-small');
        },
      ),
      { seed, numRuns: 50 },
    );
    expect(several).toBeGreaterThan(10);
  });
});

describe('packing', () => {
  /** Fewest bins over all subsets: for each set of loads the fewest full bins and the least in the last one. */
  function fewestBins(loads: readonly number[], room: number): number {
    const best: [bins: number, last: number][] = [[1, 0]];
    for (let set = 1; set < 1 << loads.length; set++) {
      best[set] = [Number.POSITIVE_INFINITY, 0];
      for (const [i, load] of loads.entries()) {
        if ((set & (1 << i)) === 0) continue;
        const [bins, last] = best[set ^ (1 << i)]!;
        const next: [number, number] = last + load <= room ? [bins, last + load] : [bins + 1, load];
        const [had, hadLast] = best[set]!;
        if (next[0] < had || (next[0] === had && next[1] < hadLast)) best[set] = next;
      }
    }
    return best.at(-1)![0];
  }

  test('first fit would take three bins of 10 for 4, 4, 3, 3, 3, 3; two are enough', () => {
    const { bins, isProvedLeast } = packLeast([4, 4, 3, 3, 3, 3], 10);
    expect([bins.length, isProvedLeast]).toEqual([2, true]);
  });

  test('needs as few bins as a search over all subsets, up to 11 loads', () => {
    fc.assert(
      fc.property(
        fc
          .integer({ min: 10, max: 60 })
          .chain((room) =>
            fc.tuple(
              fc.constant(room),
              fc.array(fc.integer({ min: 1, max: room }), { minLength: 1, maxLength: 11 }),
            ),
          ),
        ([room, loads]) => {
          const { bins, isProvedLeast } = packLeast(loads, room);
          expect(isProvedLeast).toBe(true);
          expect(bins).toHaveLength(fewestBins(loads, room));
          expect(bins.flat().sort((a, b) => a - b)).toEqual([...loads.keys()]);
          for (const bin of bins)
            expect(bin.reduce((sum, load) => sum + loads[load]!, 0)).toBeLessThanOrEqual(room);
        },
      ),
      { seed, numRuns: 300 },
    );
  });

  test('25 loads are packed exactly in time; of more the first answer stands, and says so', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 200, max: 500 }), { minLength: 25, maxLength: 25 }), (loads) => {
        expect(packLeast(loads, 1000).isProvedLeast).toBe(true);
      }),
      { seed, numRuns: 30 },
    );
    // Seven times the six loads of above, in 21 bins by first fit and 14 by hand.
    const many = Array.from({ length: 42 }, (_, i) => (i % 3 === 0 ? 4 : 3));
    expect(packLeast(many, 10).isProvedLeast).toBe(false);
    // As few as can be is proved without a search.
    expect(
      packLeast(
        Array.from({ length: 40 }, () => 5),
        10,
      ),
    ).toMatchObject({ isProvedLeast: true });
  });
});

test('a supply is never below the limiter’s budget plus the board', () => {
  const boards = [{}, { from: 'usb' as const }, { milliamps: 900 }, { milliamps: 0 }];
  let limited = 0;
  let refused = 0;
  fc.assert(
    fc.property(
      wiredProject,
      fc.constantFrom(...boards),
      fc.option(fc.integer({ min: 1, max: 90 }).map((n) => n / 10)),
      fc.integer({ min: 1, max: 300 }).map((n) => n / 10),
      (random, controller, limit, ratedAmps) => {
        const { limitAmps: _, moreSupplies: __, ...power } = random.power;
        const project: Project = {
          ...random,
          power: {
            ...power,
            supply: { volts: 5, amps: ratedAmps },
            controller,
            ...(limit === null ? {} : { limitAmps: limit }),
            feeds: power.feeds.map(({ supply: ___, ...feed }) => feed),
          },
        };
        const layout = layOut(project);
        const panel = panelNetwork(project, layout);
        const white = totalAmps(whiteAmps(panel));
        const board = controller.from === 'usb' ? 0 : (controller.milliamps ?? 50) / 1000;
        // More than white no limiter lets through.
        const least = Math.min(white, limit ?? Number.POSITIVE_INFINITY) + board - 1e-6;
        limited += limit !== null && limit < white ? 1 : 0;
        const [load] = supplyLoads(project, panel);
        for (const { amps, verdict } of supplySizes(load!)) {
          if (verdict === 'enough') expect(amps * 0.8).toBeGreaterThanOrEqual(least);
          if (verdict !== 'too-small') expect(amps).toBeGreaterThanOrEqual(least);
        }
        const told = powerFindings(project, layout).some(({ code }) => code === 'supply-small');
        if (ratedAmps < least) {
          refused++;
          expect(told).toBe(true);
        }
        const owned = ownedSupply(project, panel, ratedAmps);
        if (owned.limitAmps !== undefined)
          expect(owned.limitAmps + board).toBeLessThanOrEqual(ratedAmps * 0.8 + 1e-9);
      },
    ),
    { seed, numRuns: 200 },
  );
  expect(limited).toBeGreaterThan(30);
  expect(refused).toBeGreaterThan(30);
});

describe('an evening', () => {
  test('20 W of LEDs and the board for four hours', () => {
    const { project } = built(dense);
    const evening = eveningEnergy(project, 20, true);
    // 20 W + 5 V x 0.05 A = 20.25 W; / 0.85 = 23.823529 W; x 4 h.
    expect(evening.hours).toBe(4);
    expectClose(evening.givenWatts, 20.25);
    expectClose(evening.mainsWatts, 20.25 / 0.85);
    expectClose(evening.kilowattHours, (20.25 * 4) / 850);
    // All of it warms the box; the supplies' losses only where they are inside.
    expectClose(evening.heatWatts, 20.25 / 0.85);
    expectClose(eveningEnergy(project, 20, false).heatWatts, 20.25);
  });

  test('as long as the project says, without a board on USB', () => {
    const { project } = built(dense, { ...usb, eveningHours: 10 });
    expectClose(eveningEnergy(project, 17, true).kilowattHours, 0.2);
  });
});

test('among as few supplies as will do, loads are spread evenly where that fits', () => {
  const sums = (loads: readonly number[], room: number) =>
    packLeast(loads, room)
      .bins.map((bin) => bin.reduce((sum, load) => sum + loads[load]!, 0))
      .sort((a, b) => a - b);
  // Largest first into the first that holds it would make 8 and 2 of these.
  expect(sums([3, 3, 2, 2], 8)).toEqual([5, 5]);
  // 6 and 6 alone fill their bins so that nothing can be moved.
  expect(sums([6, 6, 2, 2], 8)).toEqual([8, 8]);
});
