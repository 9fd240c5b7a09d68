// Walls and channel lips in the light, against straight lines drawn here anew: a ray from the LED climbs evenly to the sheet and is stopped where it
// meets a wall below that wall's upper edge.
import { describe, expect, it } from 'vitest';
import {
  channelRound,
  evennessMap,
  faceLight,
  glowOf,
  gridOver,
  type LightBox,
  type LightWay,
  ledsOnWire,
  lightBox,
  lightMap,
  lightWays,
  lightWeights,
  openShare,
  pictureOf,
  waysOf,
} from '../../src/light/index.ts';
import { layOut, type PointMm } from '../../src/panel/index.ts';
import type { Project } from '../../src/project/index.ts';
import { channels } from '../../src/workshop/index.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';
import { seedOf } from '../support/seed.ts';

type Baffles = NonNullable<Project['panel']['baffles']>;
const mm = (xMm: number, yMm: number): PointMm => ({ xMm, yMm });
const panelWith = (airGapMm: number, baffles: Baffles): Project['panel'] => ({
  widthMm: 200,
  heightMm: 200,
  airGapMm,
  sheet: 'opal-pmma',
  baffles,
});
/** With faces that send nothing back. */
const darkBox = (airGapMm: number, baffles: Baffles): LightBox => ({
  ...lightBox(panelWith(airGapMm, baffles))!,
  reflectance: 0,
});
const white = (leds: number) => new Float32Array(leds * 3).fill(1);
const square = (middle: PointMm, half: number, thicknessMm: number): Baffles => ({
  thicknessMm,
  walls: [
    [mm(-half, -half), mm(half, -half)],
    [mm(half, -half), mm(half, half)],
    [mm(half, half), mm(-half, half)],
    [mm(-half, half), mm(-half, -half)],
  ].map(([from, to]) => ({
    from: mm(middle.xMm + from!.xMm, middle.yMm + from!.yMm),
    to: mm(middle.xMm + to!.xMm, middle.yMm + to!.yMm),
  })),
});

describe('a cell with walls on four sides', () => {
  // Source: the formula of one LED at its cell's corner: side p = z, r^2 = z^2 / 2, so (1 / 1.5)^2 = 0.4444 of the light right above it.
  const gapMm = 30;
  const led = mm(100, 100);
  const thin = 0.02;
  const box = darkBox(gapMm, square(led, gapMm / 2, thin));

  it('is 0.4444 as bright in its corners as in the middle without bounce', () => {
    const ways = [waysOf(led, box, undefined)];
    const at = (place: PointMm): number => {
      const cell = { xMm: place.xMm - 0.005, yMm: place.yMm - 0.005, widthMm: 0.01, heightMm: 0.01 };
      return faceLight([led], white(1), gridOver(cell, 0.01), gapMm, ways)[0]!;
    };
    const corner = gapMm / 2 - thin;
    for (const [x, y] of [
      [1, 1],
      [1, -1],
      [-1, 1],
      [-1, -1],
    ] as const)
      expect(Math.abs(at(mm(100 + x * corner, 100 + y * corner)) / at(led) / 0.4444 - 1)).toBeLessThan(0.01);
  });

  it('gets nothing from the LED of the next cell, and gives it nothing', () => {
    const [way] = waysOf(mm(100 + gapMm, 100), box, undefined);
    for (let x = -14; x <= 14; x += 2)
      for (let y = -14; y <= 14; y += 2) expect(openShare(way!, 100 + x, 100 + y, 0.1)).toBe(0);
    const [own] = waysOf(led, box, undefined);
    for (const place of [mm(116, 100), mm(130, 100), mm(116, 116), mm(60, 90)])
      expect(openShare(own!, place.xMm, place.yMm, 0.1)).toBe(0);
  });
});

/** Whether the straight way from an LED to a place of the sheet meets a wall below its edge: the part of the way that lies between each pair of sides. */
function isStopped(led: PointMm, place: PointMm, baffles: Baffles, airGapMm: number): boolean {
  const edge = (airGapMm - (baffles.belowSheetMm ?? 0)) / airGapMm;
  return baffles.walls.some(({ from, to }) => {
    const length = Math.hypot(to.xMm - from.xMm, to.yMm - from.yMm);
    const x = (to.xMm - from.xMm) / length;
    const y = (to.yMm - from.yMm) / length;
    const along = (point: PointMm) => (point.xMm - from.xMm) * x + (point.yMm - from.yMm) * y;
    const aside = (point: PointMm) => (point.yMm - from.yMm) * x - (point.xMm - from.xMm) * y;
    let [enters, leaves] = [0, edge];
    for (const [at, end, least, most] of [
      [along(led), along(place), 0, length],
      [aside(led), aside(place), -baffles.thicknessMm / 2, baffles.thicknessMm / 2],
    ] as const) {
      const times = [(least - at) / (end - at), (most - at) / (end - at)];
      enters = Math.max(enters, Math.min(...times));
      leaves = Math.min(leaves, Math.max(...times));
    }
    return enters < leaves;
  });
}

/** A small generator of numbers from 0 to 1 (multiply and add, constants from memory of a common textbook). */
function numbersFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

const random = numbersFrom(seedOf(20_261));
const between = (low: number, high: number) => low + random() * (high - low);
const randomBoxes = Array.from({ length: 20 }, (_, index) => {
  const airGapMm = between(12, 45);
  const baffles: Baffles = {
    thicknessMm: between(0.8, 9),
    belowSheetMm: index % 3 === 0 ? 0 : between(0, airGapMm * 0.7),
    walls: Array.from({ length: 1 + (index % 5) }, () => ({
      from: mm(between(20, 180), between(20, 180)),
      to: mm(between(20, 180), between(20, 180)),
    })),
  };
  return { index, airGapMm, baffles, led: mm(between(50, 150), between(50, 150)) };
});

describe('the edge of a shadow', () => {
  let edges = 0;
  let compared = 0;

  it.each(randomBoxes)('lies within 1 mm of where straight lines put it: case $index', (one) => {
    const { airGapMm, baffles, led } = one;
    const [way] = waysOf(led, darkBox(airGapMm, baffles), undefined);
    for (let ray = 0; ray < 12; ray++) {
      const angle = (2 * Math.PI * (ray + 0.37)) / 12;
      const at = (distance: number, aside: number) =>
        mm(
          led.xMm + distance * Math.cos(angle) - aside * Math.sin(angle),
          led.yMm + distance * Math.sin(angle) + aside * Math.cos(angle),
        );
      for (let distance = 1; distance < 110; distance += 1) {
        const place = at(distance, 0);
        const expected = isStopped(led, place, baffles, airGapMm);
        // A place with both kinds less than a millimetre around it lies on an edge.
        const around = [at(distance - 0.9, 0), at(distance + 0.9, 0), at(distance, -0.9), at(distance, 0.9)];
        if (around.some((other) => isStopped(led, other, baffles, airGapMm) !== expected)) {
          edges++;
          continue;
        }
        compared++;
        expect(openShare(way!, place.xMm, place.yMm, 0.01), `${distance} mm at ray ${ray}`).toBe(
          expected ? 0 : 1,
        );
      }
    }
  });

  it('was met often, and nearly all places lie beside one', () => {
    expect(edges).toBeGreaterThan(50);
    expect(compared).toBeGreaterThan(20 * edges);
  });
});

describe('light by way of a wall', () => {
  it('is that of the mirror image, by the reflectance', () => {
    // A wall as long as matters, its face 20 mm from the LED: at a place in front, the formula of the LED plus 0.85 of the same at its image.
    const walls = [{ from: mm(-5000, 21), to: mm(5000, 21) }];
    const box = lightBox(panelWith(30, { thicknessMm: 2, finish: 'white-paint', walls }))!;
    const led = mm(0, 0);
    const formula = (r2: number) => 900 / (Math.PI * (r2 + 900) ** 2);
    for (const [x, y] of [
      [0, 0],
      [13, 19],
      [-40, 5],
      [7, -60],
    ] as const) {
      const cell = gridOver({ xMm: x - 0.05, yMm: y - 0.05, widthMm: 0.1, heightMm: 0.1 }, 0.1);
      const [light] = faceLight([led], white(1), cell, 30, [waysOf(led, box, undefined)]);
      const expected = formula(x * x + y * y) + 0.85 * formula(x * x + (40 - y) ** 2);
      expect(Math.abs(light! / expected - 1)).toBeLessThan(1e-4);
    }
    const behind = gridOver({ xMm: -1, yMm: 30, widthMm: 2, heightMm: 2 }, 1);
    expect(Math.max(...faceLight([led], white(1), behind, 30, [waysOf(led, box, undefined)]))).toBe(0);
  });

  it.each(randomBoxes)('never makes more light than the LED gives: case $index', (one) => {
    // What is neither straight light on the sheet nor sent back must have been lost: with faces that send all back, the sum is at most 1.
    const { airGapMm, baffles, led } = one;
    const box = { ...lightBox(panelWith(airGapMm, baffles))!, reflectance: 1 };
    const grid = gridOver({ xMm: -100, yMm: -100, widthMm: 400, heightMm: 400 }, 1);
    const total = (ways: readonly LightWay[]) =>
      faceLight([led], white(1), grid, airGapMm, [ways]).reduce(
        (sum, light, i) => sum + (i % 3 ? 0 : light),
        0,
      );
    const ways = waysOf(led, box, undefined);
    const straight = total(ways.slice(0, 1));
    expect(total(ways)).toBeLessThanOrEqual(1.002);
    expect(straight).toBeLessThanOrEqual(1.001);
    expect(total(ways)).toBeGreaterThanOrEqual(straight);
  });

  it('returns nearly all of it between two mirrors that a first bounce leaves open', () => {
    // One endless wall: straight light in front and one bounce are all there is, so with a perfect face nothing is lost.
    const walls = [{ from: mm(-9000, 21), to: mm(9000, 21) }];
    const box = { ...lightBox(panelWith(30, { thicknessMm: 2, walls }))!, reflectance: 1 };
    const grid = gridOver({ xMm: -1500, yMm: -2980, widthMm: 3000, heightMm: 3000 }, 5);
    const map = faceLight([mm(0, 0)], white(1), grid, 30, [waysOf(mm(0, 0), box, undefined)]);
    const sum = map.reduce((total, light, i) => total + (i % 3 ? 0 : light), 0) * 25;
    // The disc formula: 1500 mm of reach miss about (30 / 1500)^2.
    expect(sum).toBeGreaterThan(0.995);
    expect(sum).toBeLessThan(1.005);
  });
});

describe('the lips of a channel', () => {
  const project = (channelDepthMm: number | undefined) => {
    const plain = projectOf({ runs: rowsOfStrip(30) });
    return {
      ...plain,
      panel: {
        ...plain.panel,
        backing: { thicknessMm: 12, ...(channelDepthMm === undefined ? {} : { channelDepthMm }) },
      },
    };
  };

  it('cut the light where a straight line over the edge meets the sheet', () => {
    // Source: strip 10 mm wide, 0.3 mm clearance each side (channels.ts); LED faces 1.9 mm above the floor, so 4.1 mm below a surface cut 6 mm
    // deep; air gap 30. The edge, 5.3 mm aside and 4.1 mm up, throws its line at 5.3 x 30 / 4.1 = 38.78 mm.
    const { panel } = project(6);
    const layout = layOut(project(6));
    const ways = lightWays(panel, layout, ledsOnWire(layout))!;
    const led = layout.wireLeds[15]!;
    const [way] = ways[15]!;
    for (const side of [-1, 1]) {
      expect(openShare(way!, led.xMm, led.yMm + side * 38.7, 0.01)).toBe(1);
      expect(openShare(way!, led.xMm, led.yMm + side * 38.9, 0.01)).toBe(0);
    }
    expect(openShare(way!, led.xMm + 200, led.yMm, 0.01)).toBe(1);
  });

  it('are nothing where faces stand above the surface, and where there is no backing', () => {
    expect(lightBox(project(1.9).panel)).toBeUndefined();
    expect(lightBox(project(2).panel)?.lipMm).toBeCloseTo(0.1, 9);
    expect(lightBox(projectOf({ runs: rowsOfStrip(30) }).panel)).toBeUndefined();
  });

  it('are as far apart as the channel is cut, straight and turned', () => {
    for (const arrowDeg of [0, 37, 180]) {
      const [run] = rowsOfStrip(6);
      const layout = layOut(projectOf({ runs: [{ ...run!, arrowDeg, firstLed: mm(200, 200) }] }));
      const outline = channelRound(layout.runs[0]!, 2);
      const expected = channels(layout)[0]!.corners;
      for (const corner of expected)
        expect(
          Math.min(...outline.map(({ xMm, yMm }) => Math.hypot(xMm - corner.xMm, yMm - corner.yMm))),
        ).toBeLessThan(1e-9);
    }
  });
});

describe('walls in a project', () => {
  const plain = projectOf({ runs: rowsOfStrip(90) });
  const baffles: Baffles = {
    thicknessMm: 3,
    finish: 'white-paint',
    walls: [
      { from: mm(0, 32.5), to: mm(600, 32.5) },
      { from: mm(250, 0), to: mm(250, 100) },
    ],
  };
  const walled: Project = { ...plain, panel: { ...plain.panel, baffles } };
  const layout = layOut(walled);
  const leds = ledsOnWire(layout);
  const ways = lightWays(walled.panel, layout, leds)!;

  it('shade the live weights exactly as the reference, away from edges', () => {
    const grid = gridOver({ xMm: 0, yMm: 0, widthMm: 600, heightMm: 115 }, 5);
    const flux = Float32Array.from({ length: leds.length * 3 }, (_, i) => ((i * 31) % 17) / 17);
    const live = lightMap(lightWeights(leds, grid, 30, 0, 0, undefined, ways), flux);
    const reference = faceLight(leds, flux, grid, 30, ways);
    for (const [i, light] of reference.entries())
      expect(Math.abs(live[i]! - light)).toBeLessThanOrEqual(1e-4 * light);
  });

  it('make new weights for LEDs whose light they cut otherwise, and leave the rest', () => {
    const grid = gridOver({ xMm: 0, yMm: 0, widthMm: 600, heightMm: 115 }, 5);
    const before = lightWeights(leds, grid, 30, 0, 1.5, undefined, ways);
    const same = lightWeights(leds, grid, 30, 0, 1.5, before, lightWays(walled.panel, layout, leds));
    expect(same.leds.every((led, i) => led === before.leds[i])).toBe(true);
    const moved = { ...walled.panel, baffles: { ...baffles, walls: [baffles.walls[0]!] } };
    const movedWays = lightWays(moved, layout, leds);
    const after = lightWeights(leds, grid, 30, 0, 1.5, before, movedWays);
    expect(after.leds.some((led, i) => led === before.leds[i])).toBe(false);
    const flux = white(leds.length);
    expect(lightMap(after, flux)).toEqual(
      lightMap(lightWeights(leds, grid, 30, 0, 1.5, undefined, movedWays), flux),
    );
    const bare = lightWeights(leds, grid, 30, 0, 1.5, before);
    expect(lightMap(bare, flux)).toEqual(lightMap(lightWeights(leds, grid, 30, 0, 1.5), flux));
  });

  it('are in the evenness map as in the picture', () => {
    const map = evennessMap(walled, layout, { mmPerPx: 5 });
    const grid = gridOver({ xMm: 0, yMm: 0, widthMm: 600, heightMm: 115 }, 5);
    const reference = faceLight(leds, white(leds.length), grid, 30, ways);
    expect(map.light).toHaveLength(120 * 23);
    for (const [at, light] of map.light.entries())
      expect(Math.abs(light - reference[at * 3]!)).toBeLessThanOrEqual(1e-4 * reference[at * 3]!);
    // White walls send light back to their own side: without them the ends of the panel are as they were, beside them brighter.
    expect(map.light).not.toEqual(evennessMap(plain, layout, { mmPerPx: 5 }).light);
  });

  it('leave black print black', () => {
    const grid = gridOver({ xMm: 0, yMm: 0, widthMm: 600, heightMm: 115 }, 5);
    const flux = new Float32Array(leds.length * 3).fill(1);
    const { behindSheet } = glowOf(leds, flux, grid, 30, { spreadMm: 1.5 }, ways);
    const ink = new Float32Array(behindSheet.length);
    const factors = { through: 1e9, printLight: 0, frameLight: 0 };
    const opening = { xMm: 0, yMm: 0, widthMm: 600, heightMm: 115 };
    const pixels = pictureOf({ grid, behindSheet, ink, opening, factors });
    expect(pixels.every((code, i) => code === (i % 4 === 3 ? 255 : 0))).toBe(true);
    expect(Math.max(...behindSheet)).toBeGreaterThan(0);
  });
});
