// What was built otherwise than planned. A small model of solder and data stands beside the code: strips take bytes off the wire as they really lie,
// one LED after the other, and light what they took. Its colours are compared, place by place, with those that the plan would show.
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { bytesPerLed, channelLevels, colourOrders } from '../../src/catalogue/index.ts';
import { compileShowData, type Player } from '../../src/lampshow/index.ts';
import { layOut, panelFindings } from '../../src/panel/index.ts';
import { assessPower } from '../../src/power/index.ts';
import type { BuiltRun, Project, Run } from '../../src/project/index.ts';
import { faultsOf } from '../support/edit-laws.ts';
import { loadPlayer } from '../support/lamploom.ts';
import { projectOf, randomProject, rowsOfStrip } from '../support/projects.ts';
import { seedOf } from '../support/seed.ts';

let player: Player;
beforeAll(async () => {
  player = await loadPlayer();
});

type Colours = ReadonlyMap<string, readonly number[]>;
const dark = [0, 0, 0, 0];

/** Which colour each LED place shows when these bytes go out; places that take nothing are dark. */
function onTheBench(project: Project, bytes: Uint8Array): Colours {
  const chains = project.dataLines.map(({ chain }) => chain.map(({ run }) => run));
  for (const { first, second } of project.asBuilt?.swaps ?? [])
    for (const chain of chains)
      for (const [i, id] of chain.entries())
        if (id === first) chain[i] = second;
        else if (id === second) chain[i] = first;
  const shown = new Map<string, readonly number[]>();
  for (const run of project.runs)
    for (let led = 0; led < run.ledCount; led++) shown.set(`${run.id} ${led}`, dark);
  let at = 0;
  for (const chain of chains) {
    let isDark = false;
    for (const id of chain) {
      const run = project.runs.find((one) => one.id === id)!;
      const built: Partial<BuiltRun> = project.asBuilt?.runs.find((one) => one.run === id) ?? {};
      if (built.skipped) continue;
      isDark ||= built.fedAtDout ?? false;
      const order = built.colourOrder ?? run.colourOrder ?? 'GRB';
      const places = Array.from({ length: run.ledCount }, (_, led) => led);
      for (const led of built.laidReversed ? places.reverse() : places) {
        if (run.bypassedLeds?.includes(led)) continue;
        const isBroken = run.deadLeds?.includes(led) ?? false;
        if (!isDark && !isBroken) shown.set(`${id} ${led}`, channelLevels(order, bytes, at));
        at += bytesPerLed(order);
      }
    }
  }
  expect(at, 'bytes taken').toBe(bytes.length);
  return shown;
}

function framesOf(project: Project, frames: readonly number[]): Uint8Array[] {
  const data = compileShowData(project, layOut(project), { frameMs: 20 });
  player.setShowData(data!);
  return frames.map((frame) => Uint8Array.from(player.frame('attract', frame)));
}

interface Corrections {
  readonly kinds: readonly number[];
  readonly chance: readonly number[];
  readonly swaps: readonly (readonly [number, number])[];
}
const corrections: fc.Arbitrary<Corrections> = fc.record({
  kinds: fc.array(fc.nat(63), { minLength: 8, maxLength: 8 }),
  chance: fc.array(fc.nat(1000), { minLength: 8, maxLength: 8 }),
  swaps: fc.array(fc.tuple(fc.nat(7), fc.nat(7)), { maxLength: 3 }),
});

/** Puts random corrections on a project: bits of `kinds` say which, run by run. */
function corrected(project: Project, { kinds, chance, swaps }: Corrections): Project {
  const orderLike = (run: Run, i: number): BuiltRun['colourOrder'] => {
    const like = colourOrders.filter((order) => bytesPerLed(order) === bytesPerLed(run.colourOrder ?? 'GRB'));
    return like[chance[i]! % like.length]!;
  };
  const has = (i: number, bit: number): boolean => ((kinds[i]! >> bit) & 1) === 1;
  const runs = project.runs.map((run, i): Run => {
    const led = chance[i]! % run.ledCount;
    return {
      ...run,
      ...(has(i, 3) ? { bypassedLeds: [...new Set([led, run.ledCount - 1])].sort((a, b) => a - b) } : {}),
      ...(has(i, 4) ? { deadLeds: [(led + 1) % run.ledCount] } : {}),
    };
  });
  return {
    ...project,
    runs,
    asBuilt: {
      runs: project.runs.map((run, i) => ({
        run: run.id,
        laidReversed: has(i, 0),
        // Only now and then: behind it all is dark.
        fedAtDout: has(i, 1) && chance[i]! % 4 === 0,
        skipped: has(i, 2) && chance[i]! % 3 === 0,
        ...(has(i, 5) ? { colourOrder: orderLike(run, i) } : {}),
      })) as BuiltRun[],
      swaps: swaps.flatMap(([a, b]) => {
        const [first, second] = [
          project.runs[a % project.runs.length]!,
          project.runs[b % project.runs.length]!,
        ];
        return first === second ? [] : [{ first: first.id, second: second.id }];
      }),
    },
  };
}

/** No limiter: with fewer LEDs lit it would rightly hold the others down less. Every run has an order of its own, or the model wouldn't know it. */
const unlimited = (project: Project): Project => ({
  ...project,
  runs: project.runs.map((run) => ({ ...run, colourOrder: run.colourOrder ?? 'GRB' })),
  power: { supply: project.power.supply, feeds: project.power.feeds },
});

describe('[ASB1] each place shows what the lampshow asks for there', () => {
  test('whatever was built otherwise', () => {
    let lit = 0;
    let darkened = 0;
    fc.assert(
      fc.property(randomProject, corrections, (random, wrongs) => {
        const plan = unlimited(random);
        const built = corrected(plan, wrongs);
        expect(faultsOf(built)).toEqual([]);
        const frames = [0, 7, 61, 400];
        const asked = framesOf(plan, frames).map((bytes) => onTheBench(plan, bytes));
        const shown = framesOf(built, frames).map((bytes) => onTheBench(built, bytes));
        // What takes no data: it is the same for every frame.
        const reached = onTheBench(built, new Uint8Array(framesOf(built, [0])[0]!.length).fill(1));
        for (const [frame, colours] of shown.entries())
          for (const [place, colour] of colours) {
            const isReached = reached.get(place)!.some((level) => level > 0);
            const want = isReached ? asked[frame]!.get(place)! : dark;
            expect(colour, place).toEqual(want);
            if (isReached && colour.some((level) => level > 0)) lit++;
            if (!isReached && asked[frame]!.get(place)!.some((level) => level > 0)) darkened++;
          }
      }),
      { numRuns: 150, seed: seedOf(41) },
    );
    // A test in which nothing shines, or nothing goes wrong, would show nothing.
    expect(lit).toBeGreaterThan(5000);
    expect(darkened).toBeGreaterThan(500);
  });
});

const two = (asBuilt: NonNullable<Project['asBuilt']>, more: Partial<Run> = {}): Project =>
  projectOf({ runs: rowsOfStrip(90).map((run, i) => (i === 1 ? { ...run, ...more } : run)), asBuilt });

describe('[ASB2] the chain as built', () => {
  const wires = (project: Project) => layOut(project).wireLeds.map(({ run, led }) => `${run} ${led}`);
  const row = (n: number, from: number, to: number): string[] =>
    Array.from({ length: Math.abs(to - from) + 1 }, (_, i) => `row-${n} ${from + i * Math.sign(to - from)}`);

  test('a run laid the other way round is passed from its planned end', () => {
    const project = two({ runs: [{ run: 'row-1', laidReversed: true }], swaps: [] });
    expect(wires(project)).toEqual([...row(0, 0, 29), ...row(1, 29, 0), ...row(2, 0, 29)]);
    const placed = layOut(project).lines[0]!.runs[1]!;
    // row-1 runs from right to left: its planned end is on the left.
    expect(placed.dinEnd.xMm).toBeLessThan(placed.doutEnd.xMm);
  });
  test('runs that changed places', () => {
    const project = two({ runs: [], swaps: [{ first: 'row-0', second: 'row-2' }] });
    expect(wires(project)).toEqual([...row(2, 0, 29), ...row(1, 0, 29), ...row(0, 0, 29)]);
  });
  test('changed once more, with a third', () => {
    const project = two({
      runs: [],
      swaps: [
        { first: 'row-0', second: 'row-2' },
        { first: 'row-0', second: 'row-1' },
      ],
    });
    expect(wires(project)).toEqual([...row(2, 0, 29), ...row(0, 0, 29), ...row(1, 0, 29)]);
  });
  test('a skipped run, and a bypassed LED', () => {
    const skipped = two({ runs: [{ run: 'row-1', skipped: true }], swaps: [] });
    expect(wires(skipped)).toEqual([...row(0, 0, 29), ...row(2, 0, 29)]);
    const bypassed = two({ runs: [], swaps: [] }, { bypassedLeds: [4] });
    expect(wires(bypassed)).toEqual([...row(0, 0, 29), ...row(1, 0, 3), ...row(1, 5, 29), ...row(2, 0, 29)]);
  });
  test('+5 V: the jumper past a skipped run is cut where either of its neighbours was', () => {
    const project: Project = {
      ...two({ runs: [{ run: 'row-1', skipped: true }], swaps: [] }),
      dataLines: [
        { pin: 6, chain: [{ run: 'row-0' }, { run: 'row-1', jumper: { power: 'cut' } }, { run: 'row-2' }] },
      ],
    };
    expect(layOut(project).lines[0]!.jumpers.map(({ power, place }) => [power, place])).toEqual([['cut', 2]]);
  });
  test('the current follows: a bypassed LED stays on the rails and draws nothing but its chip', () => {
    const { worst } = assessPower(two({ runs: [], swaps: [] }), layOut(two({ runs: [], swaps: [] })));
    const project = two({ runs: [{ run: 'row-1', laidReversed: true }], swaps: [] });
    expect(assessPower(project, layOut(project)).worst.totalAmps).toBeCloseTo(worst.totalAmps, 12);
  });
});

describe('[ASB3] what should be re-wired is told', () => {
  const told = (project: Project) =>
    panelFindings(project, layOut(project))
      .filter(({ code }) => code !== 'joint-inside')
      .map(({ severity, code, at, message, mend }) => ({ severity, code, at, text: `${message} ${mend}` }));

  test('a joint at DOUT: which one, and how much stays dark', () => {
    const [finding, ...others] = told(two({ runs: [{ run: 'row-1', fedAtDout: true }], swaps: [] }));
    expect(others).toEqual([]);
    expect(finding).toMatchObject({
      severity: 'warning',
      code: 'fed-at-dout',
      at: '/asBuilt/runs/0/fedAtDout',
    });
    expect(finding!.text).toContain('60 LEDs');
    expect(finding!.text).toContain('DOUT of run "row-0"');
    expect(finding!.text).toContain('its DIN');
  });
  test('at the first run it is the board’s wire', () => {
    const [finding] = told(two({ runs: [{ run: 'row-0', fedAtDout: true }], swaps: [] }));
    expect(finding!.text).toContain('data wire on pin 6');
  });
  test.each([
    ['laid-reversed', { laidReversed: true }, 'note'],
    ['run-skipped', { skipped: true }, 'warning'],
    ['other-order', { colourOrder: 'BGR' }, 'note'],
    ['other-reel', { strip: 'ws2813-60' }, 'note'],
    ['white-differs', { colourOrder: 'GRBW' }, 'warning'],
  ] as const)('%s', (code, change, severity) => {
    const findings = told(two({ runs: [{ run: 'row-1', ...change }], swaps: [] }));
    expect(findings.map((one) => [one.code, one.severity])).toContainEqual([code, severity]);
    expect(findings.every(({ at }) => at.startsWith('/asBuilt/runs/0'))).toBe(true);
  });
  test('swaps and bypasses', () => {
    expect(
      told(two({ runs: [], swaps: [{ first: 'row-0', second: 'row-2' }] }, { bypassedLeds: [2] })).map(
        ({ code }) => code,
      ),
    ).toEqual(['runs-swapped', 'led-bypassed']);
  });
  test('a dead LED, until a wire leads past it', () => {
    const none = { runs: [], swaps: [] };
    expect(told(two(none, { deadLeds: [4] })).map(({ code, at }) => [code, at])).toEqual([
      ['led-dead', '/runs/1/deadLeds'],
    ]);
    expect(told(two(none, { deadLeds: [4], bypassedLeds: [4] })).map(({ code }) => code)).toEqual([
      'led-bypassed',
    ]);
  });
  test('nothing, where all is as planned', () => {
    expect(told(two({ runs: [], swaps: [] }))).toEqual([]);
  });
});
