// Floating parts, wires of no length, negative values, a supply of 0 A: a clear word, and never a figure that is none.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { layOut } from '../../src/panel/index.ts';
import { assessPower, type Fault, powerFindings, powerReport, powerSummary } from '../../src/power/index.ts';
import { checkProject, type Project, problemLine } from '../../src/project/index.ts';
import { buildPanel } from './build-project.ts';
import { randomPanel } from './random-panels.ts';

const { project } = buildPanel({
  lines: [[{ leds: 10 }, { leds: 5, jumper: { power: 'cut' } }]],
  unchained: [{ leds: 3 }],
  supply: { amps: 10 },
  moreSupplies: [{ id: 'second', volts: 5, amps: 4 }],
  feeds: [{ run: 'r0', led: 0, wire: 'AWG 18', lengthMm: 300 }],
});

/** The lines that are told of a changed project. */
function told(change: (project: Record<string, unknown>) => void): string[] {
  const copy = structuredClone(project) as unknown as Record<string, unknown>;
  change(copy);
  const checked = checkProject(copy);
  return checked.ok ? [] : checked.problems.map(problemLine);
}
const powerOf = (copy: Record<string, unknown>) => copy['power'] as Project['power'];

describe('what no panel can have is refused with where, what was expected and what was found', () => {
  test.each<[string, (copy: Record<string, unknown>) => void, RegExp]>([
    [
      'a supply of 0 A',
      (copy) => (powerOf(copy).supply.amps = 0),
      /\/power\/supply\/amps.*more than 0.*found 0/,
    ],
    [
      'a supply of -5 A',
      (copy) => (powerOf(copy).supply.amps = -5),
      /\/power\/supply\/amps.*more than 0.*found -5/,
    ],
    [
      'a further supply of 0 A',
      (copy) => (powerOf(copy).moreSupplies![0]!.amps = 0),
      /\/power\/moreSupplies\/0\/amps.*more than 0/,
    ],
    [
      'an output of -1 milliohm',
      (copy) => (powerOf(copy).supply.outputMilliohms = -1),
      /\/power\/supply\/outputMilliohms.*0.*found -1/,
    ],
    [
      'a wire of no length',
      (copy) => (powerOf(copy).feeds[0]!.lengthMm = 0),
      /\/power\/feeds\/0\/lengthMm.*more than 0/,
    ],
    [
      'a wire of -3 mm',
      (copy) => (powerOf(copy).feeds[0]!.lengthMm = -3),
      /\/power\/feeds\/0\/lengthMm.*found -3/,
    ],
    [
      'a fuse of 0 A',
      (copy) => (powerOf(copy).feeds[0]!.fuseAmps = 0),
      /\/power\/feeds\/0\/fuseAmps.*more than 0/,
    ],
    ['a limit of 0 A', (copy) => (powerOf(copy).limitAmps = 0), /\/power\/limitAmps.*more than 0/],
    [
      'a feed from a supply that is not there',
      (copy) => (powerOf(copy).feeds[0]!.supply = 'third'),
      /\/power\/feeds\/0\/supply.*supply.*"third"/,
    ],
    [
      'a plug of no kind',
      (copy) => (powerOf(copy).feeds[0]!.plug = 'none' as 'clip'),
      /\/power\/feeds\/0\/plug/,
    ],
    [
      'a forbidden place on an LED that is not there',
      (copy) => (powerOf(copy).planning = { forbidden: [{ run: 'r0', led: 10 }] }),
      /\/power\/planning\/forbidden\/0\/led.*0 to 9.*10/,
    ],
  ])('%s', (_, change, line) => {
    const lines = told(change);
    expect(lines).toHaveLength(1);
    expect(lines[0]).toMatch(line);
  });
});

/** Every number in a value, with where it stands. */
function numbersIn(value: unknown, at = ''): [string, number][] {
  if (typeof value === 'number') return [[at, value]];
  if (value === null || typeof value !== 'object') return [];
  return Object.entries(value).flatMap(([key, inner]) => numbersIn(inner, `${at}/${key}`));
}

function expectFigures(project: Project, faults: readonly Fault[] = []) {
  const layout = layOut(project);
  const assessment = assessPower(project, layout, faults);
  for (const value of [
    powerReport(project, layout, undefined, assessment),
    powerSummary(project, layout, assessment),
  ])
    for (const [at, number] of numbersIn(value))
      expect(Number.isFinite(number), `${at} is ${number}`).toBe(true);
  const { worst, inUse, hot, starved } = assessment;
  for (const one of [worst, inUse, hot.worst, ...(starved ? [starved] : [])])
    for (const list of [one.ledVolts, one.ledAmps, one.linkAmps, one.bondAmps])
      expect(list.every(Number.isFinite)).toBe(true);
  for (const { message } of powerFindings(project, layout, assessment))
    expect(message).not.toMatch(/NaN|Infinity|undefined/);
}

describe('whatever can be said of a panel has figures', () => {
  test('parts that nothing feeds: 0 V, and a finding', () => {
    expectFigures(project);
    const layout = layOut(project);
    expect(powerReport(project, layout).leds.at(-4)).toEqual({ run: 'r1', led: 4, volts: 0 });
    expect(powerFindings(project, layout).map(({ code }) => code)).toContain('zone-unfed');
  });

  test.each<[string, Partial<Project['power']>]>([
    ['no feed at all', { feeds: [] }],
    ['a hair of wire', { feeds: [{ run: 'r0', led: 0, wire: 'AWG 10', lengthMm: 1e-12 }] }],
    ['hardly a supply', { supply: { volts: 3, amps: 1e-12 }, limitAmps: 1e-12 }],
    ['an enormous output resistance', { supply: { volts: 14, amps: 200, outputMilliohms: 1000 } }],
    [
      'a hair between the grounds',
      {
        moreSupplies: [{ id: 'second', volts: 5, amps: 1, ground: { wire: 'AWG 10', lengthMm: 1e-9 } }],
        feeds: [{ run: 'r1', led: 0, wire: 'AWG 18', lengthMm: 300, supply: 'second' }],
      },
    ],
    [
      'a fuse of hardly anything',
      { feeds: [{ run: 'r0', led: 0, wire: 'AWG 18', lengthMm: 300, fuseAmps: 1e-9, fuseKind: 'tube' }] },
    ],
  ])('%s', (_, power) => expectFigures({ ...project, power: { ...project.power, ...power } }));

  test('a project without any LED', () => {
    const empty = buildPanel({ lines: [] }).project;
    expectFigures(empty);
  });

  test('random panels with broken conductors', () => {
    fc.assert(
      fc.property(randomPanel, ({ project, faults }) => expectFigures(project, faults)),
      { seed: 11, numRuns: 150 },
    );
  });
});
