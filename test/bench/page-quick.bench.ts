// How fast the page is: opening, playing, dragging, editing. Headless Chromium on the built page as it is served; nothing is asserted.
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import type { Browser, Page } from '@playwright/test';
import { afterAll, beforeAll, test } from 'vitest';
import { root } from '../support/lamploom.ts';
import { chooseLit, dragThereAndBack, nudge } from './page-actions.ts';
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
  toView,
  watched,
} from './page-browser.ts';
import { type BenchProject, benchProjects } from './page-projects.ts';
import { type Figures, note, printFigures, printTable } from './page-table.ts';
import { watchOpening } from './page-watch.ts';

const openings = 1;
const playWindows = 1;
const playWindowMs = 4000;
const dragsPerView = 1;
const nudges = 3;
/** A project takes about a minute and a half on two busy cores. */
const patienceMs = 900_000;

let served: ServedPage;
let browser: Browser;
const figures: Figures = new Map();
const renderers = new Set<string>();
const loadedAtOpening = new Set<string>();

beforeAll(async () => {
  served = await servePage();
  browser = await launch();
}, patienceMs);

afterAll(async () => {
  console.log(
    `\nChromium ${browser.version()}, 1440 x 900, glass painted by: ${[...renderers].join(', ')}. Columns: median, 90th percentile, mean, (measurements). Times in ms.`,
  );
  printFigures(figures);
  await browser.close();
  printSizes(await (await fetch(served.address)).text());
  await served.stop();
});

async function opening(project: BenchProject): Promise<void> {
  const usable: number[] = [];
  const lit: number[] = [];
  for (let i = 0; i < openings; i++) {
    const context = await freshContext(browser, served.address, project.text);
    await context.addInitScript(watchOpening);
    const page = await context.newPage();
    await page.goto(served.address);
    await page.waitForFunction(() => globalThis.watch.usableMs !== undefined);
    const { litMs, usableMs } = await watched(page);
    lit.push(litMs!);
    usable.push(usableMs!);
    for (const url of await page.evaluate((untilMs) => {
      const resources = performance.getEntriesByType('resource');
      return resources.filter(({ startTime }) => startTime < untilMs).map(({ name }) => name);
    }, litMs!))
      loadedAtOpening.add(new URL(url).pathname.slice(1));
    await context.close();
  }
  note(
    figures,
    '1. Opening: first frame with light in it, from the start of the navigation',
    project.name,
    lit,
  );
  note(
    figures,
    '1. Opening: time to interactive (lit, and a press of a stage has changed it)',
    project.name,
    usable,
  );
}

async function play(page: Page, project: BenchProject): Promise<void> {
  const { read } = await counters(page);
  const perFrame: number[] = [];
  const threadPerFrame: number[] = [];
  const shown: number[] = [];
  const due: number[] = [];
  const glass = page.locator('[data-glass]');
  const frameNumber = async () => Number(await glass.getAttribute('data-frame'));
  for (let i = 0; i < playWindows; i++) {
    const [first, before, begun] = [await frameNumber(), await watched(page), await read()];
    await page.waitForTimeout(playWindowMs);
    const [ended, after, last] = [await read(), await watched(page), await frameNumber()];
    const frames = after.frames - before.frames;
    const elapsedSeconds = (ended.atMs - begun.atMs) / 1000;
    perFrame.push((ended.scriptMs - begun.scriptMs) / frames);
    threadPerFrame.push((ended.threadMs - begun.threadMs) / frames);
    shown.push(frames / elapsedSeconds);
    due.push((last - first) / elapsedSeconds);
  }
  note(
    figures,
    '2. Play, stage Lampshows, Lit: script, style and layout for each frame shown',
    project.name,
    perFrame,
  );
  note(figures, '2. Play: the whole main thread for each frame shown', project.name, threadPerFrame);
  note(figures, '2. Play: frames shown a second', project.name, shown);
  note(figures, '2. Play: frames due a second (the board’s pace)', project.name, due);
}

async function drag(page: Page, project: BenchProject, view: 'Wiring' | 'Lit'): Promise<void> {
  await toView(page, view);
  await calm(page);
  const { read } = await counters(page);
  const script: number[] = [];
  const thread: number[] = [];
  for (let i = 0; i < dragsPerView; i++) {
    let [before, moves] = [await read(), (await watched(page)).moves];
    await dragThereAndBack(page, project.run, async (movesNow) => {
      const now = await read();
      if (movesNow > moves) {
        script.push((now.scriptMs - before.scriptMs) / (movesNow - moves));
        thread.push((now.threadMs - before.threadMs) / (movesNow - moves));
      }
      [before, moves] = [now, movesNow];
    });
    await calm(page);
  }
  note(figures, `3. Drag of one run, ${view}: script, style and layout for each move`, project.name, script);
  note(figures, `3. Drag of one run, ${view}: the whole main thread for each move`, project.name, thread);
}

/** What waiting for two pictures and reading the counters cost by themselves; contained in the figures of the drags. */
async function measuringItself(page: Page, project: BenchProject): Promise<void> {
  const { read } = await counters(page);
  const script: number[] = [];
  for (let i = 0; i < 30; i++) {
    const before = await read();
    await watched(page);
    script.push((await read()).scriptMs - before.scriptMs);
  }
  note(figures, '3. Drag: what measuring costs by itself, contained in the above', project.name, script);
}

async function edits(page: Page, project: BenchProject): Promise<void> {
  await chooseLit(page, project.run);
  await calm(page);
  const drawn: number[] = [];
  const shown: number[] = [];
  for (let i = 0; i < nudges; i++) {
    const { drawnMs, shownMs } = await nudge(page, i % 2 === 0 ? 'ArrowRight' : 'ArrowLeft');
    drawn.push(drawnMs);
    shown.push(shownMs);
    await page.waitForTimeout(400);
  }
  note(figures, '4. Edit: from the key to the glass’s canvas drawn anew', project.name, drawn);
  note(figures, '4. Edit: from the key to the picture handed over', project.name, shown);
}

for (const project of benchProjects())
  test(
    project.name,
    async () => {
      await opening(project);
      const context = await freshContext(browser, served.address, project.text);
      const page = await openedPage(context, served.address);
      renderers.add((await page.locator('[data-glass] canvas').getAttribute('data-renderer')) ?? 'unknown');
      await calm(page);
      await play(page, project);
      await pause(page);
      await toStage(page, 'Runs');
      await drag(page, project, 'Wiring');
      await drag(page, project, 'Lit');
      await measuringItself(page, project);
      await edits(page, project);
      await context.close();
    },
    patienceMs,
  );

/** The built page's folder is the one that holds the served first file: its name is made from the sources. */
function builtFolder(index: string): string {
  const pages = join(root, '.cache', 'page');
  return readdirSync(pages)
    .map((name) => join(pages, name))
    .find((folder) => {
      const file = join(folder, 'index.html');
      return existsSync(file) && readFileSync(file, 'utf8') === index;
    })!;
}

function printSizes(index: string): void {
  const folder = builtFolder(index);
  const sizes = readdirSync(join(folder, 'assets'))
    .filter((name) => /\.(js|css|wasm)$/.test(name))
    .map((name) => {
      const bytes = readFileSync(join(folder, 'assets', name));
      return {
        name,
        raw: bytes.length,
        gzipped: gzipSync(bytes, { level: 9 }).length,
        atOnce: loadedAtOpening.has(`assets/${name}`),
      };
    })
    .sort((a, b) => Number(b.atOnce) - Number(a.atOnce) || b.gzipped - a.gzipped);
  const line = (name: string, of: typeof sizes, when: string) => [
    name,
    `${of.reduce((sum, { raw }) => sum + raw, 0)}`,
    `${of.reduce((sum, { gzipped }) => sum + gzipped, 0)}`,
    when,
  ];
  console.log('\nSizes, bytes');
  printTable([
    ['file', 'raw', 'gzip -9', 'loaded'],
    ...sizes.map((one) => line(one.name, [one], one.atOnce ? 'before the first light' : 'later')),
    line(
      'all before the first light',
      sizes.filter(({ atOnce }) => atOnce),
      '',
    ),
    line('all', sizes, ''),
  ]);
}
