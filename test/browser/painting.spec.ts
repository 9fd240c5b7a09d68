// Painting in a real browser: four frames by mouse, and the same by the keyboard alone. What is expected on the glass follows from where the cells lie:
// of the tent's twelve columns each frame lights a quarter, so that quarter is lit at that frame and the others are darker by far.
import AxeBuilder from '@axe-core/playwright';
import type { Locator, Page } from '@playwright/test';
import type { PaintedEffect, Project } from '../../src/project/index.ts';
import { gifOf } from '../support/gif-writer.ts';
import { expect, openPage, pause, savedText, test, withoutPickers } from './page.ts';

const inspector = (page: Page) => page.getByRole('complementary', { name: 'Inspector' });
const button = (page: Page, name: string) => inspector(page).getByRole('button', { name, exact: true });
const cursor = (page: Page) => page.locator('[data-paint-cells] [data-kind="cursor"]');
const frames = (page: Page) => inspector(page).getByRole('option');

async function paintingNow(page: Page): Promise<PaintedEffect> {
  const project = JSON.parse(await savedText(page)) as Project;
  return project.lampshows.at(-1)!.rows[0]!.clips[0]!.effect as PaintedEffect;
}

/** Twelve columns of the tent's four rows: three of them in colour 1, the others dark. */
const quarter = (which: number): string =>
  Array.from({ length: 12 }, (_, column) => (Math.floor(column / 3) === which ? '1' : '0'))
    .join('')
    .repeat(4);

interface Cells {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** The upper left cell on the screen, where the cursor stands at first. */
async function firstCell(page: Page): Promise<Cells> {
  await expect(cursor(page)).toHaveAttribute('data-cell', '0 0');
  // The cell itself, without the width of the line round it.
  return cursor(page)
    .locator('rect')
    .evaluate((element) => {
      const { x, y, width, height } = (element as SVGGraphicsElement).getBBox();
      const { e, f } = (element as SVGGraphicsElement).getScreenCTM()!;
      return { left: x + e, top: y + f, width, height };
    });
}

const middle = ({ left, top, width, height }: Cells, column: number, row: number) => ({
  x: left + (column + 0.5) * width,
  y: top + (row + 0.5) * height,
});

async function dragCells(page: Page, cells: Cells, ...way: readonly (readonly [number, number])[]) {
  const [first, ...others] = way.map(([column, row]) => middle(cells, column, row));
  await page.mouse.move(first!.x, first!.y);
  await page.mouse.down();
  for (const { x, y } of others) await page.mouse.move(x, y, { steps: 3 });
  await page.mouse.up();
}

/** Mean of red, green and blue (0 to 255) over the middle of each quarter of the grid. */
async function lightOfQuarters(page: Page, { left, top, width, height }: Cells): Promise<number[]> {
  const parts = [0, 1, 2, 3].map((which) => ({
    x: left + (3 * which + 0.75) * width,
    y: top + height,
    width: 1.5 * width,
    height: 2 * height,
  }));
  return page.locator('[data-glass] canvas').evaluate((element, rects) => {
    const canvas = element as HTMLCanvasElement;
    const box = canvas.getBoundingClientRect();
    const scale = canvas.width / box.width;
    const copy = new OffscreenCanvas(canvas.width, canvas.height).getContext('2d', {
      willReadFrequently: true,
    })!;
    copy.drawImage(canvas, 0, 0);
    return rects.map((rect) => {
      const { data } = copy.getImageData(
        Math.round((rect.x - box.left) * scale),
        Math.round((rect.y - box.top) * scale),
        Math.max(1, Math.round(rect.width * scale)),
        Math.max(1, Math.round(rect.height * scale)),
      );
      let sum = 0;
      for (let i = 0; i < data.length; i += 4) sum += data[i]! + data[i + 1]! + data[i + 2]!;
      return sum / (data.length / 4) / 3;
    });
  }, parts);
}

/** At each frame its quarter is lit, and the darkest of the others gives less than a third of its light. */
async function expectQuarters(page: Page, cells: Cells, choose: (frame: number) => Promise<void>) {
  for (const frame of [0, 1, 2, 3]) {
    await choose(frame);
    await expect
      .poll(async () => {
        const light = await lightOfQuarters(page, cells);
        return light.indexOf(Math.max(...light));
      })
      .toBe(frame);
    const light = await lightOfQuarters(page, cells);
    expect(light[frame]).toBeGreaterThan(40);
    for (const [other, level] of light.entries())
      if (Math.abs(other - frame) > 1) expect(level, `quarter ${other}`).toBeLessThan(light[frame]! / 3);
  }
}

test.beforeEach(async ({ page }) => {
  await withoutPickers(page);
  await openPage(page);
  await pause(page);
});

async function newPainting(page: Page): Promise<Cells> {
  await page.getByRole('button', { name: 'New show' }).click();
  await page.getByRole('button', { name: 'Add a clip' }).click();
  const choose = (name: string, label: string) =>
    inspector(page).getByRole('combobox', { name, exact: true }).selectOption({ label });
  await choose('Area', 'Tent, outward');
  await choose('Effect', 'Painted frames');
  await button(page, 'Paint on the glass').click();
  const hex = inspector(page).getByRole('textbox', { name: 'Colour 2, as hexadecimal' });
  await hex.fill('#ffffff');
  await hex.press('Enter');
  return firstCell(page);
}

test('by mouse: four frames, each a stroke that is one step back, are on the glass where they were painted', async ({
  page,
}) => {
  const cells = await newPainting(page);
  expect(await paintingNow(page)).toMatchObject({ columns: 12, rows: 4 });
  const brush = inspector(page).getByRole('textbox', { name: 'Brush, cells wide' });
  await brush.fill('3');
  await brush.press('Enter');
  for (const frame of [0, 1, 2, 3]) {
    if (frame > 0) await button(page, 'Add an empty frame behind this one').click();
    await dragCells(page, cells, [3 * frame + 1, 1], [3 * frame + 1, 2]);
  }
  await expect(frames(page)).toHaveCount(4);
  expect((await paintingNow(page)).frames.map((frame) => frame.cells)).toEqual([0, 1, 2, 3].map(quarter));
  await expectQuarters(page, cells, (frame) => frames(page).nth(frame).click());

  // The last stroke is one step; Escape calls one off that is under way.
  await page.getByRole('button', { name: /^Undo/ }).click();
  expect((await paintingNow(page)).frames[3]!.cells).toBe('0'.repeat(48));
  const { x, y } = middle(cells, 6, 1);
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + 40, y, { steps: 4 });
  await page.keyboard.press('Escape');
  await page.mouse.up();
  expect((await paintingNow(page)).frames[3]!.cells).toBe('0'.repeat(48));

  // Several frames at once: held longer, and mirrored.
  await frames(page).nth(0).click();
  await frames(page)
    .nth(1)
    .click({ modifiers: ['Shift'] });
  const hold = inspector(page).getByRole('textbox', { name: 'Held for, s' });
  await hold.fill('0.8');
  await hold.press('Enter');
  await button(page, 'Mirror frame left and right').click();
  const after = (await paintingNow(page)).frames;
  expect(after.map(({ holdMs }) => holdMs)).toEqual([800, 800, 500, 500]);
  expect(after.slice(0, 3).map((frame) => frame.cells)).toEqual([quarter(3), quarter(2), quarter(2)]);
  await button(page, 'Done').click();
  await expect(page.locator('[data-paint-cells]')).toHaveCount(0);
});

async function tabTo(page: Page, target: Locator): Promise<void> {
  for (let i = 0; i < 250; i++) {
    if (await target.evaluate((element) => element === document.activeElement)) return;
    await page.keyboard.press('Tab');
  }
  await expect(target).toBeFocused();
}

test('by the keyboard alone: the same four frames', async ({ page }) => {
  const press = async (target: Locator) => {
    await tabTo(page, target);
    await page.keyboard.press('Enter');
  };
  await press(page.getByRole('button', { name: 'New show' }));
  await press(page.getByRole('button', { name: 'Add a clip' }));
  const select = (name: string) => inspector(page).getByRole('combobox', { name, exact: true });
  await tabTo(page, select('Effect'));
  await page.keyboard.type('Painted');
  // Another area keeps the grid; the effect is chosen anew for the tent's.
  await tabTo(page, select('Area'));
  await page.keyboard.type('Tent');
  await press(button(page, 'Paint on the glass'));
  await press(button(page, 'As the LEDs lie'));
  await tabTo(page, inspector(page).getByRole('textbox', { name: 'Colour 2, as hexadecimal' }));
  await page.keyboard.press('Control+a');
  await page.keyboard.type('#ffffff');
  await page.keyboard.press('Enter');
  const cells = await firstCell(page);
  for (const frame of [0, 1, 2, 3]) {
    if (frame > 0) {
      // On from a copy of the frame before: three cells to the right, and the rest is erased.
      await page.keyboard.press('Control+d');
      await page.keyboard.press('f');
    }
    if (frame === 0) {
      // Three columns, down and up again, without letting go of Shift.
      await page.keyboard.press('Space');
      for (const key of ['Down', 'Down', 'Down', 'Right', 'Up', 'Up', 'Up', 'Right', 'Down', 'Down', 'Down'])
        await page.keyboard.press(`Shift+Arrow${key}`);
    } else {
      // Filled dark at the cursor; then a line down each of three columns.
      await page.keyboard.press('1');
      await page.keyboard.press('Space');
      await page.keyboard.press('2');
      await page.keyboard.press('l');
      for (let column = 0; column < 3; column++) {
        await page.keyboard.press('ArrowRight');
        await page.keyboard.press('Space');
        for (let row = 0; row < 3; row++) {
          const way = (3 * frame + column) % 2 === 1 ? 'Up' : 'Down';
          await page.keyboard.press(`Arrow${way}`);
        }
        await page.keyboard.press('Space');
      }
    }
  }
  expect((await paintingNow(page)).frames.map((frame) => frame.cells)).toEqual([0, 1, 2, 3].map(quarter));
  // From the fourth the first is next.
  await expectQuarters(page, cells, () => page.keyboard.press('PageDown'));
  await page.keyboard.press('Escape');
  await expect(page.locator('[data-paint-cells]')).toHaveCount(0);
  await expect(page.locator('[data-clip]')).toHaveCount(1);
});

/** Two colours, red and blue, left and right of each other, for 70 ms and 250 ms. */
const red = [255, 0, 0] as const;
const blue = [0, 0, 255] as const;
const gif = Buffer.from(
  gifOf(
    4,
    2,
    [red, blue],
    [
      { width: 4, height: 2, pixels: [0, 0, 1, 1, 0, 0, 1, 1], delayHundredths: 7 },
      { width: 4, height: 2, pixels: [1, 1, 0, 0, 1, 1, 0, 0], delayHundredths: 25 },
    ],
  ),
);

test('an animated GIF becomes frames with its own times, chosen or dropped; what is none is told', async ({
  page,
}) => {
  await newPainting(page);
  const half = (left: string, right: string) => (left.repeat(6) + right.repeat(6)).repeat(4);
  const chosen = async (name: string, mimeType: string, buffer: Buffer) => {
    const coming = page.waitForEvent('filechooser');
    await button(page, 'Choose a picture').click();
    await (await coming).setFiles({ name, mimeType, buffer });
  };
  const expectGif = async () => {
    await expect(frames(page)).toHaveCount(2);
    const { palette, frames: made } = await paintingNow(page);
    // From dark to bright, as OKLab has it.
    expect(palette).toEqual(['#0000ff', '#ff0000']);
    expect(made).toEqual([
      { holdMs: 70, cells: half('1', '0') },
      { holdMs: 250, cells: half('0', '1') },
    ]);
  };
  await chosen('wheel.gif', 'image/gif', gif);
  await expectGif();
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect(frames(page)).toHaveCount(1);
  const data = await page.evaluateHandle(
    (bytes) => {
      const transfer = new DataTransfer();
      transfer.items.add(new File([Uint8Array.from(bytes)], 'wheel.gif', { type: 'image/gif' }));
      return transfer;
    },
    [...gif],
  );
  await page.dispatchEvent('[data-paint-cells]', 'drop', { dataTransfer: data });
  await expectGif();
  await chosen('notes.png', 'image/png', Buffer.from('no picture at all'));
  await expect(page.getByText('“notes.png” was not taken in')).toBeVisible();
  await expectGif();
});

test('axe finds nothing while painting, in either mood, and nothing of the pane sticks out', async ({
  page,
}) => {
  await newPainting(page);
  for (const light of ['0', '1']) {
    await page.getByRole('slider', { name: 'Room light' }).fill(light);
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(' ')}`)).toEqual(
      [],
    );
  }
  for (const size of [
    { width: 1440, height: 900 },
    { width: 1366, height: 768 },
  ]) {
    await page.setViewportSize(size);
    const wide = await inspector(page).evaluate((pane) =>
      [...pane.querySelectorAll('*')]
        .filter((part) => !part.closest('.visually-hidden, svg'))
        .filter((part) => part.getBoundingClientRect().right > pane.getBoundingClientRect().right)
        .map((part) => part.outerHTML.slice(0, 90)),
    );
    expect(wide).toEqual([]);
  }
});

test('by touch: a finger paints; a second one calls the stroke off and moves the view; from the rear left is right', async ({
  browser,
  baseURL,
}) => {
  const context = await browser.newContext({
    hasTouch: true,
    viewport: { width: 1366, height: 768 },
    ...(baseURL === undefined ? {} : { baseURL }),
  });
  const page = await context.newPage();
  await withoutPickers(page);
  await openPage(page);
  await pause(page);
  const cells = await newPainting(page);
  const cdp = await context.newCDPSession(page);
  const touch = (type: 'touchStart' | 'touchMove' | 'touchEnd', ...points: { x: number; y: number }[]) =>
    cdp.send('Input.dispatchTouchEvent', {
      type,
      touchPoints: points.map(({ x, y }, id) => ({ x, y, id })),
    });
  const cellsNow = async () => (await paintingNow(page)).frames[0]!.cells;
  const across = (row: number) => [2, 3, 5, 8].map((column) => middle(cells, column, row));
  const [first, ...others] = across(1);
  await touch('touchStart', first!);
  for (const point of others) await touch('touchMove', point);
  await touch('touchEnd');
  const row = '001111111000';
  expect(await cellsNow()).toBe('0'.repeat(12) + row + '0'.repeat(24));

  const [start, next] = across(3);
  await touch('touchStart', start!);
  await touch('touchMove', next!);
  await touch('touchStart', next!, { x: next!.x + 100, y: next!.y });
  await touch('touchEnd');
  expect(await cellsNow()).toBe('0'.repeat(12) + row + '0'.repeat(24));

  await page.keyboard.press('0');
  await page.keyboard.press('ArrowUp');
  await page.getByRole('radio', { name: 'Rear' }).check({ force: true });
  // The cursor stands on column 2, row 2. From the rear its cell lies as far from the panel's right edge as it lies from the left one in front.
  const rear = (await cursor(page).locator('rect').boundingBox())!;
  const panel = (await page.locator('[data-panel]').boundingBox())!;
  const front = middle(cells, 2, 2);
  expect(rear.x + rear.width / 2 - panel.x).toBeCloseTo(panel.x + panel.width - front.x, 0);
  await page.touchscreen.tap(rear.x + rear.width / 2, rear.y + rear.height / 2);
  expect(await cellsNow()).toBe(`${'0'.repeat(12)}${row}001000000000${'0'.repeat(12)}`);
  await context.close();
});
