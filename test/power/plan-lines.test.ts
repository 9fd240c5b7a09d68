// Plans of several data lines, whose grounds meet at the board: against every set of places tried on the whole document, and the fuse rule across lines.
import { describe, expect, test } from 'vitest';
import { layOut } from '../../src/panel/index.ts';
import { feedLengthMm, planFeeds } from '../../src/power/index.ts';
import { applyFeedPlan, type Feed, type Planning, type Project } from '../../src/project/index.ts';
import { buildPanel, type PanelPlan, reel } from './build-project.ts';
import { done, faultsOf, lowestVolts, planned, reasonsOf } from './plan-documents.ts';
import { type Dice, diceOf } from './random-paths.ts';

const wide = { ...reel, id: 'wide', boardWidthMm: 12 };
const beside = { xMm: 0, yMm: 0 };

const withPlanning = (plan: PanelPlan, planning: Planning = {}): Project => {
  const { project } = buildPanel(plan);
  return { ...project, power: { ...project.power, planning } };
};

describe('two lines', () => {
  /** 80 LEDs of 36 mA, 2.88 A, on rails of 5 A by a blade fuse of 4 A, and a line on rails of 3 A. */
  const twoLines = (planning: Planning = {}, feeds: Feed[] = []) =>
    withPlanning(
      {
        strips: [wide],
        lines: [[{ leds: 80, strip: 'wide' }], [{ leds: 20 }]],
        // Nearest to the last LED of the second line, which it would be fed at by itself.
        supply: { volts: 5.1, place: { xMm: 330, yMm: 20 } },
        feeds,
      },
      planning,
    );

  test('narrow strip beside a fuse that is above its rails is fed at its first LED, so that they bear no fault current', () => {
    const project = twoLines();
    const plan = planned(project);
    expect(plan.feeds).toMatchObject([
      { run: 'r0', fuseAmps: 4 },
      { run: 'r1', led: 0, fuseAmps: 2 },
    ]);
    expect(alone(project, 1)).toMatchObject([{ run: 'r1', led: 19 }]);
    expect(plan.lines.every(({ isProved }) => isProved)).toBe(true);
    expect(plan.least).toBe(2);
    expect(faultsOf(done(project, plan))).toEqual([]);
  });

  test('where that LED is forbidden the lines do not go together, though each could be fed', () => {
    const forbidden = [{ run: 'r1', led: 0 }];
    const [reason, ...others] = reasonsOf(twoLines({ forbidden }));
    expect(others).toEqual([]);
    expect(reason).toMatchObject({ kind: 'lines-together', line: undefined, value: 4, limit: 3 });
  });

  test('wires of a line bear the fuses that are kept on another', () => {
    const keptFeed = { run: 'r0', led: 0, wire: 'AWG 18', lengthMm: 500, fuseAmps: 5, isKept: true } as const;
    // AWG 22 carries 3 A: no feed of the second line may be of it, or thinner.
    expect(reasonsOf(twoLines({ wire: 'AWG 22' }, [keptFeed]))).toMatchObject([
      { kind: 'lines-together', value: 5, limit: 3 },
    ]);
    const project = twoLines({ wire: 'AWG 18' }, [keptFeed]);
    const plan = planned(project);
    expect(plan.feeds.map(({ run, wire }) => [run, wire])).toEqual([
      ['r0', 'AWG 18'],
      ['r1', 'AWG 20'],
    ]);
    expect(faultsOf(done(project, plan))).toEqual([]);
  });
});

/** Two or three short lines of wide and narrow strip, thin and thick wire; few enough places that every set of them can be tried. */
function smallPanel(seed: number): Project {
  const dice = diceOf(seed + 7000);
  const run = (strip: 'wide' | 'reel', leds: number) => ({
    leds,
    strip,
    jumper: {
      power: dice.pick(['carried', 'cut'] as const),
      wire: dice.pick(['AWG 18', 'AWG 18', 'AWG 20', 'AWG 22']),
      lengthMm: dice.between(20, 300),
    },
  });
  const wideRun = () => run('wide', dice.whole(30, 55));
  const narrow = () => run('reel', dice.whole(5, 45));
  const lines = dice.chance(0.7)
    ? [[wideRun(), wideRun()], [dice.chance(0.8) ? narrow() : wideRun()]]
    : [[narrow()], [run('wide', dice.whole(20, 100))], [dice.chance(0.5) ? narrow() : wideRun()]];
  const last = `r${lines.flat().length - 1}`;
  const feeds: Feed[] = dice.chance(0.3)
    ? [
        {
          run: dice.pick(['r0', 'r2']),
          led: 0,
          wire: dice.pick(['AWG 18', 'AWG 20']),
          lengthMm: 600,
          isKept: true,
          ...(dice.chance(0.5) ? { fuseAmps: dice.pick([2, 3, 5]) } : {}),
        },
      ]
    : [];
  return withPlanning(
    { strips: [wide], lines, feeds, supply: { volts: 5.1, place: { xMm: dice.whole(0, 900), yMm: 0 } } },
    {
      wire: dice.pick(['AWG 18', 'AWG 18', 'AWG 18', 'AWG 20', 'AWG 22']),
      jumpersStay: dice.chance(0.2),
      // Then it can't be fed so that its rails bear nothing of the others' fuses.
      forbidden: dice.chance(0.6) ? [{ run: last, led: 0 }] : [],
    },
  );
}

/** The feeds of a line where the others are not there. */
function alone(project: Project, line: number): readonly Feed[] {
  const runs = project.dataLines[line]!.chain.map(({ run }) => run);
  const one: Project = {
    ...project,
    dataLines: [project.dataLines[line]!],
    power: { ...project.power, feeds: project.power.feeds.filter(({ run }) => runs.includes(run)) },
  };
  return planned(one).feeds;
}

/** The least number of feeds of any sound document; undefined where none is. */
function leastByTrial(project: Project): number | undefined {
  const { planning = {}, feeds } = project.power;
  const layout = layOut(project);
  const kept = feeds.filter(({ isKept }) => isKept);
  const places = project.runs
    .flatMap(({ id: run, ledCount }) => [
      { run, led: 0 },
      { run, led: ledCount - 1 },
    ])
    .filter(({ run, led }) =>
      [...kept, ...(planning.forbidden ?? [])].every((one) => one.run !== run || one.led !== led),
    )
    .map(
      (place): Feed => ({
        ...place,
        wire: planning.wire!,
        lengthMm: feedLengthMm(project, layout, place),
        fuseKind: 'blade',
      }),
    );
  const free = planning.jumpersStay
    ? []
    : project.dataLines.flatMap(({ chain }, line) => chain.slice(1).map((_, i) => ({ line, place: i + 1 })));
  const sets = Array.from({ length: 1 << places.length }, (_, bits) =>
    places.filter((_, index) => ((bits >> index) & 1) === 1),
  ).sort((a, b) => a.length - b.length);
  for (const set of sets)
    for (let cuts = 0; cuts < 1 << free.length; cuts++) {
      const jumpers = free.map((one, index) => ({
        ...one,
        power: ((cuts >> index) & 1) === 1 ? ('cut' as const) : ('carried' as const),
      }));
      const tried = structuredClone(project);
      tried.power.feeds = [...kept, ...set];
      applyFeedPlan({ feeds: tried.power.feeds, jumpers })(tried);
      if (faultsOf(tried).length === 0) return kept.length + set.length;
    }
  return undefined;
}

test('as few feeds as the least of all documents, and impossible where none is sound', () => {
  const found = new Map<number | undefined, number>();
  let [coupled, apart, kept] = [0, 0, 0];
  for (let seed = 0; seed < 80; seed++) {
    const project = smallPanel(seed);
    const least = leastByTrial(project);
    const plan = planFeeds(project, layOut(project));
    const count = plan.kind === 'planned' ? plan.feeds.length : undefined;
    expect(count, `panel ${seed}`).toBe(least);
    found.set(least, (found.get(least) ?? 0) + 1);
    if (project.power.feeds.length > 0 && least !== undefined) kept++;
    if (plan.kind === 'impossible') {
      if (plan.reasons.some(({ kind }) => kind === 'lines-together')) apart++;
      continue;
    }
    expect(plan.least, `panel ${seed}`).toBe(least);
    expect(faultsOf(done(project, plan)), `panel ${seed}`).toEqual([]);
    for (const line of plan.lines) expect(line.least).toBeLessThanOrEqual(line.feedCount);
    if (plan.lines.some((line) => line.feedCount > alone(project, line.line!).length)) coupled++;
  }
  // Enough of each that the comparison means something: lines that take more feeds for each other's sake, and some that don't go together at all.
  expect(found.get(undefined)).toBeGreaterThan(8);
  expect(found.get(2)).toBeGreaterThan(5);
  expect(found.get(3)).toBeGreaterThan(20);
  expect(coupled).toBeGreaterThan(4);
  expect(apart).toBeGreaterThan(0);
  expect(kept).toBeGreaterThan(8);
}, 120_000);

/** Grounds joined at the terminals, or by a wire. */
const bondOf = (dice: Dice) =>
  dice.chance(0.5)
    ? {}
    : { ground: { wire: dice.pick(['AWG 14', 'AWG 18']), lengthMm: dice.between(100, 1000) } };

/** A random panel of several lines, supplies and kept feeds, with thin wire for the others. */
function wovenPanel(seed: number): Project {
  const dice = diceOf(seed + 8000);
  const run = () => ({
    leds: dice.whole(4, 60),
    strip: dice.pick(['wide', 'reel', 'reel']),
    jumper: {
      power: dice.pick(['carried', 'cut'] as const),
      wire: dice.pick(['AWG 18', 'AWG 20', 'AWG 22']),
      lengthMm: dice.between(20, 300),
    },
  });
  const lines = Array.from({ length: dice.whole(2, 3) }, () => Array.from({ length: dice.whole(1, 4) }, run));
  const all = lines.flat();
  const isParted = dice.chance(0.5);
  const feeds = Array.from({ length: dice.whole(0, 3) }, (): Feed => {
    const index = dice.whole(0, all.length - 1);
    return {
      run: `r${index}`,
      led: dice.pick([0, all[index]!.leds - 1]),
      wire: dice.pick(['AWG 18', 'AWG 20', '0.75 mm2']),
      lengthMm: dice.between(200, 1500),
      isKept: dice.chance(0.6),
      ...(dice.chance(0.4) ? { fuseAmps: dice.pick([2, 3, 5]) } : {}),
      // By run, so that no run hangs on two.
      ...(isParted && index % 2 === 1 ? { supply: 's2' } : {}),
    };
  });
  return withPlanning(
    {
      strips: [wide],
      lines,
      feeds,
      supply: { volts: 5.1, outputMilliohms: dice.pick([0, 4]), place: beside },
      ...(isParted
        ? { moreSupplies: [{ id: 's2', volts: 5.15, amps: 20, place: beside, ...bondOf(dice) }] }
        : {}),
    },
    {
      wire: dice.pick(['AWG 18', 'AWG 20', 'AWG 22']),
      jumpersStay: dice.chance(0.2),
      ...(dice.chance(0.3) ? { plug: dice.pick(['sm-2.5', 'vh-3.96'] as const) } : {}),
    },
  );
}

test('plans of several lines and supplies, with kept feeds and thin wire, hold every rule once they are done', () => {
  let [plans, kept, severalSupplies, lifted] = [0, 0, 0, 0];
  for (let seed = 0; seed < 200; seed++) {
    const project = wovenPanel(seed);
    const plan = planFeeds(project, layOut(project), { work: 2e7 });
    if (plan.kind === 'impossible') continue;
    plans++;
    const after = done(project, plan);
    expect(faultsOf(after), `panel ${seed}`).toEqual([]);
    expect(plan.lowestVolts, `panel ${seed}`).toBeCloseTo(lowestVolts(after), 6);
    if (plan.feeds.some(({ isKept }) => isKept)) kept++;
    const mixed = plan.lines.some(({ runs }) => {
      const own = plan.feeds.filter(({ run }) => runs.includes(run));
      return new Set(own.map(({ supply }) => supply)).size > 1;
    });
    if (mixed) severalSupplies++;
    if (mixed && project.power.moreSupplies![0]!.ground) lifted++;
  }
  expect(plans).toBeGreaterThan(100);
  expect(kept).toBeGreaterThan(50);
  expect(severalSupplies).toBeGreaterThan(15);
  expect(lifted).toBeGreaterThan(5);
}, 120_000);
