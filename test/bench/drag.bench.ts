// What dragging a run costs: script, style and layout for each move, in a headless browser. The aim: in a project of 1,000 LEDs each frame's own work
// stays under 8 ms. Nothing is asserted: machines are shared. The counters' own cost is measured beside it and contained in the figures.
import type { Browser, Page } from '@playwright/test';
import { afterAll, beforeAll, test } from 'vitest';
import { dragThereAndBack } from './page-actions.ts';
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
import { type Figures, note, printFigures } from './page-table.ts';

const drags = 4;
const patienceMs = 600_000;

let served: ServedPage;
let browser: Browser;
const figures: Figures = new Map();

beforeAll(async () => {
  served = await servePage();
  browser = await launch();
}, patienceMs);

afterAll(async () => {
  console.log(
    `\nChromium ${browser.version()}, 1440 x 900. Columns: median, 90th percentile, mean, (measurements). Times in ms.`,
  );
  printFigures(figures);
  await browser.close();
  await served.stop();
});

async function drag(page: Page, project: BenchProject, view: 'Wiring' | 'Lit'): Promise<void> {
  await toView(page, view);
  await calm(page);
  const { read } = await counters(page);
  const script: number[] = [];
  const worst: number[] = [];
  const presses: number[] = [];
  for (let i = 0; i < drags; i++) {
    const first = script.length;
    let [before, moves] = [await read(), (await watched(page)).moves];
    await dragThereAndBack(
      page,
      project.run,
      async (movesNow) => {
        const now = await read();
        if (movesNow > moves) script.push((now.scriptMs - before.scriptMs) / (movesNow - moves));
        [before, moves] = [now, movesNow];
      },
      async () => {
        // The press is a picture of its own: what it chooses is drawn before anything moves.
        await watched(page);
        const now = await read();
        presses.push(now.scriptMs - before.scriptMs);
        before = now;
      },
    );
    worst.push(Math.max(...script.slice(first)));
    await calm(page);
  }
  note(figures, `Drag of one run, ${view}: script, style and layout for each move`, project.name, script);
  note(figures, `Drag of one run, ${view}: pointing at the run and pressing on it`, project.name, presses);
  note(figures, `Drag of one run, ${view}: the worst move of each drag`, project.name, worst);
}

async function measuringItself(page: Page, project: BenchProject): Promise<void> {
  const { read } = await counters(page);
  const own: number[] = [];
  for (let i = 0; i < 30; i++) {
    const before = await read();
    await watched(page);
    own.push((await read()).scriptMs - before.scriptMs);
  }
  note(figures, 'What measuring costs by itself, contained in the above', project.name, own);
}

for (const project of benchProjects())
  test(
    project.name,
    async () => {
      const context = await freshContext(browser, served.address, project.text);
      const page = await openedPage(context, served.address);
      await pause(page);
      await toStage(page, 'Runs');
      await drag(page, project, 'Wiring');
      await drag(page, project, 'Lit');
      await measuringItself(page, project);
      await context.close();
    },
    patienceMs,
  );
