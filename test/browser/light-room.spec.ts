// Standing in front of the panel: its size from there, three looks at one instant, keys, and the way back.
import AxeBuilder from '@axe-core/playwright';
import type { Page } from '@playwright/test';
import { expect, glassOf, openPage, pause, stage, test } from './page.ts';

const roomOf = (page: Page) => page.getByRole('region', { name: 'In front of the panel' });
const panelOf = (page: Page) => roomOf(page).locator('[data-look]');

test('glass, bare LEDs and wiring are seen at the same instant, and Escape leads back', async ({ page }) => {
  await openPage(page);
  await pause(page);
  const frame = (await glassOf(page).getAttribute('data-frame'))!;
  await page.getByRole('button', { name: 'Stand in front of the panel' }).click();
  await expect(roomOf(page)).toBeFocused();
  for (const [key, look, name] of [
    ['b', 'bare', /LEDs without a sheet$/],
    ['w', 'wiring', 'The wiring'],
    ['g', 'glass', /as it looks lit/],
  ] as const) {
    await page.keyboard.press(key);
    await expect(panelOf(page)).toHaveAttribute('data-look', look);
    await expect(panelOf(page)).toHaveAttribute('data-frame', frame);
    await expect(roomOf(page).getByRole('img', { name })).toBeVisible();
  }
  // Nothing behind can be reached, and no key of the drawing works.
  await expect(page.locator('[data-stage]')).toHaveAttribute('inert', '');
  await page.keyboard.press('v');
  await page.keyboard.press('Space');
  await expect(roomOf(page).getByRole('button', { name: 'Pause' })).toBeVisible();
  await page.keyboard.press('Space');
  await page.keyboard.press('Escape');
  await expect(roomOf(page)).toHaveCount(0);
  // Volts were not chosen meanwhile.
  await expect(glassOf(page)).toBeVisible();
  await expect(page.locator('[data-stage]')).not.toHaveAttribute('inert', '');
  await page.keyboard.press('e');
  await expect(roomOf(page)).toBeVisible();
});

test('the panel is as large as it looks from there', async ({ page }) => {
  await openPage(page);
  await pause(page);
  await page.keyboard.press('e');
  const distance = page.getByRole('textbox', { name: 'Viewing distance in metres' });
  // 600 mm of panel; a screen 0.6 m away; 96 CSS pixels an inch: at 1.2 m half as large as it is.
  for (const [metres, widthPx] of [
    ['1.2', (600 / 25.4) * 96 * 0.5],
    ['3', (600 / 25.4) * 96 * 0.2],
  ] as const) {
    await distance.fill(metres);
    await distance.press('Enter');
    await expect.poll(async () => (await panelOf(page).boundingBox())!.width).toBeCloseTo(widthPx, 0);
  }
  await page.getByText('Fill the page').click();
  await expect.poll(async () => (await panelOf(page).boundingBox())!.width).toBeGreaterThan(1400);
  // Larger than it looks from 3 m: what the eye can't tell apart from there is blurred.
  await expect(panelOf(page)).toHaveCSS('filter', /^blur\(\d/);
});

for (const [width, height] of [
  [1440, 900],
  [1366, 768],
] as const)
  test(`at ${width} x ${height} the bar is whole, and axe finds nothing in either mood`, async ({ page }) => {
    await page.setViewportSize({ width, height });
    await openPage(page);
    await pause(page);
    for (const light of ['0', '1']) {
      await page.getByRole('slider', { name: 'Room light' }).fill(light);
      await page.getByRole('button', { name: 'Stand in front of the panel' }).click();
      const bar = roomOf(page).getByRole('toolbar');
      for (const metres of ['0.4', '5']) {
        const distance = page.getByRole('textbox', { name: 'Viewing distance in metres' });
        await distance.fill(metres);
        await distance.press('Enter');
        const faults = await bar.evaluate((element) =>
          [...element.querySelectorAll<HTMLElement>(':scope > *')].flatMap((part) =>
            part.scrollWidth > part.clientWidth + 1 || part.getBoundingClientRect().right > innerWidth
              ? [part.textContent]
              : [],
          ),
        );
        expect(faults).toEqual([]);
      }
      const { violations } = await new AxeBuilder({ page }).analyze();
      expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(' ')}`)).toEqual(
        [],
      );
      await roomOf(page).getByRole('button', { name: 'Step back' }).click();
    }
  });

test('walls are stood up and moved by their numbers, drawn, and taken away in one step each', async ({
  page,
}) => {
  await openPage(page);
  await pause(page);
  await stage(page, 'Panel');
  await page.getByRole('button', { name: 'Add a wall', exact: true }).click();
  const walls = page.locator('[data-baffle]');
  await expect(walls).toHaveCount(1);
  const top = page.getByRole('textbox', { name: 'Wall 1 to, top' });
  const before = await walls.first().getAttribute('transform');
  await top.fill('90');
  await top.press('Enter');
  await expect(walls.first()).not.toHaveAttribute('transform', before!);
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect(walls.first()).toHaveAttribute('transform', before!);
  await page.getByRole('button', { name: 'Remove Wall 1' }).click();
  await expect(walls).toHaveCount(0);
});
