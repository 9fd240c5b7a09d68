// What the browser tests share: a page that reports every complaint and every foreign request, readings of the glass, and the command
// line's answers to compare with.
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { crc32 } from 'node:zlib';
import { test as base, expect, type Locator, type Page } from '@playwright/test';

export const pagePort = Number(process.env['LAMPLOOM_PAGE_PORT'] ?? 4180);
export const root = fileURLToPath(new URL('../../', import.meta.url));
export const sample = 'samples/midnight-carnival.lamploom.json';

/** Every test fails on a console message, an uncaught error or a request that leaves this computer, unless it says `allowComplaints`. */
export const test = base.extend<{ allowComplaints: boolean; watched: undefined }>({
  allowComplaints: [false, { option: true }],
  watched: [
    async ({ page, allowComplaints }, use) => {
      const complaints: string[] = [];
      const foreign: string[] = [];
      page.on('console', (message) => complaints.push(`${message.type()}: ${message.text()}`));
      page.on('pageerror', (error) => complaints.push(error.message));
      page.on('request', (request) => {
        const { protocol, hostname } = new URL(request.url());
        if (protocol !== 'blob:' && hostname !== '127.0.0.1') foreign.push(request.url());
      });
      await use(undefined);
      expect(foreign).toEqual([]);
      if (!allowComplaints) expect(complaints).toEqual([]);
    },
    { auto: true },
  ],
});
export { expect };

export const glassOf = (page: Page): Locator => page.locator('[data-glass]');

export const frameOf = async (page: Page): Promise<number> =>
  Number(await glassOf(page).getAttribute('data-frame'));

export async function openPage(page: Page): Promise<void> {
  await page.goto('/');
  // Generous: other tests may use the same two cores.
  await expect(glassOf(page)).toBeVisible({ timeout: 30_000 });
}

export async function pause(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Pause' }).click();
  await expect(page.getByRole('button', { name: 'Play', exact: true })).toBeVisible();
}

/** The native pickers can't be driven by a test; without them the page falls back to what can: choosing files and downloads. */
export async function withoutPickers(page: Page): Promise<void> {
  await page.addInitScript(() => {
    for (const name of ['showOpenFilePicker', 'showSaveFilePicker'])
      delete (globalThis as unknown as Record<string, unknown>)[name];
  });
}

/** Enters a stage, whose code may come a moment after the press. */
export async function stage(page: Page, name: string): Promise<void> {
  await page.getByRole('navigation', { name: 'Stages' }).getByRole('button', { name, exact: true }).click();
  await expect(page.locator(`[data-stage="${name.toLowerCase()}"]`)).toBeVisible();
}

export const runShape = (page: Page, run: string): Locator => page.locator(`[data-run="${run}"]`);

/** Shows stand in a group of their own, beside the groups of views and sides. */
export const showChoices = (page: Page): Locator =>
  page.getByRole('group', { name: 'Lampshow' }).getByRole('radio');

export async function chooseProject(page: Page, item: string): Promise<void> {
  await page.getByRole('button', { name: /^Project: / }).click();
  await page.getByRole('menuitem', { name: new RegExp(`^${item.replaceAll('.', '\\.')}`) }).click();
}

/** The bytes of what a press downloads. */
export async function downloadOf(
  page: Page,
  press: () => Promise<void>,
): Promise<{ name: string; bytes: Buffer }> {
  const coming = page.waitForEvent('download');
  await press();
  const download = await coming;
  return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
}

/** The project as it would be saved now. */
export const savedText = async (page: Page): Promise<string> =>
  (await downloadOf(page, () => page.keyboard.press('Control+s'))).bytes.toString('utf8');

/** The day of saving is no edit: texts are compared without it. */
export const withoutDay = (text: string): string => text.replace(/"savedOn": "[^"]*"/, '"savedOn": ""');

/** Where the panel lies on the screen, and how large a millimetre is. */
export async function panelOnScreen(page: Page, widthMm: number) {
  const box = (await page.locator('[data-panel]').boundingBox())!;
  const pxPerMm = box.width / widthMm;
  return {
    pxPerMm,
    at: (xMm: number, yMm: number) => ({ x: box.x + xMm * pxPerMm, y: box.y + yMm * pxPerMm }),
  };
}

export const timeSlider = (page: Page): Locator => page.getByRole('slider', { name: 'Time' });

export interface Picture {
  /** Names the pixels. */
  readonly hash: number;
  /** Mean of red, green and blue over the glass, 0 to 255. */
  readonly mean: number;
  /** Share of pixels that anyone would see. */
  readonly visibleShare: number;
}

/** The glass as it is now, read from a copy: reading the page's own canvas would change how the browser keeps it. */
export const pictureOf = (page: Page): Promise<Picture> =>
  page.locator('[data-glass] canvas').evaluate((element) => {
    const { width, height } = element as HTMLCanvasElement;
    const copy = new OffscreenCanvas(width, height).getContext('2d', { willReadFrequently: true })!;
    copy.drawImage(element as HTMLCanvasElement, 0, 0);
    const { data } = copy.getImageData(0, 0, width, height);
    let sum = 0;
    let visible = 0;
    let hash = 0;
    for (let i = 0; i < data.length; i += 4) {
      const light = data[i]! + data[i + 1]! + data[i + 2]!;
      sum += light;
      if (light > 48) visible++;
      hash = (Math.imul(hash, 31) + light) | 0;
    }
    return { hash, mean: sum / (data.length / 4) / 3, visibleShare: visible / (data.length / 4) };
  });

const lamploom = (...args: string[]): string =>
  execFileSync('npm', ['run', '-s', 'lamploom', '--', ...args], { cwd: root, encoding: 'utf8' });

/** Does something with a folder that holds a project's file, and clears up. */
function withProject<T>(text: string | undefined, work: (file: string, folder: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'lamploom-page-'));
  try {
    const file = join(folder, 'project.lamploom.json');
    if (text !== undefined) writeFileSync(file, text);
    return work(text === undefined ? sample : file, folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/**
 * CRC-32 (zlib's) of one frame's bytes as the command line writes them; of the sample where no project's text is given. `events` is what it calls
 * --events: events by frame, or the id of a kept log.
 */
export const expectedCrc = (show: string, frame: number, text?: string, events?: string): string =>
  withProject(text, (file, folder) => {
    const out = join(folder, 'frame.bin');
    const heard = events === undefined ? [] : ['--events', events];
    lamploom('frames', file, '--show', show, ...heard, '--from', `${frame}`, '--count', '1', '--out', out);
    return crc32(readFileSync(out)).toString(16).padStart(8, '0');
  });

/** Rounded down, so that a value under a limit never reads like the limit; a nanovolt of arithmetic doesn't count. */
export const voltsInWords = (volts: number): string =>
  `${(Math.floor(volts * 100 + 1e-7) / 100).toFixed(2)} V`;

export interface PowerAnswer {
  readonly worstCase: {
    readonly amps: number;
    readonly lowestVolts: number;
    readonly at: { readonly led: number };
  };
  readonly show: { readonly peakAmps: number };
}

export const powerAnswer = (show: string): PowerAnswer =>
  JSON.parse(lamploom('power', sample, '--show', show, '--json')) as PowerAnswer;

/** Power without a show. A project with findings of the kind error has exit status 1 and still its answer. */
export const powerAnswerFor = (text: string): PowerAnswer =>
  withProject(text, (file) => {
    const { stdout, status } = spawnSync('npm', ['run', '-s', 'lamploom', '--', 'power', file, '--json'], {
      cwd: root,
      encoding: 'utf8',
    });
    expect([0, 1]).toContain(status);
    return JSON.parse(stdout) as PowerAnswer;
  });

export interface CheckAnswer {
  readonly ledCount: number;
  readonly runCount: number;
  readonly findings: readonly { readonly message: string; readonly mend: string }[];
}

export const checkAnswer = (): CheckAnswer => JSON.parse(lamploom('check', sample, '--json')) as CheckAnswer;

/** The show's name as the project has it. */
export const showNameOf = (show: string): string =>
  (
    JSON.parse(readFileSync(`${root}/${sample}`, 'utf8')) as { lampshows: { id: string; name: string }[] }
  ).lampshows.find(({ id }) => id === show)!.name;

export const frameMsOf = (show: string): number =>
  (JSON.parse(lamploom('frames', sample, '--show', show, '--count', '1', '--json')) as { frameMs: number })
    .frameMs;
