// What a frame of the lit preview costs at 1920 x 1080 with 500 LEDs: the page's own work with WebGL, the drawing apart from it, and how many
// frames a second the processor paints by itself. The aims: script of 4 ms at most a frame, and 15 frames a second without a card. Nothing is
// asserted: machines are shared, and here the processor does the card's work too.
import { type Browser, chromium } from '@playwright/test';
import { afterAll, beforeAll, test } from 'vitest';
import { type Project, writeProject } from '../../src/project/index.ts';
import { bundled, openBundle, softwareCard } from '../browser/light-page/bundle.ts';
import type { PreviewPage } from '../browser/light-page/preview-page.tsx';
import { loadProject } from '../support/projects.ts';
import { type Figures, note, printFigures } from './page-table.ts';

const patienceMs = 600_000;
const [widthPx, heightPx] = [1920, 1080];
const ledCount = 500;
type WithPreview = { previewPage: PreviewPage };

const project = loadProject(ledCount, 4);
// In the proportions of the picture.
const plain = { widthMm: 640, heightMm: 360 };
const walled: Partial<Project['panel']> = {
  ...plain,
  baffles: {
    thicknessMm: 3,
    finish: 'white-paint',
    walls: Array.from({ length: 12 }, (_, row) => ({
      from: { xMm: 0, yMm: 32.5 + 25 * row },
      to: { xMm: 640, yMm: 32.5 + 25 * row },
    })),
  },
};

let browser: Browser;
let script = '';
const figures: Figures = new Map();

beforeAll(async () => {
  // What Vitest sets for itself would have the page built with the slow kind of React.
  process.env['NODE_ENV'] = 'production';
  script = await bundled('preview-page.tsx');
  browser = await chromium.launch(softwareCard);
}, patienceMs);

afterAll(async () => {
  console.log(
    `\nChromium ${browser.version()}, ${widthPx} x ${heightPx}, ${ledCount} LEDs, all lit. Columns: median, 90th percentile, mean, (measurements).`,
  );
  printFigures(figures);
  await browser.close();
});

for (const [name, panel] of [
  ['no walls', plain],
  ['12 white walls', walled],
] as const)
  for (const [renderer, frames] of [
    ['gpu', panel === plain ? 40 : 6],
    ['cpu', 60],
  ] as const)
    test(
      `${renderer}, ${name}`,
      async () => {
        const context = await browser.newContext({ viewport: { width: widthPx, height: heightPx } });
        const page = await context.newPage();
        await openBundle(page, script);
        const leds = await page.evaluate(
          ({ text, box, kind, size }) =>
            (globalThis as unknown as WithPreview).previewPage.open(text, box, kind, size[0], size[1]),
          { text: writeProject(project), box: panel, kind: renderer, size: [widthPx, heightPx] as const },
        );
        if (leds !== ledCount) throw new Error(`${leds} LEDs instead of ${ledCount}`);
        const measure = (count: number) =>
          page.evaluate((many) => (globalThis as unknown as WithPreview).previewPage.measure(many), count);
        await measure(5);
        const { scriptMs, drawingMs } = await measure(frames);
        if (renderer === 'gpu') {
          note(figures, 'WebGL: script of a frame, ms', name, scriptMs);
          note(
            figures,
            "WebGL: drawing of a frame after that, ms, the processor in the card's place",
            name,
            drawingMs,
          );
        } else {
          note(
            figures,
            'Processor: frames a second',
            name,
            scriptMs.map((ms) => 1000 / ms),
          );
        }
        await context.close();
      },
      patienceMs,
    );
