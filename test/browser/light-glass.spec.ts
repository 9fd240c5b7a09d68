// The glass component: which renderer it takes, that it repaints for every cause, and that both renderers look alike on the screen.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, type Page, test } from '@playwright/test';
import { PNG } from 'pngjs';
import { bundled, openBundle, softwareCard } from './light-page/bundle.ts';
import type { GlassPage } from './light-page/glass-page.tsx';
import { root } from './page.ts';

test.use({ launchOptions: softwareCard });
test.describe.configure({ timeout: 60_000 });

type WithGlass = { glassPage: GlassPage };
const projectText = readFileSync(join(root, 'samples/first-light.lamploom.json'), 'utf8');
let script = '';
test.beforeAll(async () => {
  script = await bundled('glass-page.tsx');
});

async function openGlass(page: Page, renderer: 'auto' | 'gpu' | 'cpu', widthPx = 600): Promise<void> {
  await openBundle(page, script);
  await page.evaluate(
    ({ text, kind, width }) => (globalThis as unknown as WithGlass).glassPage.open(text, kind, width),
    { text: projectText, kind: renderer, width: widthPx },
  );
}

const level = (page: Page, byte: number): Promise<void> =>
  page.evaluate((value) => (globalThis as unknown as WithGlass).glassPage.level(value), byte);

/** The box as it is on the screen. */
const seen = async (page: Page): Promise<PNG> =>
  PNG.sync.read(await page.getByRole('img').screenshot({ animations: 'disabled' }));

const meanOf = ({ data }: PNG): number => {
  let sum = 0;
  for (let at = 0; at < data.length; at += 4) sum += data[at]! + data[at + 1]! + data[at + 2]!;
  return sum / (data.length * 0.75);
};

test('without a graphics card `auto` paints with the processor, `gpu` takes WebGL all the same', async ({
  page,
}) => {
  for (const [asked, given] of [
    ['auto', 'cpu'],
    ['cpu', 'cpu'],
    ['gpu', 'gpu'],
  ] as const) {
    await openGlass(page, asked);
    await expect(page.getByRole('img', { name: 'First light as it looks lit' })).toHaveAttribute(
      'data-renderer',
      given,
    );
  }
});

for (const renderer of ['gpu', 'cpu'] as const)
  test(`${renderer}: every cause repaints`, async ({ page }) => {
    await openGlass(page, renderer);
    const look = async () => meanOf(await seen(page));
    const show = (change: { roomLight?: number; exposureStops?: number }) =>
      page.evaluate((next) => (globalThis as unknown as WithGlass).glassPage.show(next), change);
    await expect.poll(look).toBe(0);
    await level(page, 60);
    const lit = await look();
    expect(lit).toBeGreaterThan(10);
    await show({ exposureStops: 1 });
    const brighter = await look();
    expect(brighter).toBeGreaterThan(lit * 1.15);
    await show({ exposureStops: 0, roomLight: 1 });
    expect(await look()).toBeGreaterThan(brighter);
    await show({ roomLight: 0 });
    expect(await look()).toBeCloseTo(lit, 5);
    await page.evaluate(() => (globalThis as unknown as WithGlass).glassPage.moveLeds(400));
    expect(await look()).toBeLessThan(lit / 4);
    await page.evaluate(() => (globalThis as unknown as WithGlass).glassPage.moveLeds(-400));
    await page.evaluate(() => {
      document.querySelector('div')!.style.width = '300px';
      document.querySelector('div')!.style.height = '200px';
    });
    await expect.poll(look).toBeGreaterThan(lit * 0.95);
  });

test('both renderers look alike on the screen', async ({ page }) => {
  const pictures: PNG[] = [];
  for (const renderer of ['gpu', 'cpu'] as const) {
    await openGlass(page, renderer, 360);
    await level(page, 90);
    await expect.poll(async () => meanOf(await seen(page))).toBeGreaterThan(10);
    pictures.push(await seen(page));
  }
  const [gpu, cpu] = pictures as [PNG, PNG];
  expect([gpu.width, gpu.height]).toEqual([cpu.width, cpu.height]);
  // 360 x 240 pixels are fewer than the processor's most, so only the ways to shrink the artwork differ.
  let sum = 0;
  for (let at = 0; at < gpu.data.length; at++) sum += Math.abs(gpu.data[at]! - cpu.data[at]!);
  expect(sum / gpu.data.length).toBeLessThan(3);
  expect(Math.abs(meanOf(gpu) / meanOf(cpu) - 1)).toBeLessThan(0.02);
});
