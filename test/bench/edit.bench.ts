// How soon an edit of a show is seen: on the glass, and in the clip's weave; and what dragging clips costs for each move. A show of 30 s, 6 rows, 500
// LEDs, in a headless browser on the built page. Aims: 50 ms from the key to both; 8 ms of own work for each move. Nothing is asserted.
import type { Browser, Page } from '@playwright/test';
import { afterAll, beforeAll, test } from 'vitest';
import { writeProject } from '../../src/project/index.ts';
import { editProject } from './edit-projects.ts';
import {
  calm,
  counters,
  freshContext,
  launch,
  openedPage,
  pause,
  type ServedPage,
  servePage,
  toStage,
  watched,
} from './page-browser.ts';
import { type Figures, note, printFigures } from './page-table.ts';

const edits = 24;
const drags = 4;
const stepsOut = 30;
const stepPx = 4;
const patienceMs = 600_000;

let served: ServedPage;
let browser: Browser;
const figures: Figures = new Map();

declare global {
  var woven: { readonly atMs: number[] };
}

/** Put into the page: notes when the weave of a chosen clip is drawn. Sent as text, so it uses nothing from outside itself. */
function watchWeaves(): void {
  globalThis.woven = { atMs: [] };
  const own = CanvasRenderingContext2D.prototype.putImageData;
  const noting = function (this: CanvasRenderingContext2D, ...args: unknown[]): void {
    (own as (...all: unknown[]) => void).apply(this, args);
    const { canvas } = this;
    if (canvas instanceof HTMLElement && canvas.closest('[data-clip][aria-pressed="true"]'))
      globalThis.woven.atMs.push(performance.now());
  };
  Reflect.set(CanvasRenderingContext2D.prototype, 'putImageData', noting);
}

beforeAll(async () => {
  served = await servePage();
  browser = await launch();
}, patienceMs);

afterAll(async () => {
  console.log(
    `\nChromium ${browser.version()}, 1440 x 900, 30 s, 6 rows, 24 clips, 500 LEDs. Columns: median, 90th percentile, mean, (measurements). Times in ms.`,
  );
  printFigures(figures);
  await browser.close();
  await served.stop();
});

/** Steps a number field of the inspector and waits until glass and weave have followed. */
async function stepField(
  page: Page,
  name: string,
  key: 'ArrowUp' | 'ArrowDown',
  what: string,
  zoom: string,
): Promise<void> {
  const field = page.getByRole('complementary').getByRole('textbox', { name, exact: true });
  await field.focus();
  const drawn: number[] = [];
  const shown: number[] = [];
  const firstWeave: number[] = [];
  const lastWeave: number[] = [];
  for (let i = 0; i < edits; i++) {
    await page.evaluate(() => {
      globalThis.woven.atMs.length = 0;
    });
    // Always another figure: a weave that was there before is known.
    await page.keyboard.press(key);
    await page.waitForFunction(() => globalThis.watch.key?.shownMs !== undefined);
    await page.waitForFunction(() => globalThis.woven.atMs.length > 0);
    await page.waitForTimeout(300);
    const { key: noted } = await watched(page);
    const weaves = await page.evaluate(() => [...globalThis.woven.atMs]);
    drawn.push(noted!.drawnMs! - noted!.pressedMs);
    shown.push(noted!.shownMs! - noted!.pressedMs);
    firstWeave.push(weaves[0]! - noted!.pressedMs);
    lastWeave.push(weaves.at(-1)! - noted!.pressedMs);
  }
  note(figures, `${what}: from the key to the glass drawn anew`, zoom, drawn);
  note(figures, `${what}: from the key to the picture handed over`, zoom, shown);
  note(figures, `${what}: from the key to what is in view of its weave`, zoom, firstWeave);
  note(figures, `${what}: from the key to all of its weave`, zoom, lastWeave);
}

/** One move for every two pictures, there and back again. */
async function dragClip(page: Page, part: string, what: string, zoom: string): Promise<void> {
  const { read } = await counters(page);
  const script: number[] = [];
  const worst: number[] = [];
  for (let i = 0; i < drags; i++) {
    const target = page.locator('[data-row="2"] [data-clip="1"]').locator(part).first();
    const box = (await target.boundingBox())!;
    const [x, y] = [box.x + Math.min(60, box.width / 2), box.y + box.height / 2];
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + 4, y);
    await watched(page);
    const first = script.length;
    const away = Array.from({ length: stepsOut }, (_, step) => (step + 2) * stepPx);
    for (const byPx of [...away, ...away.toReversed().slice(1), 0]) {
      const before = await read();
      await page.mouse.move(x + byPx, y);
      await watched(page);
      script.push((await read()).scriptMs - before.scriptMs);
    }
    worst.push(Math.max(...script.slice(first)));
    await page.mouse.up();
    await calm(page);
  }
  note(figures, `${what}: script, style and layout for each move`, zoom, script);
  note(figures, `${what}: the worst move of each drag`, zoom, worst);
}

async function measuringItself(page: Page): Promise<void> {
  const { read } = await counters(page);
  const own: number[] = [];
  for (let i = 0; i < 30; i++) {
    const before = await read();
    await watched(page);
    own.push((await read()).scriptMs - before.scriptMs);
  }
  note(figures, 'What measuring costs by itself, contained in the above', 'still', own);
}

test(
  'edits and drags',
  async () => {
    const context = await freshContext(browser, served.address, writeProject(editProject()));
    await context.addInitScript(watchWeaves);
    const page = await openedPage(context, served.address);
    await pause(page);
    await toStage(page, 'Lampshows');
    await calm(page);
    for (const zoom of ['fitted', 'zoomed in 11 times']) {
      if (zoom !== 'fitted') {
        await page.keyboard.press('Escape');
        await page.keyboard.press('Alt+0');
        for (let i = 0; i < 6; i++) await page.keyboard.press('Alt+=');
        await calm(page);
      }
      await page.locator('[data-row="0"] [data-clip="0"]').press('Enter');
      await page.getByRole('slider', { name: 'Time' }).fill('20');
      await calm(page);
      await stepField(page, 'Level, %', 'ArrowDown', 'Level of a clip', zoom);
      await stepField(page, 'One pass takes, s', 'ArrowUp', 'Pace of an effect', zoom);
      if (zoom !== 'fitted') break;
      await dragClip(page, 'xpath=.', 'Drag of a clip', zoom);
      await dragClip(page, '[data-edge="end"]', 'Drag of a clip’s end', zoom);
      await page.keyboard.press('Control+a');
      await dragClip(page, 'xpath=.', 'Drag of all 24 clips', zoom);
      await measuringItself(page);
    }
    await context.close();
  },
  patienceMs,
);
