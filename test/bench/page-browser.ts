// The page as `npm start` serves it, in a browser that is measured: server, browser, opening with a given project, and the browser's own counters.
import { spawn } from 'node:child_process';
import { type Browser, type BrowserContext, type CDPSession, chromium, type Page } from '@playwright/test';
import browserConfig from '../browser/playwright.config.ts';
import { root } from '../support/lamploom.ts';
import { type Watch, watchPage } from './page-watch.ts';

export interface ServedPage {
  readonly address: string;
  readonly stop: () => Promise<void>;
}

/** What Vitest sets for itself would make Vite build the page for testing, with the slow kind of React. */
export function ownEnvironment(): NodeJS.ProcessEnv {
  const { NODE_ENV: _, ...env } = process.env;
  return Object.fromEntries(Object.entries(env).filter(([name]) => !name.startsWith('VITEST')));
}

/** Starts a server and waits until it prints an address. */
export function serve(command: string, args: readonly string[]): Promise<ServedPage> {
  const server = spawn(command, args, {
    cwd: root,
    env: ownEnvironment(),
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const ended = new Promise<void>((resolve) => server.once('exit', () => resolve()));
  return new Promise((resolve, reject) => {
    let said = '';
    server.stdout.on('data', (text: Buffer) => {
      said += text.toString().replaceAll(String.fromCharCode(27), '');
      const address = /http:\/\/127\.0\.0\.1:\d+\//.exec(said.replace(/\[\d+m/g, ''))?.[0];
      if (address)
        resolve({
          address,
          stop: () => {
            server.kill('SIGTERM');
            return ended;
          },
        });
    });
    server.once('exit', () => reject(new Error(`the server ended: ${said}`)));
  });
}

export const servePage = (): Promise<ServedPage> => serve('node', ['src/cli/serve.mjs']);

export const launch = (): Promise<Browser> => chromium.launch(browserConfig.use!.launchOptions);

/** Puts a project where the page looks for what was worked on last, without loading anything of the page. Names: src/app/files/ports.ts. */
export async function keepProject(context: BrowserContext, address: string, text: string): Promise<void> {
  const page = await context.newPage();
  await page.route('**/bare', (route) =>
    route.fulfill({ contentType: 'text/html', body: '<title>-</title>' }),
  );
  await page.goto(`${address}bare`);
  await page.evaluate(
    (kept) =>
      new Promise<void>((resolve, reject) => {
        const opening = indexedDB.open('lamploom', 1);
        opening.onupgradeneeded = () => opening.result.createObjectStore('projects');
        opening.onerror = () => reject(opening.error);
        opening.onsuccess = () => {
          const change = opening.result.transaction('projects', 'readwrite');
          change.objectStore('projects').put(kept, 'current');
          change.oncomplete = () => {
            opening.result.close();
            resolve();
          };
        };
      }),
    text,
  );
  await page.close();
}

/** An own browser context: nothing is in its cache, and nothing is kept but this project. */
export async function freshContext(browser: Browser, address: string, text: string): Promise<BrowserContext> {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  await context.addInitScript(watchPage);
  await keepProject(context, address, text);
  return context;
}

export async function openedPage(context: BrowserContext, address: string): Promise<Page> {
  const page = await context.newPage();
  await page.goto(address);
  await page.locator('[data-glass] canvas').waitFor();
  return page;
}

export const toStage = (page: Page, name: string): Promise<void> =>
  page.getByRole('navigation', { name: 'Stages' }).getByRole('button', { name, exact: true }).click();

export const toView = (page: Page, name: string): Promise<void> =>
  page.getByRole('group', { name: 'View' }).getByText(name, { exact: true }).click();

export const pause = (page: Page): Promise<void> => page.getByRole('button', { name: 'Pause' }).click();

/** The page has done all that it puts off: figures, surveys, weaves, keeping. */
export const calm = (page: Page): Promise<void> => page.waitForTimeout(1500);

/** Waits for a picture and one more, then gives what has been noted. */
export const watched = (page: Page): Promise<Watch> =>
  page.evaluate(
    () =>
      new Promise<Watch>((resolve) => {
        requestAnimationFrame(() => requestAnimationFrame(() => resolve(globalThis.watch)));
      }),
  );

export interface Spent {
  readonly atMs: number;
  /** Script, style and layout, ms since the page began. */
  readonly scriptMs: number;
  /** Everything on the page's main thread: also painting, clearing up, tasks of the browser's own. */
  readonly threadMs: number;
}

export async function counters(page: Page): Promise<{ devtools: CDPSession; read: () => Promise<Spent> }> {
  const devtools = await page.context().newCDPSession(page);
  await devtools.send('Performance.enable');
  return {
    devtools,
    read: async () => {
      const { metrics } = await devtools.send('Performance.getMetrics');
      const ms = (name: string) => 1000 * metrics.find((one) => one.name === name)!.value;
      return {
        atMs: ms('Timestamp'),
        scriptMs: ms('ScriptDuration') + ms('LayoutDuration') + ms('RecalcStyleDuration'),
        threadMs: ms('TaskDuration'),
      };
    },
  };
}
