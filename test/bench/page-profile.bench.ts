// Where the page's time goes: the functions that playing, dragging and editing spend it in, by the browser's own sampling. The page is built
// without shortening its names, so figures are near, not equal to, those of page.bench.ts. Runs only when asked for; nothing is asserted.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from '@playwright/test';
import { afterAll, beforeAll, test } from 'vitest';
import { root } from '../support/lamploom.ts';
import { chooseLit, dragThereAndBack, nudge } from './page-actions.ts';
import {
  calm,
  freshContext,
  launch,
  openedPage,
  ownEnvironment,
  pause,
  type ServedPage,
  serve,
  toStage,
  toView,
} from './page-browser.ts';
import { benchProjects } from './page-projects.ts';
import { printTable } from './page-table.ts';

const sampleEveryMicroseconds = 200;
const port = 4397;
const vite = 'node_modules/.bin/vite';
const patienceMs = 600_000;
const mostRows = 14;

let folder: string;
let served: ServedPage;
let browser: Browser;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'lamploom-profile-'));
  execFileSync(
    vite,
    ['build', '--outDir', folder, '--emptyOutDir', '--minify', 'false', '--logLevel', 'warn'],
    {
      cwd: root,
      env: ownEnvironment(),
    },
  );
  served = await serve(vite, [
    'preview',
    '--outDir',
    folder,
    '--host',
    '127.0.0.1',
    '--port',
    `${port}`,
    '--strictPort',
  ]);
  browser = await launch();
}, patienceMs);

afterAll(async () => {
  await browser.close();
  await served.stop();
  rmSync(folder, { recursive: true, force: true });
});

/** The browser's own names for time that is no function's. */
const idle = '(idle)';

/** Shares of the busy time, in percent: `own` in the function itself, `within` also in what it calls. */
async function profile(page: Page, what: string, work: () => Promise<void>): Promise<void> {
  const devtools = await page.context().newCDPSession(page);
  await devtools.send('Profiler.enable');
  await devtools.send('Profiler.setSamplingInterval', { interval: sampleEveryMicroseconds });
  await devtools.send('Profiler.start');
  await work();
  const { nodes, samples, timeDeltas } = (await devtools.send('Profiler.stop')).profile;
  await devtools.detach();
  const byId = new Map(nodes.map((node) => [node.id, node]));
  const parents = new Map(nodes.flatMap(({ id, children }) => (children ?? []).map((child) => [child, id])));
  const nameOf = (id: number): string => {
    const { functionName, url } = byId.get(id)!.callFrame;
    return url.endsWith('.wasm') || url.startsWith('wasm:')
      ? `${functionName} (WebAssembly)`
      : functionName || '(nameless)';
  };
  const own = new Map<string, number>();
  const within = new Map<string, number>();
  const add = (to: Map<string, number>, name: string, micros: number) =>
    to.set(name, (to.get(name) ?? 0) + micros);
  let busy = 0;
  for (const [i, id] of (samples ?? []).entries()) {
    const micros = timeDeltas![i]!;
    if (nameOf(id) === idle) continue;
    busy += micros;
    add(own, nameOf(id), micros);
    const stack = new Set<string>();
    for (let at: number | undefined = id; at !== undefined; at = parents.get(at)) stack.add(nameOf(at));
    for (const name of stack) add(within, name, micros);
  }
  const top = (from: Map<string, number>) =>
    [...from]
      .filter(([name]) => name !== '(root)')
      .sort(([, a], [, b]) => b - a)
      .slice(0, mostRows * (from === within ? 3 : 1));
  const rows = (title: string, from: Map<string, number>) => [
    [title, '%', 'ms'],
    ...top(from).map(([name, micros]) => [
      name.slice(0, 60),
      ((100 * micros) / busy).toFixed(1),
      (micros / 1000).toFixed(0),
    ]),
  ];
  console.log(`\n${what}: busy for ${(busy / 1000).toFixed(0)} ms`);
  printTable(rows('own time', own));
  printTable(rows('with what it calls', within));
}

for (const project of benchProjects())
  test(
    project.name,
    async () => {
      const context = await freshContext(browser, served.address, project.text);
      const first = await context.newPage();
      await profile(first, `${project.name}, opening`, async () => {
        await first.goto(served.address);
        await first.waitForFunction(() => globalThis.watch.litMs !== undefined);
      });
      await first.close();
      const page = await openedPage(context, served.address);
      await calm(page);
      await profile(page, `${project.name}, play`, () => page.waitForTimeout(4000));
      await pause(page);
      await toStage(page, 'Runs');
      for (const view of ['Wiring', 'Lit'] as const) {
        await toView(page, view);
        await calm(page);
        await profile(page, `${project.name}, drag, ${view}`, () => dragThereAndBack(page, project.run));
        await calm(page);
      }
      await chooseLit(page, project.run);
      await calm(page);
      await profile(page, `${project.name}, edit by key, Lit`, async () => {
        for (const key of ['ArrowRight', 'ArrowLeft', 'ArrowRight', 'ArrowLeft', 'ArrowRight', 'ArrowLeft']) {
          await nudge(page, key);
          await page.waitForTimeout(400);
        }
      });
      await context.close();
    },
    patienceMs,
  );
