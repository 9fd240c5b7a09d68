// The page in a real browser: it plays what the board would send, lit, under its own strict content security policy.
// Expected bytes and figures come from the command line; the page has no part in them.
import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';
import {
  checkAnswer,
  expect,
  expectedCrc,
  frameMsOf,
  frameOf,
  glassOf,
  openPage,
  pause,
  pictureOf,
  powerAnswer,
  showChoices,
  showNameOf,
  stage,
  test,
  timeSlider,
  voltsInWords,
} from './page.ts';

const room = (page: Page) => page.locator('html').getAttribute('data-room');
const sizes = [
  { width: 1440, height: 900 },
  { width: 1366, height: 768 },
] as const;

test('the page comes with a policy that forbids inline code, inline styles and eval', async ({ page }) => {
  const response = await page.goto('/');
  const policy = response!.headers()['content-security-policy'] ?? '';
  expect(policy).toContain("default-src 'self'");
  expect(policy).not.toContain('unsafe-inline');
  expect(policy).not.toContain("'unsafe-eval'");
  await expect(glassOf(page)).toBeVisible();
});

test('the attract mode plays by itself, in the pace of the board, and the glass is lit', async ({ page }) => {
  const frameMs = frameMsOf('attract');
  await openPage(page);
  await expect(glassOf(page)).toHaveAttribute('data-show', 'attract');
  await expect.poll(() => frameOf(page)).toBeGreaterThan(80);
  const first = await pictureOf(page);
  // Many readings of the frame and the clock: the pace is the slope through them, which a drawing that comes late now and then hardly bends.
  const readings: { frame: number; ms: number }[] = [];
  for (let i = 0; i < 24; i++) {
    readings.push(
      await page.evaluate(() => ({
        frame: Number(document.querySelector<HTMLElement>('[data-glass]')!.dataset['frame']),
        ms: performance.now(),
      })),
    );
    await page.waitForTimeout(150);
  }
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  const meanMs = mean(readings.map(({ ms }) => ms));
  const meanFrame = mean(readings.map(({ frame }) => frame));
  const slope =
    mean(readings.map(({ ms, frame }) => (ms - meanMs) * (frame - meanFrame))) /
    mean(readings.map(({ ms }) => (ms - meanMs) ** 2));
  const second = await pictureOf(page);
  expect(slope * frameMs).toBeGreaterThan(0.95);
  expect(slope * frameMs).toBeLessThan(1.05);
  expect(second.hash).not.toBe(first.hash);
  for (const picture of [first, second]) {
    expect(picture.visibleShare).toBeGreaterThan(0.5);
    expect(picture.mean).toBeGreaterThan(15);
  }
  expect(await glassOf(page).getAttribute('data-wire-crc')).toBeNull();
});

test('a frame that is scrubbed to carries the bytes that the command line writes', async ({ page }) => {
  await openPage(page);
  await pause(page);
  for (const frame of [0, 137, 700]) {
    await timeSlider(page).fill(`${frame}`);
    await expect(glassOf(page)).toHaveAttribute('data-frame', `${frame}`);
    await expect(glassOf(page)).toHaveAttribute('data-wire-crc', expectedCrc('attract', frame));
  }
});

test('every show can be chosen and shows its own frames', async ({ page }) => {
  await openPage(page);
  await pause(page);
  const shows = showChoices(page);
  const count = await shows.count();
  expect(count).toBeGreaterThanOrEqual(5);
  for (let i = 0; i < count; i++) {
    const show = await shows.nth(i).getAttribute('value');
    await shows.nth(i).locator('..').click();
    await expect(shows.nth(i)).toBeChecked();
    await expect(glassOf(page)).toHaveAttribute('data-show', show!);
    // Another show starts at its beginning; the one that was chosen already stands where it stood.
    if (i > 0) await expect(glassOf(page)).toHaveAttribute('data-frame', '0');
    const frame = Math.floor(Number(await timeSlider(page).getAttribute('max')) / 3);
    await timeSlider(page).fill(`${frame}`);
    await expect(glassOf(page)).toHaveAttribute('data-wire-crc', expectedCrc(show!, frame));
  }
});

test('the keyboard plays, pauses, steps and chooses', async ({ page }) => {
  await openPage(page);
  await expect.poll(() => frameOf(page)).toBeGreaterThan(10);
  await page.keyboard.press('Space');
  await expect(page.getByRole('button', { name: 'Play', exact: true })).toBeVisible();
  const frame = await frameOf(page);
  await page.keyboard.press('ArrowRight');
  await expect(glassOf(page)).toHaveAttribute('data-frame', `${frame + 1}`);
  await timeSlider(page).focus();
  await page.keyboard.press('ArrowLeft');
  await page.keyboard.press('ArrowLeft');
  await expect(glassOf(page)).toHaveAttribute('data-frame', `${frame - 1}`);
  const ring = await timeSlider(page).evaluate((element) => {
    const { outlineWidth, outlineOffset, outlineStyle } = getComputedStyle(element);
    return { outlineWidth, outlineOffset, outlineStyle };
  });
  expect(ring).toEqual({ outlineWidth: '2px', outlineOffset: '2px', outlineStyle: 'solid' });
  await page.keyboard.press('2');
  await expect(showChoices(page).nth(1)).toBeChecked();
  await expect(glassOf(page)).toHaveAttribute('data-frame', '0');
  await page.keyboard.press('Space');
  await expect.poll(() => frameOf(page)).toBeGreaterThan(5);
});

test('the room light changes the mood in its middle, and the print reflects it', async ({ page }) => {
  await openPage(page);
  await pause(page);
  await timeSlider(page).fill('0');
  const dark = await pictureOf(page);
  expect(await room(page)).toBe('dark');
  const slider = page.getByRole('slider', { name: 'Room light' });
  await slider.fill('0.49');
  expect(await room(page)).toBe('dark');
  await slider.fill('0.5');
  await expect.poll(() => room(page)).toBe('lit');
  await slider.fill('1');
  await expect.poll(async () => (await pictureOf(page)).mean).toBeGreaterThan(dark.mean + 50);
});

test('the vital signs are the command line’s figures', async ({ page }) => {
  const { worstCase, show } = powerAnswer('attract');
  const { ledCount, runCount, findings } = checkAnswer();
  await openPage(page);
  const sign = (name: string) => page.locator(`[data-sign="${name}"]`);
  await expect(sign('leds')).toHaveText(`${ledCount} LEDs in ${runCount} runs`);
  await expect(sign('worst-case')).toHaveText(`Worst case ${worstCase.amps.toFixed(2)} A`);
  await expect(sign('peak')).toHaveText(`${showNameOf('attract')} peaks ${show.peakAmps.toFixed(2)} A`);
  await expect(sign('lowest')).toContainText(voltsInWords(worstCase.lowestVolts));
  await expect(sign('lowest')).toContainText(`LED ${worstCase.at.led}`);
  await expect(sign('speed')).toHaveText(`${(1000 / frameMsOf('attract')).toFixed(1)} frames/s`);
  // 2 KB of SRAM and 30,720 bytes of usable flash: the board's, from its data sheet and its start-up program.
  await expect(sign('sram')).toHaveText(/^SRAM \d.* of 2\s048 B$/);
  await expect(sign('flash')).toHaveText(/^Flash \d.* of 30\s720 B$/);
  await page.getByRole('button', { name: /finding/ }).click();
  const list = page.getByRole('region', { name: 'Findings' });
  await expect(list.getByRole('listitem')).toHaveCount(findings.length);
  for (const { message, mend } of findings) {
    await expect(list).toContainText(message);
    await expect(list).toContainText(mend);
  }
  await page.keyboard.press('Escape');
  await expect(list).toBeHidden();
});

const stageNames = ['Panel', 'Runs', 'Lampshows', 'Power', 'Workshop', 'Board'];

/** What is cut off or leaves the window, in words. Parts that scroll by design hold more than they show. */
const cutOff = (page: Page) =>
  page.evaluate(() => {
    const faults: string[] = [];
    const name = (element: Element) => element.outerHTML.slice(0, 90);
    const scrolls = (element: Element) =>
      /auto|scroll/.test(`${getComputedStyle(element).overflowX}${getComputedStyle(element).overflowY}`);
    const insideScroller = (element: Element): boolean =>
      element.parentElement !== null &&
      (scrolls(element.parentElement) || insideScroller(element.parentElement));
    for (const element of document.querySelectorAll<HTMLElement>('#app *:not(svg *):not(option)')) {
      if (element.closest('.visually-hidden, svg, [data-panel]') || insideScroller(element)) continue;
      const { clipPath, position } = getComputedStyle(element);
      if (position === 'absolute' && clipPath !== 'none') continue;
      const isText = ['INPUT', 'SELECT', 'TEXTAREA'].includes(element.tagName);
      if (
        !scrolls(element) &&
        !isText &&
        element.clientWidth > 0 &&
        element.scrollWidth > element.clientWidth + 1
      ) {
        const mayEllipse = getComputedStyle(element).textOverflow === 'ellipsis';
        if (!mayEllipse && element.querySelector('[data-panel]') === null)
          faults.push(`${name(element)} is ${element.scrollWidth} wide in ${element.clientWidth}`);
      }
      const { left, right, top, bottom, width, height } = element.getBoundingClientRect();
      if (
        width > 0 &&
        height > 0 &&
        (left < -1 || top < -1 || right > innerWidth + 1 || bottom > innerHeight + 1)
      )
        faults.push(`${name(element)} leaves the window`);
    }
    const heights = { top: 53, tools: 47, 'vital-signs': 35 } as const;
    for (const [bar, mostPx] of Object.entries(heights)) {
      const element = document.querySelector<HTMLElement>(`[data-bar="${bar}"]`);
      if (element && element.offsetHeight > mostPx) faults.push(`${bar} is ${element.offsetHeight} high`);
    }
    const { scrollWidth, scrollHeight } = document.documentElement;
    if (scrollWidth > innerWidth || scrollHeight > innerHeight) faults.push('the page scrolls');
    return faults;
  });

for (const size of sizes)
  test(`nothing is cut off in any stage at ${size.width} x ${size.height}`, async ({ page }) => {
    await page.setViewportSize(size);
    await openPage(page);
    await expect(page.locator('[data-sign="peak"]')).toHaveText(/\d A$/);
    const glass = (await glassOf(page).boundingBox())!;
    expect(glass.width).toBeGreaterThan(size.width * 0.3);
    for (const name of stageNames) {
      await stage(page, name);
      expect(await cutOff(page), name).toEqual([]);
    }
    await stage(page, 'Lampshows');
    await page.getByRole('button', { name: 'Play as the game' }).click();
    await page.keyboard.press('1');
    for (const pane of ['Now', 'Tests', 'Events']) {
      await page.getByRole('group', { name: 'Of the game' }).getByText(pane, { exact: true }).click();
      expect(await cutOff(page), `the game, ${pane}`).toEqual([]);
    }
  });

for (const mood of ['dark', 'lit'])
  test(`axe finds nothing in any stage in the ${mood} room`, async ({ page }) => {
    test.setTimeout(120_000);
    await openPage(page);
    await pause(page);
    await page.getByRole('slider', { name: 'Room light' }).fill(mood === 'lit' ? '1' : '0');
    await expect.poll(() => room(page)).toBe(mood);
    const checked = async (where: string) => {
      const { violations, passes } = await new AxeBuilder({ page }).analyze();
      expect(
        violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(' ')}`),
        where,
      ).toEqual([]);
      expect(passes.map(({ id }) => id)).toContain('color-contrast');
    };
    for (const name of stageNames) {
      await stage(page, name);
      await checked(name);
    }
    await stage(page, 'Runs');
    await page.locator('[data-run]').nth(3).press('Enter');
    await checked('a run chosen');
    await page.getByRole('button', { name: /finding/ }).click();
    await checked('findings listed');
  });

test('who asked for less motion gets a lit picture that stands still', async ({ page }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' });
  await openPage(page);
  await expect(page.getByRole('button', { name: 'Play', exact: true })).toBeVisible();
  const frame = await frameOf(page);
  await page.waitForTimeout(300);
  expect(await frameOf(page)).toBe(frame);
  expect((await pictureOf(page)).visibleShare).toBeGreaterThan(0.6);
});

test.describe('a project that can’t be opened', () => {
  test.use({ allowComplaints: true });

  test('a player that doesn’t arrive is said in words', async ({ page }) => {
    await page.route('**/*.wasm', (route) => route.abort());
    await page.goto('/');
    await expect(page.getByRole('alert')).toContainText('This project can’t be shown');
    await expect(page.getByRole('alert')).toContainText('the player: expected the file from the server');
  });

  test('a player that isn’t one is said in words', async ({ page }) => {
    await page.route('**/*.wasm', (route) => route.fulfill({ body: 'not a program' }));
    await page.goto('/');
    await expect(page.getByRole('alert')).toContainText('expected a WebAssembly program');
  });

  test('a project with a fault names the place and the mend', async ({ page }) => {
    await page.route('**/*.lamploom-*.json', async (route) => {
      const text = await (await route.fetch()).text();
      await route.fulfill({ body: text.replace('"ledCount": 33', '"ledCount": "33"') });
    });
    await page.goto('/');
    await expect(page.getByRole('alert')).toContainText('/runs/0/ledCount');
  });

  test('a fault of our own leaves no blank page', async ({ page }) => {
    await page.route('**/open-workbench-*.js', (route) => route.abort());
    await page.goto('/');
    await expect(page.getByRole('alert')).toContainText('Lamploom stopped');
  });
});
