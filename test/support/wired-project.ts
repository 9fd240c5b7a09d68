// Random projects with everything that edits must keep whole: two data lines, runs outside both, spare LEDs, feeds, jumpers, parts of areas
// written either way round, several shows and game events, and all that can lie on the panel. Built on the random projects of projects.ts.
import fc from 'fast-check';
import type { Area, Project } from '../../src/project/index.ts';
import { randomProject } from './projects.ts';

/** Edges that no LED lies on: places of runs are whole millimetres. */
const leftHalf = {
  kind: 'rectangle',
  xMm: -0.3719,
  yMm: -0.3719,
  widthMm: 300.6173,
  heightMm: 301.2237,
} as const;

const layingOnPanel = {
  sheet: 'own',
  opening: { xMm: 20, yMm: 10, widthMm: 560, heightMm: 280 },
  measures: [
    { from: { xMm: 0, yMm: 0 }, to: { xMm: 600, yMm: 0 }, measuredMm: 600 },
    { from: { xMm: 0, yMm: 0 }, to: { xMm: 0, yMm: 300 }, measuredMm: 301 },
  ],
  baffles: {
    thicknessMm: 3,
    belowSheetMm: 5,
    finish: 'white-paint',
    walls: [
      { from: { xMm: 0, yMm: 33 }, to: { xMm: 600, yMm: 33 } },
      { from: { xMm: 300, yMm: 0 }, to: { xMm: 310, yMm: 33 } },
    ],
  },
  keepOuts: [
    {
      id: 'screw',
      purpose: 'screw',
      shape: { kind: 'circle', centre: { xMm: 15, yMm: 15 }, diameterMm: 6 },
    },
    {
      id: 'speaker',
      name: 'Speaker',
      purpose: 'speaker',
      shape: { kind: 'rectangle', xMm: 250, yMm: 200, widthMm: 100, heightMm: 80 },
    },
  ],
  grid: { origin: { xMm: 20, yMm: 20 }, rowMm: 25 },
  guides: [
    { axis: 'x', atMm: 300 },
    { axis: 'y', atMm: 150 },
  ],
} satisfies Partial<Project['panel']>;

/** Some of what can have been soldered otherwise. */
const builtOtherwise = (runs: Project['runs']): NonNullable<Project['asBuilt']> => ({
  runs: [{ run: runs.at(-1)!.id, colourOrder: 'BGR' }],
  swaps: runs.length > 2 ? [{ first: runs[0]!.id, second: runs[1]!.id }] : [],
});

export const wiredProject: fc.Arbitrary<Project> = fc
  .tuple(randomProject, fc.nat(255), fc.boolean())
  .map(([project, chance, hasLoneRun]): Project => {
    const runs = project.runs.map((run, i) => ({
      ...run,
      ...((chance >> i) % 2 === 1
        ? { spareLeds: [...new Set([0, run.ledCount >> 1, run.ledCount - 1])] }
        : {}),
      ...((chance >> i) % 3 === 1 ? { deadLeds: [...new Set([run.ledCount >> 2, run.ledCount - 1])] } : {}),
    }));
    const chained = hasLoneRun && runs.length > 1 ? runs.slice(1) : runs;
    const cut = chained.length > 1 ? 1 + (chance % (chained.length - 1)) : chained.length;
    const chain = (part: typeof runs): Project['dataLines'][number]['chain'] =>
      part.map((run, i) =>
        i % 2 === 0
          ? { run: run.id }
          : { run: run.id, jumper: { power: i % 3 === 0 ? 'carried' : 'cut', lengthMm: 40 + i } },
      );
    const lines = [chained.slice(0, cut), chained.slice(cut)].filter((part) => part.length > 0);
    const backwards: Area = {
      id: 'backwards',
      members: runs.map((run) => ({
        kind: 'leds',
        run: run.id,
        from: run.ledCount - 1,
        to: run.ledCount >> 1,
      })),
      order: {
        kind: 'path',
        points: [
          { xMm: 0, yMm: 0 },
          { xMm: 300, yMm: 300 },
          { xMm: 600, yMm: 0 },
        ],
      },
    };
    const [show] = project.lampshows;
    return {
      ...project,
      panel: { ...project.panel, ...layingOnPanel },
      sheets: [{ id: 'own', label: 'Own', transmission: 0.5, thicknessMm: 2, spreadMm: 1 }],
      runs,
      ...(chance % 4 === 3 ? { asBuilt: builtOtherwise(runs) } : {}),
      dataLines: lines.map((part, i) => ({ pin: 6 + i, chain: chain(part) })),
      areas: [
        ...project.areas.map((area) => (area.id === 'left' ? { ...area, members: [leftHalf] } : area)),
        backwards,
      ],
      lampshows: [...project.lampshows, { ...show!, id: 'second' }, { id: 'empty', lengthMs: 500, rows: [] }],
      gameEvents: [
        { id: 'start', lampshow: 'second' },
        { id: 'lost', lampshow: 'attract' },
      ],
      pressLogs: [
        {
          id: 'game',
          lampshow: 'second',
          lengthMs: 4000,
          presses: [
            { atMs: 500, event: 'start' },
            { atMs: 900, event: 'lost', value: 7 },
          ],
          expected: [
            { atMs: 0, lampshow: 'second' },
            { atMs: 900, lampshow: 'attract' },
          ],
        },
      ],
      power: {
        ...project.power,
        feeds: runs.map((run, i) => ({
          run: run.id,
          led: (chance + i) % run.ledCount,
          wire: 'AWG 18',
          lengthMm: 300,
          ...(i % 2 === 0 ? { fuseAmps: 5 } : { fuseKind: 'tube', plug: 'vh-3.96' }),
          ...(i % 3 === 2 ? { supply: 'second' } : {}),
        })),
        moreSupplies: [{ id: 'second', volts: 5, amps: 4 }],
        planning: { forbidden: [{ run: runs[0]!.id, led: runs[0]!.ledCount - 1 }] },
      },
    };
  });
