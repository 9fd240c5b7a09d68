// The section through a run, keep-outs as the inspector tells them, and the shades of the map.
import chroma from 'chroma-js';
import { describe, expect, test } from 'vitest';
import { evennessColour, evennessRange, evennessShades } from '../../src/app/canvas/evenness-scale.ts';
import { newProject } from '../../src/app/files/new-project.ts';
import {
  centreOf,
  cornerScrews,
  inShape,
  keepOutName,
  nearestStripMm,
  sizeOf,
} from '../../src/app/stages/panel/keep-out-facts.ts';
import { depthMm, sectionLayers, spreadLabels } from '../../src/app/stages/panel/section-layers.ts';
import { layOut } from '../../src/panel/index.ts';
import { addKeepOut, checkProject, edited, type KeepOut, startHistory } from '../../src/project/index.ts';

const day = '2031-02-03';

describe('layers of a section', () => {
  const panel = {
    glassMm: 4,
    airGapMm: 18,
    backing: { thicknessMm: 9, channelDepthMm: 5, material: 'MDF' },
  };
  const layers = sectionLayers(panel, 3);
  const layer = (id: string) => layers.find((one) => one.id === id)!;
  const bottom = (id: string) => layer(id).topMm + layer(id).thicknessMm;

  test('each begins where the one before ends, from the front to the LEDs', () => {
    expect(layers.map(({ id }) => id)).toEqual(['glass', 'print', 'diffuser', 'gap', 'strip', 'backing']);
    expect(layer('glass').topMm).toBe(0);
    for (const [front, behind] of [
      ['glass', 'print'],
      ['print', 'diffuser'],
      ['diffuser', 'gap'],
      ['gap', 'strip'],
    ] as const)
      expect(layer(behind).topMm).toBeCloseTo(bottom(front), 9);
    expect(layer('gap').thicknessMm).toBe(18);
    expect(layer('diffuser').thicknessMm).toBe(3);
  });

  test('the strip lies on the ground of its channel, which is as deep as told', () => {
    expect(bottom('strip')).toBeCloseTo(layer('backing').topMm + 5, 9);
    expect(layer('backing').thicknessMm).toBe(9);
    expect(layer('backing').label).toBe('Backing, mdf');
    expect(depthMm(layers)).toBeCloseTo(layer('backing').topMm + 9, 9);
  });

  test('without glass the print is foremost; a channel that is not told is 3 mm deep', () => {
    const plain = sectionLayers({ airGapMm: 18 }, 3);
    expect(plain[0]).toMatchObject({ id: 'print', topMm: 0 });
    expect(plain.find(({ id }) => id === 'strip')!.label).toBe('Strip in 3.0 mm channel');
    expect(plain.at(-1)).toMatchObject({ id: 'backing', isTold: false });
  });

  test('labels keep their order and their distance, and stay on the drawing', () => {
    const places = spreadLabels([1, 2, 3, 90, 99], 20, 100);
    for (let i = 1; i < places.length; i++) expect(places[i]! - places[i - 1]!).toBeGreaterThanOrEqual(20);
    expect(places[0]).toBeGreaterThanOrEqual(10);
    expect(places.at(-1)).toBeLessThanOrEqual(90);
    expect(spreadLabels([20, 60], 20, 100)).toEqual([20, 60]);
  });
});

describe('keep-outs', () => {
  const speaker: KeepOut = {
    id: 'a',
    purpose: 'speaker',
    shape: { kind: 'circle', centre: { xMm: 100, yMm: 50 }, diameterMm: 44 },
  };
  const display: KeepOut = {
    id: 'b',
    name: 'Score',
    purpose: 'display',
    shape: { kind: 'rectangle', xMm: 10, yMm: 20, widthMm: 30, heightMm: 8 },
  };

  test('are told by name or purpose, size and middle', () => {
    expect([speaker, display].map(keepOutName)).toEqual(['Speaker', 'Score']);
    expect([speaker, display].map(sizeOf)).toEqual(['44.0', '30.0 × 8.0']);
    expect([speaker, display].map(centreOf)).toEqual([
      { xMm: 100, yMm: 50 },
      { xMm: 25, yMm: 24 },
    ]);
  });

  test('keep their middle in another shape, and cover at least as much one way', () => {
    expect(inShape(speaker, 'circle')).toBe(speaker.shape);
    expect(inShape(speaker, 'rectangle')).toEqual({
      kind: 'rectangle',
      xMm: 78,
      yMm: 28,
      widthMm: 44,
      heightMm: 44,
    });
    expect(inShape(display, 'circle')).toEqual({
      kind: 'circle',
      centre: { xMm: 25, yMm: 24 },
      diameterMm: 30,
    });
  });

  test('four screws lie as far from both edges in each corner, and can be added twice', () => {
    const project = newProject(day);
    const { widthMm, heightMm } = project.panel;
    const screws = cornerScrews(project.panel);
    const fromEdges = screws.map((one) => {
      const { xMm, yMm } = centreOf(one);
      return [Math.min(xMm, widthMm - xMm), Math.min(yMm, heightMm - yMm)];
    });
    expect(new Set(fromEdges.flat()).size).toBe(1);
    expect(new Set(screws.map((one) => JSON.stringify(centreOf(one)))).size).toBe(4);
    let history = startHistory(project);
    for (let round = 0; round < 2; round++)
      for (const screw of cornerScrews(history.project.panel))
        history = edited(history, 'Add', addKeepOut(screw));
    expect(history.project.panel.keepOuts).toHaveLength(8);
    expect(checkProject(history.project)).toMatchObject({ ok: true });
  });

  test('the nearest strip is told from edge to edge', () => {
    const project = {
      ...newProject(day),
      runs: [
        { id: 'near', firstLed: { xMm: 50, yMm: 100 }, arrowDeg: 0, ledCount: 10, strip: 'ws2812b-60' },
        { id: 'far', firstLed: { xMm: 50, yMm: 300 }, arrowDeg: 0, ledCount: 10, strip: 'ws2812b-60' },
      ],
    };
    const layout = layOut(project);
    // A strip of 10 mm, its middle at 100 mm: its edge is at 95 mm. The display ends at 28 mm.
    expect(layout.runs[0]!.strip.boardWidthMm).toBe(10);
    expect(
      nearestStripMm(layout, { ...display, shape: { ...display.shape, xMm: 60 } as KeepOut['shape'] }),
    ).toBeCloseTo(67, 6);
    expect(
      nearestStripMm(layout, {
        ...speaker,
        shape: { kind: 'circle', centre: { xMm: 60, yMm: 100 }, diameterMm: 4 },
      }),
    ).toBe(0);
    expect(nearestStripMm(layOut(newProject(day)), speaker)).toBeUndefined();
  });
});

/** CIE 1976 lightness of an sRGB colour, 0 to 100: IEC 61966-2-1 for the light, CIE 15 for L*. */
function lightness([r, g, b]: readonly number[]): number {
  const light = [r!, g!, b!].map((code) => {
    const c = code / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  });
  const y = 0.2126 * light[0]! + 0.7152 * light[1]! + 0.0722 * light[2]!;
  return y > (6 / 29) ** 3 ? 116 * Math.cbrt(y) - 16 : (29 / 3) ** 3 * y;
}

describe('shades of the map of evenness', () => {
  test('rise in equal steps of lightness', () => {
    const values = evennessShades(11).map((colour) => lightness(chroma(colour).rgb()));
    const step = (values.at(-1)! - values[0]!) / 10;
    expect(step).toBeGreaterThan(6);
    for (let i = 1; i < values.length; i++)
      expect(Math.abs(values[i]! - values[i - 1]! - step)).toBeLessThan(0.8);
  });

  test('are one hue: blue is never less than green, green never less than red', () => {
    for (const colour of evennessShades(40)) {
      const [r, g, b] = chroma(colour).rgb();
      expect(b).toBeGreaterThanOrEqual(g);
      expect(g).toBeGreaterThanOrEqual(r);
    }
  });

  test('more light is a brighter shade, and what lies outside looks like the ends', () => {
    const { least, most } = evennessRange;
    expect(evennessColour(0)).toEqual(evennessColour(least));
    expect(evennessColour(9)).toEqual(evennessColour(most));
    expect(lightness(evennessColour(1))).toBeGreaterThan(lightness(evennessColour(0.9)) + 2);
  });
});
