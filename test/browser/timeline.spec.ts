// A show composed from nothing in a real browser: by mouse, and again by the keyboard alone. What is expected on the glass follows from where the area
// lies on the panel: lit there while its clip plays, dark elsewhere, and dark everywhere where no clip plays.
import AxeBuilder from '@axe-core/playwright';
import type { Locator, Page } from '@playwright/test';
import type { Project } from '../../src/project/index.ts';
import {
  expect,
  frameOf,
  glassOf,
  openPage,
  panelOnScreen,
  pause,
  savedText,
  test,
  timeSlider,
  withoutPickers,
} from './page.ts';

const widthMm = 600;
/** Inside the tent's rows of LEDs (y 180 to 232, x 305 to 488), and in the middle of the wheel, 200 mm away from them. */
const tent = { xMm: 340, yMm: 175, widthMm: 110, heightMm: 60 };
const wheel = { xMm: 90, yMm: 120, widthMm: 100, heightMm: 100 };

const inspector = (page: Page) => page.getByRole('complementary', { name: 'Inspector' });
const field = (page: Page, name: string) => inspector(page).getByRole('textbox', { name, exact: true });
const clips = (page: Page) => page.locator('[data-clip]');

async function showNow(page: Page) {
  const project = JSON.parse(await savedText(page)) as Project;
  return project.lampshows.at(-1)!;
}
const clipsNow = async (page: Page) => (await showNow(page)).rows.flatMap((row) => row.clips);

/** Mean of red, green and blue over a rectangle of the panel, 0 to 255. */
async function lightOf(page: Page, { xMm, yMm, widthMm: width, heightMm }: typeof tent): Promise<number> {
  const { at, pxPerMm } = await panelOnScreen(page, widthMm);
  const corner = at(xMm, yMm);
  return page.locator('[data-glass] canvas').evaluate(
    (element, rect) => {
      const canvas = element as HTMLCanvasElement;
      const box = canvas.getBoundingClientRect();
      const scale = canvas.width / box.width;
      const copy = new OffscreenCanvas(canvas.width, canvas.height).getContext('2d', {
        willReadFrequently: true,
      })!;
      copy.drawImage(canvas, 0, 0);
      const { data } = copy.getImageData(
        Math.round((rect.x - box.left) * scale),
        Math.round((rect.y - box.top) * scale),
        Math.round(rect.width * scale),
        Math.round(rect.height * scale),
      );
      let sum = 0;
      for (let i = 0; i < data.length; i += 4) sum += data[i]! + data[i + 1]! + data[i + 2]!;
      return sum / (data.length / 4) / 3;
    },
    { ...corner, width: width * pxPerMm, height: heightMm * pxPerMm },
  );
}

const frameMsNow = (page: Page): Promise<number> =>
  timeSlider(page).evaluate((slider) => {
    const [, seconds, frame] = /^([\d.]+) seconds, frame (\d+)/.exec(slider.getAttribute('aria-valuetext')!)!;
    return (1000 * Number(seconds)) / Number(frame);
  });

async function goTo(page: Page, seconds: number, frameMs: number): Promise<void> {
  const frame = Math.round((seconds * 1000) / frameMs);
  await timeSlider(page).fill(`${frame}`);
  await expect(glassOf(page)).toHaveAttribute('data-frame', `${frame}`);
}

/** Lit where the area lies while the clip plays; dark elsewhere, and everywhere between two clips. */
async function expectLight(page: Page, frameMs: number): Promise<void> {
  await goTo(page, 0.8, frameMs);
  await expect.poll(() => lightOf(page, tent)).toBeGreaterThan(40);
  expect(await lightOf(page, wheel)).toBeLessThan(4);
  await goTo(page, 1.6, frameMs);
  await expect.poll(() => lightOf(page, tent)).toBeLessThan(4);
  expect(await lightOf(page, wheel)).toBeLessThan(4);
}

async function drag(page: Page, from: { x: number; y: number }, byX: number): Promise<void> {
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move(from.x + byX / 2, from.y, { steps: 4 });
  await page.mouse.move(from.x + byX, from.y, { steps: 4 });
  await page.mouse.up();
}

const middleOf = async (locator: Locator) => {
  const box = (await locator.boundingBox())!;
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
};

test.beforeEach(async ({ page }) => {
  await withoutPickers(page);
  await openPage(page);
  await pause(page);
});

test('by mouse: a new show, a clip, its effect, area and colours; trimmed, faded, split, repeated and moved', async ({
  page,
}) => {
  await page.getByRole('button', { name: 'New show' }).click();
  await page.getByRole('button', { name: 'Add a clip' }).click();
  const choose = (name: string, label: string) =>
    inspector(page).getByRole('combobox', { name }).selectOption({ label });
  await choose('Effect', 'Glow');
  await choose('Area', 'Tent, outward');
  await choose('Colours', 'Ice');
  await goTo(page, 1, 20);
  const frameMs = await frameMsNow(page);

  // The show lasts 5 s and is fitted, so the clip is as wide as 5 s are.
  const pxPerSecond = (await clips(page).first().boundingBox())!.width / 5;
  const nearSeconds = 2 / pxPerSecond + frameMs / 1000;
  await drag(page, await middleOf(page.locator('[data-edge="end"]')), -3 * pxPerSecond);
  let [clip] = await clipsNow(page);
  expect(Math.abs(clip!.lengthMs / 1000 - 2)).toBeLessThan(nearSeconds);
  // It lands on a frame.
  expect(clip!.lengthMs % frameMs).toBe(0);

  const fadeBefore = clip!.fadeInMs ?? 0;
  await clips(page).first().hover();
  await drag(page, await middleOf(page.locator('[data-fade="in"]')), 0.4 * pxPerSecond);
  [clip] = await clipsNow(page);
  expect(Math.abs((clip!.fadeInMs! - fadeBefore) / 1000 - 0.4)).toBeLessThan(nearSeconds);

  await goTo(page, 1, frameMs);
  await page.getByRole('button', { name: 'Split at playhead' }).click();
  await expect(clips(page)).toHaveCount(2);
  await expect(inspector(page).getByRole('heading', { name: '2 clips' })).toBeVisible();
  await clips(page).nth(1).click();
  await inspector(page).getByRole('button', { name: 'Delete', exact: true }).click();
  await expect(clips(page)).toHaveCount(1);

  await clips(page).first().click();
  await inspector(page).getByRole('button', { name: 'Repeat', exact: true }).click();
  await expect(clips(page)).toHaveCount(2);
  // Both are chosen now: the second is taken alone, and a second later.
  await clips(page).nth(1).click();
  await drag(page, await middleOf(clips(page).nth(1)), pxPerSecond);
  const [first, second] = await clipsNow(page);
  expect(Math.abs((second!.startMs - first!.lengthMs) / 1000 - 1)).toBeLessThan(nearSeconds);
  expect(second).toEqual({ ...first, startMs: second!.startMs });
  await expectLight(page, frameMs);

  // A box round both, and both a little later; Escape in the middle of a drag puts them back.
  const [a, b] = [(await clips(page).nth(0).boundingBox())!, (await clips(page).nth(1).boundingBox())!];
  const below = b.y + b.height + 1;
  await page.mouse.move(b.x + b.width + 40, below);
  await page.mouse.down();
  await page.mouse.move(a.x + 20, a.y + 4, { steps: 6 });
  await page.mouse.up();
  await expect(inspector(page).getByRole('heading', { name: '2 clips' })).toBeVisible();
  const grip = await middleOf(clips(page).nth(0));
  await page.mouse.move(grip.x, grip.y);
  await page.mouse.down();
  await page.mouse.move(grip.x + 60, grip.y, { steps: 5 });
  await page.keyboard.press('Escape');
  await page.mouse.up();
  expect(await clipsNow(page)).toEqual([first, second]);
  await drag(page, grip, 60);
  const moved = await clipsNow(page);
  const by = moved[0]!.startMs - first!.startMs;
  expect(by).toBeGreaterThan(0);
  expect(moved[1]!.startMs - second!.startMs).toBe(by);
  await page.getByRole('button', { name: /^Undo/ }).click();
  expect(await clipsNow(page)).toEqual([first, second]);
});

async function tabTo(page: Page, target: Locator): Promise<void> {
  for (let i = 0; i < 250; i++) {
    if (await target.evaluate((element) => element === document.activeElement)) return;
    await page.keyboard.press('Tab');
  }
  await expect(target).toBeFocused();
}

test('by the keyboard alone: the same show', async ({ page }) => {
  const press = async (target: Locator) => {
    await tabTo(page, target);
    await page.keyboard.press('Enter');
  };
  const type = async (target: Locator, text: string) => {
    await tabTo(page, target);
    await page.keyboard.type(text);
  };
  await press(page.getByRole('button', { name: 'New show' }));
  await press(page.getByRole('button', { name: 'Add a clip' }));
  const select = (name: string) => inspector(page).getByRole('combobox', { name });
  await type(select('Effect'), 'Glow');
  await type(select('Area'), 'Tent');
  await type(select('Colours'), 'Ice');
  const set = async (name: string, text: string) => {
    await tabTo(page, field(page, name));
    await page.keyboard.press('Control+a');
    await page.keyboard.type(text);
    await page.keyboard.press('Enter');
  };
  await set('Lasts, s', '2');
  await set('Fades in over, s', '0.6');
  await page.keyboard.press('Escape');

  await page.keyboard.press('.');
  const frameMs = await frameMsNow(page);
  // Up to the frame nearest to one second.
  const frame = Math.round(1000 / frameMs);
  for (let i = 1; i < frame; i++) await page.keyboard.press('.');
  await expect.poll(() => frameOf(page)).toBe(frame);
  await page.keyboard.press('s');
  await expect(clips(page)).toHaveCount(2);
  await press(clips(page).nth(1));
  await page.keyboard.press('Delete');
  await expect(clips(page)).toHaveCount(1);
  await press(clips(page).first());
  await page.keyboard.press('Control+d');
  await expect(clips(page)).toHaveCount(2);
  const tens = Math.round(100 / frameMs);
  for (let i = 0; i < tens; i++) await page.keyboard.press('Shift+ArrowRight');
  const [first, second] = await clipsNow(page);
  expect(first).toMatchObject({
    startMs: 0,
    lengthMs: frame * frameMs,
    fadeInMs: 600,
    area: 'tent',
    gradient: 'ice',
  });
  expect(first!.effect.kind).toBe('glow');
  expect(second).toEqual({ ...first, startMs: first!.lengthMs + tens * 10 * frameMs });
  await expectLight(page, frameMs);

  // Marks in time, a part that repeats, and a closer look, all by keys.
  await page.keyboard.press('m');
  await page.keyboard.press('b');
  const show = await showNow(page);
  expect(show.markers).toHaveLength(1);
  expect(show.beatsMs).toEqual([show.markers![0]!.atMs]);
  await page.keyboard.press('i');
  for (let i = 0; i < 5; i++) await page.keyboard.press('.');
  await page.keyboard.press('o');
  const from = Number((await page.locator('[data-loop]').getAttribute('data-loop'))!.split(' ')[0]);
  expect(from).toBe(show.markers![0]!.atMs);
  const start = Math.round(from / frameMs);
  await page.keyboard.press('Space');
  const seen = new Set<number>();
  await expect.poll(async () => seen.add(await frameOf(page)).size).toBeGreaterThan(3);
  for (const one of seen) expect(one - start).toBeLessThan(6);
  await page.keyboard.press('Space');
  await page.keyboard.press('Alt+=');
  await expect(page.locator('[data-fitted]')).toHaveAttribute('data-fitted', 'false');
  await page.keyboard.press('Alt+0');
  await expect(page.locator('[data-fitted]')).toHaveAttribute('data-fitted', 'true');
});

test('zoomed in, the weave has a column a pixel of what is in view, the pointer’s moment stays, and the wheel pans', async ({
  page,
}) => {
  // By its place in the document: clips out of view are not there.
  const place = await clips(page).nth(1).getAttribute('data-clip');
  const clip = page.locator(`[data-row="0"] [data-clip="${place}"]`);
  const before = (await clip.boundingBox())!;
  const x = Math.round(before.x + before.width / 2);
  const y = Math.round(before.y + before.height / 2);
  const share = (x - before.x) / before.width;
  await page.mouse.move(x, y);
  await page.keyboard.down('Control');
  for (let i = 0; i < 6; i++) await page.mouse.wheel(0, -200);
  await page.keyboard.up('Control');
  await expect.poll(async () => (await clip.boundingBox())!.width).toBeGreaterThan(8 * before.width);
  const after = (await clip.boundingBox())!;
  expect(Math.abs((x - after.x) / after.width - share)).toBeLessThan(2 / before.width);
  // The part's whole clip has as many columns as the clip has pixels; only some of them are woven.
  const sharp = clip.locator('[data-columns]');
  await expect
    .poll(async () => Number(await sharp.getAttribute('data-columns')))
    .toBe(Math.round(after.width));
  const woven = await sharp.locator('canvas').evaluate((canvas) => (canvas as HTMLCanvasElement).width);
  const timelinePx = (await page.locator('[data-timeline]').boundingBox())!.width;
  expect(woven).toBeLessThan(timelinePx + 2 * 128 + 2 * 128);
  await page.keyboard.down('Shift');
  await page.mouse.wheel(0, 300);
  await page.keyboard.up('Shift');
  await expect.poll(async () => (await clip.boundingBox())!.x).toBeLessThan(after.x - 100);
  // A clip that is held at the end of what is in view takes the view along, and goes with it.
  const attract = async () => (JSON.parse(await savedText(page)) as Project).lampshows[0]!;
  const startOf = async () => (await attract()).rows[0]!.clips[Number(place)]!.startMs;
  const { lengthMs } = await attract();
  const startMs = await startOf();
  const now = (await clip.boundingBox())!;
  const timeline = (await page.locator('[data-timeline]').boundingBox())!;
  const held = { x: timeline.x + 400, y: now.y + now.height / 2 };
  await page.mouse.move(held.x, held.y);
  await page.mouse.down();
  await page.mouse.move(timeline.x + 162, held.y, { steps: 4 });
  await page.waitForTimeout(500);
  const msPerPx = lengthMs / (await page.locator('[data-track]').first().boundingBox())!.width;
  await page.mouse.up();
  expect(startMs - (await startOf())).toBeGreaterThan((400 - 162 + 60) * msPerPx);
  await page.getByRole('button', { name: /^Undo/ }).click();
  expect(await startOf()).toBe(startMs);
  await page.getByRole('button', { name: 'Show the whole show' }).click();
  await expect.poll(async () => (await clip.boundingBox())!.width).toBeCloseTo(before.width, 0);
});

test('several at once: chosen by keys, changed together, pasted into another show, crossfaded; nothing for axe to find', async ({
  page,
}) => {
  // The attract mode's first row has clips that follow each other.
  await clips(page).nth(0).press('Enter');
  await clips(page).nth(1).press('Shift+Enter');
  await expect(inspector(page).getByRole('heading', { name: '2 clips' })).toBeVisible();
  await clips(page).nth(1).press('Shift+Enter');
  await expect(inspector(page).getByRole('heading', { name: '2 clips' })).toBeHidden();
  await clips(page)
    .nth(1)
    .click({ modifiers: ['Shift'], position: { x: 60, y: 8 } });
  await expect(inspector(page).getByRole('heading', { name: '2 clips' })).toBeVisible();

  await page.keyboard.press('Control+a');
  const attractNow = async () => (JSON.parse(await savedText(page)) as Project).lampshows[0]!;
  const before = (await attractNow()).rows.flatMap((row) => row.clips);
  await expect(inspector(page).getByRole('heading', { name: `${before.length} clips` })).toBeVisible();
  await expect(field(page, 'Level, %')).toHaveAttribute('placeholder', 'several');
  await field(page, 'Level, %').fill('50');
  await field(page, 'Level, %').press('Enter');
  const after = (await attractNow()).rows.flatMap((row) => row.clips);
  expect(after).toEqual(before.map((clip) => ({ ...clip, levelPercent: 50 })));
  await expect(field(page, 'Level, %')).toHaveValue('50');
  const axe = async () => {
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join()}`)).toEqual([]);
  };
  await axe();
  await page.getByRole('button', { name: /^Undo/ }).click();

  // Two clips that follow each other go to a new show, and are made to overlap by half a second.
  await clips(page).nth(0).press('Enter');
  await page.keyboard.press('Control+c');
  await page.getByRole('button', { name: 'New show' }).click();
  await page.keyboard.press('Control+v');
  await expect(clips(page)).toHaveCount(1);
  const set = async (name: string, text: string) => {
    await field(page, name).fill(text);
    await field(page, name).press('Enter');
  };
  await set('Starts, s', '0');
  await set('Lasts, s', '2');
  await page.getByRole('button', { name: 'Repeat', exact: true }).click();
  await clips(page).nth(1).press('Enter');
  await set('Starts, s', '1.5');
  await field(page, 'Starts, s').press('Escape');
  await page.keyboard.press('Control+a');
  await page.getByRole('button', { name: 'Crossfade' }).click();
  const [first, second] = await clipsNow(page);
  expect(first).toMatchObject({ startMs: 0, lengthMs: 2000, fadeOutMs: 500 });
  expect(second).toMatchObject({ startMs: 1500, lengthMs: 2000, fadeInMs: 500 });
  expect(first).toMatchObject({ area: before[0]!.area, gradient: before[0]!.gradient });

  // Marks, a part that repeats, the show's pane: in the lit room too.
  await page.keyboard.press('Escape');
  await page.keyboard.press('m');
  await page.keyboard.press('o');
  await inspector(page).getByRole('button', { name: 'Set beats' }).click();
  // 120 a minute in 5 s.
  expect((await showNow(page)).beatsMs).toEqual(Array.from({ length: 10 }, (_, i) => 500 * i));
  await expect(page.locator('[data-marker]')).toHaveCount(1);
  await axe();
  await page.getByRole('slider', { name: 'Room light' }).fill('1');
  await axe();
});
