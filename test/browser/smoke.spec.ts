// The first page in a real browser: it plays what the board would send, lit, under its own strict content security policy.
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
  showNameOf,
  test,
  timeSlider,
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
  const read = () =>
    page.evaluate(() => ({
      frame: Number(document.querySelector<HTMLElement>('[data-glass]')!.dataset['frame']),
      ms: performance.now(),
    }));
  const before = await read();
  await page.waitForTimeout(1500);
  const after = await read();
  const second = await pictureOf(page);
  // A screen refresh and a late drawing on either side: 100 ms.
  expect(Math.abs((after.frame - before.frame) * frameMs - (after.ms - before.ms))).toBeLessThan(100);
  expect(second.hash).not.toBe(first.hash);
  for (const { visibleShare, mean } of [first, second]) {
    expect(visibleShare).toBeGreaterThan(0.6);
    expect(mean).toBeGreaterThan(20);
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
  const shows = page.getByRole('radio');
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
  await expect(page.getByRole('button', { name: 'Play' })).toBeVisible();
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
  await expect(page.getByRole('radio').nth(1)).toBeChecked();
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
  await expect(sign('lowest')).toContainText(`${worstCase.lowestVolts.toFixed(2)} V`);
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

for (const size of sizes)
  test(`nothing is cut off at ${size.width} x ${size.height}`, async ({ page }) => {
    await page.setViewportSize(size);
    await openPage(page);
    await expect(page.locator('[data-sign="peak"]')).toHaveText(/\d A$/);
    const cut = await page.evaluate(() => {
      const faults: string[] = [];
      const bars = [...document.querySelectorAll<HTMLElement>('[data-bar]')];
      if (bars.length !== 3) faults.push(`${bars.length} bars`);
      for (const bar of bars)
        for (const element of [bar, ...bar.querySelectorAll<HTMLElement>('*:not(.visually-hidden)')]) {
          if (element.scrollWidth > element.clientWidth && element.clientWidth > 0)
            faults.push(
              `${element.outerHTML.slice(0, 80)} is ${element.scrollWidth} wide in ${element.clientWidth}`,
            );
          const { left, right, top, bottom } = element.getBoundingClientRect();
          if (left < 0 || top < 0 || right > innerWidth || bottom > innerHeight)
            faults.push(`${element.outerHTML.slice(0, 80)} leaves the window`);
        }
      // One line each, as the design has them: 52, 46 and 34 px, and a border of 1 px.
      for (const [index, mostPx] of [53, 47, 35].entries())
        if (bars[index] && bars[index].offsetHeight > mostPx)
          faults.push(`${bars[index].dataset['bar']} is ${bars[index].offsetHeight} high`);
      const { scrollWidth, scrollHeight } = document.documentElement;
      if (scrollWidth > innerWidth || scrollHeight > innerHeight) faults.push('the page scrolls');
      const glass = document.querySelector('[data-glass]')!.getBoundingClientRect();
      if (glass.width < innerWidth * 0.6) faults.push(`the glass is only ${glass.width} wide`);
      return faults;
    });
    expect(cut).toEqual([]);
  });

for (const mood of ['dark', 'lit'])
  test(`axe finds nothing in the ${mood} room`, async ({ page }) => {
    await openPage(page);
    await page.getByRole('slider', { name: 'Room light' }).fill(mood === 'lit' ? '1' : '0');
    await page.getByRole('button', { name: /finding/ }).click();
    await expect.poll(() => room(page)).toBe(mood);
    const { violations, passes } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(' ')}`)).toEqual(
      [],
    );
    expect(passes.map(({ id }) => id)).toContain('color-contrast');
  });

test('who asked for less motion gets a lit picture that stands still', async ({ page }) => {
  await page.emulateMedia({ reducedMotion: 'reduce' });
  await openPage(page);
  await expect(page.getByRole('button', { name: 'Play' })).toBeVisible();
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
    await page.route('**/open-project-*.js', (route) => route.abort());
    await page.goto('/');
    await expect(page.getByRole('alert')).toContainText('Lamploom stopped');
  });
});
