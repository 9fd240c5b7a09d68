// Show packs: what goes in, which area means which, and what comes of it on the same panel and on another. Expected values follow from the rules told
// in src/lampshow/pack-places.ts and pack-import.ts, worked out by hand beside each check.
import { describe, expect, test } from 'vitest';
import { compileProject } from '../../src/board/index.ts';
import { type PlannedImport, plannedImport } from '../../src/lampshow/pack-import.ts';
import { carriedEffect, carriedOrder } from '../../src/lampshow/pack-places.ts';
import { type AreaChoice, matchAreas, packOf, roleOf } from '../../src/lampshow/show-pack.ts';
import { layOut } from '../../src/panel/index.ts';
import { type Effect, edited, limits, type Project, startHistory } from '../../src/project/index.ts';
import { readPack, type ShowPack, writePack } from '../../src/project/read-pack.ts';
import { holdsLaws, withValues } from '../support/edit-laws.ts';
import { loadPlayer, sample, samples, templates } from '../support/lamploom.ts';

const allShows = (project: { readonly lampshows: readonly { readonly id: string }[] }) =>
  project.lampshows.map(({ id }) => id);

/** As another builder gets it: through the file's text. */
function packed(project: Project, shows = allShows(project), withEvents = true): ShowPack {
  const read = readPack(writePack(packOf(project, layOut(project), shows, withEvents)));
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.value;
}

function choicesOf(pack: ShowPack, project: Project, instead?: AreaChoice): Map<string, AreaChoice> {
  return new Map(
    matchAreas(pack, project).map(({ area, by, choice }) => [
      area.id,
      by === 'none' && instead ? instead : choice,
    ]),
  );
}

interface Wanted {
  readonly instead?: AreaChoice;
  readonly keepsOrders?: boolean;
  readonly shows?: readonly string[];
}

const planned = (pack: ShowPack, project: Project, wanted: Wanted = {}): PlannedImport =>
  plannedImport(pack, project, layOut(project), {
    shows: wanted.shows ?? allShows(pack),
    choices: choicesOf(pack, project, wanted.instead),
    keepsOrders: wanted.keepsOrders ?? false,
    withEvents: true,
  });

const clipCount = ({ lampshows }: { readonly lampshows: Project['lampshows'] | ShowPack['lampshows'] }) =>
  lampshows.flatMap(({ rows }) => rows.flatMap(({ clips }) => clips)).length;

describe('[PACK1] a pack taken into its own project', () => {
  test.each(samples)('%s: every show sends the bytes of the one it came from', async (name) => {
    const project = sample(name);
    const plan = planned(packed(project), project);
    expect(plan).toMatchObject({ refusals: [], areas: [], newGradientCount: 0, leftOut: [], emptyShows: [] });
    expect(plan.shows).toHaveLength(project.lampshows.length);
    expect(plan.eventCount).toBe(project.gameEvents?.length ?? 0);
    const after = holdsLaws(project, 'Take in shows', plan.edit!);
    expect(new Set(allShows(after)).size).toBe(2 * project.lampshows.length);
    const { showData, frameMs } = compileProject(after, templates);
    const player = await loadPlayer();
    player.setShowData(showData!);
    for (const [index, show] of project.lampshows.entries())
      for (let frame = 0; frame * frameMs < show.lengthMs; frame += 7) {
        const original = player.frame(show.id, frame).slice();
        expect(player.frame(plan.shows[index]!, frame), `${show.id} at ${frame}`).toEqual(original);
      }
  });

  test('shows are called otherwise than those that are there, and the names of areas and gradients stay', () => {
    const project = sample('first-light');
    const { edit } = planned(packed(project, ['jackpot']), project);
    const { project: after } = edited(startHistory(project), 'take in', edit!);
    const [before, came] = [project.lampshows[2]!, after.lampshows.at(-1)!];
    expect(came).toEqual({ ...before, id: 'jackpot-2', name: `${before.name} 2` });
    expect(after.areas).toEqual(project.areas);
    expect(after.gradients).toEqual(project.gradients);
  });
});

describe('[PACK2] what a pack holds', () => {
  const project = sample('midnight-carnival');

  test('only the shows that were chosen, and the areas and gradients that their clips name', () => {
    const pack = packed(project, ['tilt']);
    const clips = project.lampshows.find(({ id }) => id === 'tilt')!.rows.flatMap((row) => row.clips);
    expect(allShows(pack)).toEqual(['tilt']);
    expect(new Set(pack.areas.map(({ id }) => id))).toEqual(new Set(clips.map(({ area }) => area)));
    expect(new Set(pack.gradients.map(({ id }) => id))).toEqual(
      new Set(clips.map(({ gradient }) => gradient)),
    );
  });

  test('nothing of the panel but its size: no LEDs, no artwork, no pins', () => {
    const text = writePack(packed(project));
    for (const word of ['members', 'artwork', 'base64', 'ledCount', 'chain', '"pin"', 'feeds'])
      expect(text).not.toContain(word);
    expect(JSON.parse(text).panelSize).toEqual({ widthMm: 600, heightMm: 300 });
  });

  test('where an area lay is told in shares of the panel', () => {
    const layout = layOut(project);
    const sky = packed(project).areas.find(({ id }) => id === 'sky')!;
    const area = project.areas.find(({ id }) => id === 'sky')!;
    // The sky of the sample is made of whole runs.
    const runs = area.members.flatMap((one) => (one.kind === 'runs' ? one.runs : []));
    const xs = layout.plannedLeds.filter(({ run }) => runs.includes(run)).map(({ xMm }) => xMm);
    expect(sky.box.x * 600).toBeCloseTo(Math.min(...xs), 2);
    expect((sky.box.x + sky.box.width) * 600).toBeCloseTo(Math.max(...xs), 2);
  });

  test('without events there are none', () => {
    expect(packed(project, allShows(project), false).gameEvents).toBeUndefined();
  });
});

describe('[PACK3] a pack taken into another panel', () => {
  const pairs = samples.flatMap((from) =>
    samples.filter((to) => to !== from).map((to) => [from, to] as const),
  );

  test.each(pairs)('%s into %s: what has no role there is told, and all else comes', (from, to) => {
    const [source, target] = [sample(from), sample(to)];
    const pack = packed(source);
    const roles = new Set(target.areas.map(roleOf));
    const ids = new Set(target.areas.map(({ id }) => id));
    const unmatched = pack.areas.filter((area) => !roles.has(roleOf(area)) && !ids.has(area.id));
    expect(
      matchAreas(pack, target)
        .filter(({ by }) => by === 'none')
        .map(({ area }) => area.id),
    ).toEqual(unmatched.map(({ id }) => id));
    const plan = planned(pack, target);
    expect(new Set(plan.leftOut.map(({ area }) => area))).toEqual(new Set(unmatched.map(({ id }) => id)));
    const lost = plan.leftOut.reduce((sum, one) => sum + one.clipCount, 0);
    const after = plan.edit ? holdsLaws(target, 'Take in shows', plan.edit) : target;
    expect(clipCount(after) - clipCount(target)).toBe(clipCount(source) - lost);
    expect(compileProject(after, templates).showData).toBeDefined();
  });

  test.each(pairs)(
    '%s into %s: on the whole panel where there is no counterpart, every clip comes',
    (from, to) => {
      const [source, target] = [sample(from), sample(to)];
      const plan = planned(packed(source), target, { instead: { kind: 'whole' } });
      expect(plan.leftOut).toEqual([]);
      const after = holdsLaws(target, 'Take in shows', plan.edit!);
      expect(clipCount(after) - clipCount(target)).toBe(clipCount(source));
      for (const id of plan.areas)
        expect(after.areas.find((area) => area.id === id)!.members).toEqual([{ kind: 'all' }]);
    },
  );

  test('a role finds its area under any id, and the same id goes before another area of that role', () => {
    const target = withValues(sample('first-light'), {
      '/areas/1/role': 'sky',
      '/areas/3/role': 'water',
    });
    const pack = packed(sample('deep-sea'));
    const choice = (id: string) => matchAreas(pack, target).find(({ area }) => area.id === id);
    expect(choice('water')).toMatchObject({ by: 'role', choice: { kind: 'area', id: 'sea' } });
    const carnival = packed(sample('midnight-carnival'));
    const sky = matchAreas(carnival, target).find(({ area }) => area.id === 'sky');
    expect(sky).toMatchObject({ by: 'role', choice: { kind: 'area', id: 'sky' } });
  });

  test('an area whose role is another one there is still found by its id', () => {
    const target = withValues(sample('first-light'), { '/areas/0/role': 'night' });
    const sky = matchAreas(packed(sample('midnight-carnival')), target).find(({ area }) => area.id === 'sky');
    expect(sky).toMatchObject({ by: 'id', choice: { kind: 'area', id: 'sky' } });
  });

  test('a show of which nothing is left stays out, and so do its events', () => {
    const pack = packed(sample('deep-sea'));
    const target = sample('first-light');
    const nowhere = new Map(pack.areas.map(({ id }) => [id, { kind: 'none' } as const]));
    const plan = plannedImport(pack, target, layOut(target), {
      shows: allShows(pack),
      choices: nowhere,
      keepsOrders: false,
      withEvents: true,
    });
    expect(plan).toMatchObject({ edit: undefined, shows: [], eventCount: 0 });
    expect(plan.emptyShows).toHaveLength(pack.lampshows.length);
  });

  test('with the orders of the pack, an area of the same LEDs travels as there; equal ones are shared', () => {
    const pack = packed(sample('midnight-carnival'), ['attract']);
    // There the moon is travelled outward; here upward.
    const target = withValues(sample('first-light'), { '/areas/2/order': { kind: 'up' } });
    const kept = planned(pack, target, { keepsOrders: true });
    const after = holdsLaws(target, 'Take in shows', kept.edit!);
    const moon = after.areas.find(({ id }) => id === 'moon-2')!;
    expect(moon.members).toEqual(target.areas[2]!.members);
    expect(moon.order.kind).toBe('outward');
    expect(planned(pack, target).areas).not.toContain('moon-2');
    const again = planned(pack, after, { keepsOrders: true });
    expect(again.areas).toEqual([]);
  });
});

describe('[PACK4] ids, gradients and limits', () => {
  const target = sample('first-light');
  const pack = packed(sample('deep-sea'), ['attract']);

  test('an equal gradient is shared whatever it is called, another one of the same id gets a free id', () => {
    const [first, second] = [pack.gradients[0]!, pack.gradients[1]!];
    const project: Project = {
      ...target,
      gradients: [
        ...target.gradients,
        { id: 'other-name', stops: first.stops },
        { id: second.id, stops: [{ at: 0, colour: '#123456' }] },
      ].filter((one, i, all) => all.findIndex(({ id }) => id === one.id) === i),
    };
    const plan = planned(pack, project, { instead: { kind: 'whole' } });
    const after = holdsLaws(project, 'Take in shows', plan.edit!);
    expect(
      after.gradients.filter(({ stops }) => JSON.stringify(stops) === JSON.stringify(first.stops)),
    ).toHaveLength(1);
    expect(after.gradients.find(({ id }) => id === `${second.id}-2`)?.stops).toEqual(second.stops);
    expect(plan.sharedGradientCount + plan.newGradientCount).toBe(pack.gradients.length);
  });

  test.each([
    ['the last show that fits comes', limits.lampshows - 1, true],
    ['one more is refused, in words', limits.lampshows, false],
  ])('%s', (_, count, fits) => {
    const show = { id: 'x', lengthMs: 1000, rows: [] };
    const project = {
      ...target,
      lampshows: [
        ...target.lampshows,
        ...Array.from({ length: count - target.lampshows.length }, (_unused, i) => ({
          ...show,
          id: `x-${i}`,
        })),
      ] as Project['lampshows'],
    };
    const plan = planned(pack, project, { instead: { kind: 'whole' } });
    expect(plan.edit !== undefined).toBe(fits);
    expect(plan.refusals).toEqual(
      fits ? [] : ['A project holds 64 lampshows; with these there would be 65.'],
    );
  });
});

describe('[PACK4] packs at their bounds', () => {
  const corner = { xMm: -10_000, yMm: 10_000 };
  const effects: readonly Effect[] = [
    { kind: 'rings', centre: corner, spacingMm: 5000, ringSeconds: 1, width: 0.5 },
    { kind: 'rings', centre: corner, spacingMm: 10, ringSeconds: 1, width: 0.5 },
    { kind: 'cloud', patchMm: 3000, driftMmPerSecond: 2000, driftDeg: 0, seed: 0 },
    { kind: 'fire', patchMm: 1e-9, riseMmPerSecond: 0, height: 1, seed: 0 },
    { kind: 'spokes', centre: corner, turnSeconds: 1, spokes: 1, width: 0.5, softness: 0 },
  ];
  const sizes = [1, limits.panelMm];
  const boxes = [
    { x: -10_000, y: 10_000, width: 0, height: 20_000 },
    { x: 0, y: 0, width: 1, height: 1e-9 },
  ];

  test.each(sizes.flatMap((widthMm) => boxes.map((box) => [widthMm, box] as const)))(
    'a panel of %f mm and a box of %o give a sound project',
    (widthMm, box) => {
      const source = packed(sample('first-light'), ['attract']);
      const clip = source.lampshows[0]!.rows[0]!.clips[0]!;
      const rows = effects.map((effect, i) => ({ id: `row-${i}`, clips: [{ ...clip, effect }] }));
      const pack = {
        ...source,
        panelSize: { widthMm, heightMm: widthMm },
        areas: source.areas.map((area) => ({ ...area, box, order: { kind: 'outward', centre: corner } })),
        lampshows: [{ ...source.lampshows[0]!, rows }],
      } as ShowPack;
      const read = readPack(writePack(pack));
      expect(read).toEqual({ ok: true, value: pack });
      for (const name of samples) {
        const plan = planned(pack, sample(name), { instead: { kind: 'whole' }, keepsOrders: true });
        const after = holdsLaws(sample(name), 'Take in shows', plan.edit!);
        expect(clipCount(after) - clipCount(sample(name))).toBe(effects.length);
      }
    },
  );
});

describe('[PACK5] places and lengths on another panel', () => {
  const from = { xMm: 100, yMm: 50, widthMm: 200, heightMm: 100 };
  // Half as wide, and twice as high; the panel is 1.5 times as wide.
  const to = { xMm: 10, yMm: 20, widthMm: 100, heightMm: 200 };
  const carrying = { from, to, scale: 1.5 };
  // A quarter of the way across and half way down: 10 + 100 / 4 and 20 + 200 / 2.
  const centre = { xMm: 150, yMm: 100 };
  const there = { xMm: 35, yMm: 120 };

  test.each([
    [
      { kind: 'outward', centre },
      { kind: 'outward', centre: there },
    ],
    [
      { kind: 'around', centre, startDeg: 90 },
      { kind: 'around', centre: there, startDeg: 90 },
    ],
    [
      { kind: 'path', points: [centre, { xMm: 300, yMm: 150 }], reversed: true },
      { kind: 'path', points: [there, { xMm: 110, yMm: 220 }], reversed: true },
    ],
    [{ kind: 'across' }, { kind: 'across' }],
  ] as const)('order %o', (order, expected) => {
    expect(carriedOrder(order as never, carrying)).toEqual(expected);
  });

  test('spokes and rings keep their centre’s place in the area; lengths grow with the panel’s width', () => {
    const seconds = { turnSeconds: 3, spokes: 4, width: 0.5, softness: 0.5 };
    expect(carriedEffect({ kind: 'spokes', centre, ...seconds }, carrying)).toEqual({
      kind: 'spokes',
      centre: there,
      ...seconds,
    });
    expect(
      carriedEffect({ kind: 'rings', centre, spacingMm: 40, ringSeconds: 1, width: 0.5 }, carrying),
    ).toEqual({ kind: 'rings', centre: there, spacingMm: 60, ringSeconds: 1, width: 0.5 });
    expect(
      carriedEffect({ kind: 'cloud', patchMm: 80, driftMmPerSecond: 10, driftDeg: 30, seed: 7 }, carrying),
    ).toEqual({ kind: 'cloud', patchMm: 120, driftMmPerSecond: 15, driftDeg: 30, seed: 7 });
    expect(
      carriedEffect({ kind: 'fire', patchMm: 80, riseMmPerSecond: 20, height: 0.5, seed: 7 }, carrying),
    ).toEqual({ kind: 'fire', patchMm: 120, riseMmPerSecond: 30, height: 0.5, seed: 7 });
  });

  test('on a line of LEDs a centre keeps its distance from the line, as the panels’ widths say', () => {
    const line = { ...to, heightMm: 0 };
    // The box there is 100 mm high with its middle at 100; 40 mm below it is 60 mm on a panel 1.5 times as wide.
    const order = carriedOrder(
      { kind: 'outward', centre: { xMm: 150, yMm: 140 } },
      { from, to: line, scale: 1.5 },
    );
    expect(order).toEqual({ kind: 'outward', centre: { xMm: 35, yMm: 80 } });
  });

  test('the same place within a hundredth of a millimetre leaves every digit as it is', () => {
    const odd = { kind: 'outward', centre: { xMm: 1 / 3, yMm: Math.PI } } as const;
    expect(carriedOrder(odd, { from, to: { ...from, xMm: 100.009 }, scale: 1 })).toBe(odd);
    expect(carriedOrder(odd, { from, to: { ...from, xMm: 100.02 }, scale: 1 })).not.toEqual(odd);
  });
});
