// The backing's drawing, read back as text and, by an outside renderer (resvg), as pixels: sizes, places, order, escaping, same bytes.
import { readFileSync } from 'node:fs';
import { initWasm, Resvg } from '@resvg/resvg-wasm';
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { layOut } from '../../src/panel/index.ts';
import { type Project, readProject, writeProject } from '../../src/project/index.ts';
import { backingSvg, channels, overlaps } from '../../src/workshop/index.ts';
import { root, sample, samples } from '../support/lamploom.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';
import { wiredProject } from '../support/wired-project.ts';
import { depthsInside, groupTag, groupText, pathsOf } from './svg-reader.ts';

beforeAll(async () => {
  await initWasm(readFileSync(`${root}/node_modules/@resvg/resvg-wasm/index_bg.wasm`));
});

const draw = (project: Project): string => backingSvg(project, layOut(project));
const small = (parts: Partial<Project> = {}): Project =>
  projectOf({
    runs: [{ id: 'slant', firstLed: { xMm: 100, yMm: 100 }, arrowDeg: 30, ledCount: 3, strip: 'ws2812b-60' }],
    panel: { widthMm: 210, heightMm: 148.5, airGapMm: 30, sheet: 'opal-pmma' },
    ...parts,
  });

describe('[WRK4] the drawing', () => {
  test.each([
    ['midnight-carnival', '600', '300'],
    ['first-light', '300', '200'],
    ['deep-sea', '640', '420'],
  ] as const)('%s is as wide and high as its panel, in millimetres', (name, width, height) => {
    expect(draw(sample(name))).toContain(
      `width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}"`,
    );
  });

  test.each(samples)('%s has every LED in the channel of its run, and every channel once', (name) => {
    const project = sample(name);
    const drawn = pathsOf(draw(project), 'channels');
    const chain = project.dataLines.flatMap((line) => line.chain.map((link) => link.run));
    expect([...drawn.keys()]).toEqual(chain.map((run) => `channel-${run}`));
    // Half of 10.6 mm, less what the third decimal rounds off.
    for (const led of layOut(project).wireLeds)
      expect(Math.min(...depthsInside(drawn.get(`channel-${led.run}`)!, led))).toBeGreaterThan(5.298);
  });

  test('the number of each run stands upright in its channel', () => {
    const svg = draw(sample('midnight-carnival'));
    const drawn = [...pathsOf(svg, 'channels').values()];
    const texts = [
      ...groupText(svg, 'numbers')!.matchAll(/<text x="(.+?)" y="(.+?)" font-size="(.+?)">(\d+)</g),
    ];
    expect(texts.map((text) => Number(text[4]))).toEqual(Array.from({ length: 18 }, (_, i) => i + 1));
    for (const [i, [, x, y, size]] of texts.entries()) {
      const baseline = { xMm: Number(x), yMm: Number(y) };
      const top = { xMm: Number(x), yMm: Number(y) - 0.72 * Number(size) };
      for (const point of [baseline, top])
        expect(Math.min(...depthsInside(drawn[i]!, point))).toBeGreaterThan(2);
    }
    expect(svg).not.toContain('transform');
  });

  test('red cuts through, black engraves, blue is not for the tool', () => {
    const svg = draw(sample('midnight-carnival'));
    const stroke = (id: string) => /stroke="(.*?)"/.exec(groupTag(svg, id))?.[1];
    expect(['outline', 'channels', 'numbers', 'opening', 'check-bar'].map(stroke)).toEqual([
      '#ff0000',
      '#000000',
      'none',
      '#0000ff',
      '#0000ff',
    ]);
    expect(groupTag(svg, 'opening')).toContain('stroke-dasharray');
  });

  test('the opening is drawn where the file has it, and not where it has none', () => {
    const opening = { xMm: 10.25, yMm: 20, widthMm: 100, heightMm: 50.5 };
    const { panel } = small();
    expect(pathsOf(draw(small({ panel: { ...panel, opening } })), 'opening').get('0')).toEqual([
      { xMm: 10.25, yMm: 20 },
      { xMm: 110.25, yMm: 20 },
      { xMm: 110.25, yMm: 70.5 },
      { xMm: 10.25, yMm: 70.5 },
    ]);
    expect(draw(small())).not.toContain('opening');
  });

  test('no coordinate has more than three decimals', () => {
    fc.assert(
      fc.property(wiredProject, (project) => {
        expect(draw(project)).not.toMatch(/="[^"]*\d\.\d{4}/);
        for (const [, numbers] of draw(project).matchAll(/ (?:d|x|y|font-size|viewBox)="([^"]*)"/g))
          expect(numbers!.replace(/[MLZ]/g, ' ').trim()).toMatch(
            /^(-?\d+(\.\d{1,3})?\s+)*-?\d+(\.\d{1,3})?$/,
          );
        expect(draw(project)).not.toMatch(/[ "ML]-0[ "LZ]/);
      }),
      { seed: 5, numRuns: 60 },
    );
  });

  test('the same project gives the same bytes, from memory or from its file', () => {
    for (const name of samples) {
      const read = readProject(writeProject(sample(name)));
      expect(read.ok && draw(read.value)).toBe(draw(sample(name)));
    }
  });
});

describe('[WRK5] the bar to measure', () => {
  test('is 100 mm long, on the panel, and 3 mm or more from every channel', () => {
    let barCount = 0;
    const check = (project: Project): void => {
      const [bar] = pathsOf(draw(project), 'check-bar').values();
      if (!bar) return;
      barCount++;
      const [a, b, c, d] = bar as [(typeof bar)[0], (typeof bar)[0], (typeof bar)[0], (typeof bar)[0]];
      expect(b.xMm - a.xMm).toBe(100);
      expect(a.xMm).toBeGreaterThanOrEqual(3);
      expect(b.xMm).toBeLessThanOrEqual(project.panel.widthMm - 3);
      expect(a.yMm).toBeGreaterThanOrEqual(3);
      expect(d.yMm).toBeLessThanOrEqual(project.panel.heightMm - 3);
      const around = [
        { xMm: a.xMm - 2.999, yMm: a.yMm - 2.999 },
        { xMm: b.xMm + 2.999, yMm: b.yMm - 2.999 },
        { xMm: c.xMm + 2.999, yMm: c.yMm + 2.999 },
        { xMm: d.xMm - 2.999, yMm: d.yMm + 2.999 },
      ];
      for (const { corners } of channels(layOut(project))) expect(overlaps(around, corners)).toBe(false);
    };
    for (const name of samples) check(sample(name));
    fc.assert(fc.property(wiredProject, check), { seed: 6, numRuns: 40 });
    expect(barCount).toBeGreaterThan(30);
  });

  test('is left away where there is no room for it', () => {
    const { panel } = small();
    expect(draw(small({ panel: { ...panel, widthMm: 105 } }))).not.toContain('id="check-bar"');
    // Rows 25 mm apart leave 14.4 mm between channels, rows 19 mm apart 8.4 mm: the bar needs 9.
    const rows = (apartMm: number): Project =>
      projectOf({
        runs: rowsOfStrip(300).map((run, row) => ({
          ...run,
          firstLed: { ...run.firstLed, yMm: 5.3 + apartMm * row },
        })),
        panel: { widthMm: 540, heightMm: 10.6 + 9 * apartMm, airGapMm: 30, sheet: 'opal-pmma' },
      });
    expect(draw(rows(25))).toContain('id="check-bar"');
    expect(draw(rows(19))).not.toContain('id="check-bar"');
  });
});

// ---- measured by an outside renderer ----

const pxPerMm = 10;

interface Extent {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

/** Renders at true size, 254 dots per inch, and gives the extents of each colour in mm. Text stays out: no fonts are loaded. */
function measured(
  svg: string,
): Record<'red' | 'black' | 'blue', Extent> & { readonly sizeMm: readonly number[] } {
  const drawing = new Resvg(svg, {
    dpi: 25.4 * pxPerMm,
    background: '#ffffff',
    font: { loadSystemFonts: false },
  });
  const { width, height, pixels } = drawing.render();
  const none = (): Extent => ({ left: Infinity, top: Infinity, right: -Infinity, bottom: -Infinity });
  const extents = { red: none(), black: none(), blue: none() };
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const at = 4 * (y * width + x);
      const [red, green, blue] = [pixels[at]!, pixels[at + 1]!, pixels[at + 2]!];
      if (green > 200) continue;
      const colour = red > green + 40 ? 'red' : blue > green + 40 ? 'blue' : 'black';
      const extent = extents[colour];
      extent.left = Math.min(extent.left, x / pxPerMm);
      extent.top = Math.min(extent.top, y / pxPerMm);
      extent.right = Math.max(extent.right, (x + 1) / pxPerMm);
      extent.bottom = Math.max(extent.bottom, (y + 1) / pxPerMm);
    }
  return { ...extents, sizeMm: [width / pxPerMm, height / pxPerMm] };
}

function expectExtent(found: Extent, left: number, top: number, right: number, bottom: number): void {
  const off = [found.left - left, found.top - top, found.right - right, found.bottom - bottom];
  expect(Math.max(...off.map(Math.abs)), JSON.stringify(found)).toBeLessThan(0.2);
}

describe('[WRK6] the rendered drawing', () => {
  test('measures what it says: panel, turned channel, bar', () => {
    const { sizeMm, red, black, blue } = measured(draw(small()));
    expect(sizeMm).toEqual([210, 148.5]);
    expectExtent(red, 0, 0, 210, 148.5);
    // Outermost corners of the channel at 30 degrees, from channels.test.ts.
    expectExtent(black, 89.7, 74.327, 139.167, 109.007);
    expect(blue.right - blue.left).toBeGreaterThan(99.9);
    expect(blue.right - blue.left).toBeLessThan(100.2);
  });

  test("first light's channels reach from its first row to its last", () => {
    const { sizeMm, red, black } = measured(draw(sample('first-light')));
    expect(sizeMm).toEqual([300, 200]);
    expectExtent(red, 0, 0, 300, 200);
    // From the file: sky-1 begins leftmost, at 33, and topmost, at 24; sky-3 begins rightmost, at 278; sea-2 is lowest, at 182.
    expectExtent(black, 33 - 8.833, 24 - 5.3, 278 + 8.833, 182 + 5.3);
  });

  test('any name and any text of a project leaves it a drawing that a reader takes', () => {
    const names = fc.oneof(
      fc.string({ unit: 'binary', minLength: 1, maxLength: 60 }),
      fc.constantFrom(
        '</title><script>',
        '&amp;&',
        ']]>',
        '"\'<>&',
        '\u0000\u0008\ufffe\ud800 x',
        '\u{1f3aa}',
      ),
    );
    fc.assert(
      fc.property(names, (name) => {
        const svg = draw(small({ name }));
        expect(() => new Resvg(svg, { font: { loadSystemFonts: false } }).free()).not.toThrow();
        expect(svg.match(/</g)).toHaveLength(draw(small()).match(/</g)!.length);
      }),
      { seed: 8, numRuns: 200 },
    );
    expect(draw(small({ name: 'A & B <"\'>' }))).toContain(
      '<title>A &amp; B &lt;&quot;&#39;&gt;: backing</title>',
    );
  });
});
