// Wire bytes to red, green and blue: each run's own colour order, LEDs in the order of the wire, byte / 255 as flux.
import { describe, expect, it } from 'vitest';
import { ledFlux, lightSources } from '../../src/light/index.ts';
import { layOut } from '../../src/panel/index.ts';
import { projectOf } from '../support/projects.ts';

const run = { arrowDeg: 0, strip: 'ws2812b-60' } as const;
const layout = layOut(
  projectOf({
    runs: [
      { ...run, id: 'second', firstLed: { xMm: 10, yMm: 20 }, ledCount: 1, colourOrder: 'BRG' },
      { ...run, id: 'first', firstLed: { xMm: 30, yMm: 40 }, ledCount: 2 },
      { ...run, id: 'loose', firstLed: { xMm: 50, yMm: 60 }, ledCount: 5 },
    ],
    dataLines: [{ pin: 6, chain: [{ run: 'first' }, { run: 'second' }] }],
  }),
);
const sources = lightSources(layout);

describe('sources of light', () => {
  it('stand in the order of the wire, and LEDs outside every chain are not among them', () => {
    // 60 LEDs a metre are 16.667 mm apart.
    expect(sources.map(({ xMm, yMm }) => [xMm, yMm])).toEqual([
      [30, 40],
      [30 + 1000 / 60, 40],
      [10, 20],
    ]);
  });

  it('read each byte as the colour that the run’s order says', () => {
    // The strip's own order is green, red, blue (WS2812B data sheet); the last LED's run is blue, red, green.
    const flux = ledFlux(sources, Uint8Array.of(255, 51, 0, 0, 0, 102, 255, 51, 0));
    const expected = [0.2, 1, 0, 0, 0, 0.4, 0.2, 0, 1];
    for (const [index, value] of expected.entries()) expect(flux[index]).toBeCloseTo(value, 6);
  });

  it('add a white byte to all three colours, and count four bytes for such an LED', () => {
    const white = layOut(
      projectOf({
        runs: [
          { ...run, id: 'plain', firstLed: { xMm: 10, yMm: 20 }, ledCount: 1 },
          { ...run, id: 'white', firstLed: { xMm: 10, yMm: 40 }, ledCount: 1, colourOrder: 'WRGB' },
          { ...run, id: 'more', firstLed: { xMm: 10, yMm: 60 }, ledCount: 1 },
        ],
        dataLines: [{ pin: 6, chain: [{ run: 'plain' }, { run: 'white' }, { run: 'more' }] }],
      }),
    );
    const flux = ledFlux(lightSources(white), Uint8Array.of(0, 0, 255, 102, 51, 0, 153, 0, 255, 0));
    const expected = [0, 0, 1, 0.6, 0.4, 1, 1, 0, 0];
    for (const [index, value] of expected.entries()) expect(flux[index]).toBeCloseTo(value, 6);
    expect(() => ledFlux(lightSources(white), new Uint8Array(9))).toThrow('a frame of 3 LEDs has 9 bytes');
  });
});
