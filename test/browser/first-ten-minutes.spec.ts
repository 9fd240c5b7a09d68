// The first ten minutes: from an empty project with a photo and its width to automatic runs and a lit attract show, in at most twelve actions. An action
// is a press, a choice, or something typed. The photo is drawn for the test.
import type { Page } from '@playwright/test';
import { PNG } from 'pngjs';
import type { Project } from '../../src/project/index.ts';
import { expect, openPage, pictureOf, savedText, test, withoutPickers } from './page.ts';

const mostActions = 12;

/** A night sky over a lit hall, 900 x 600 pixels. */
function photo(): Buffer {
  const png = new PNG({ width: 900, height: 600 });
  for (let y = 0; y < 600; y++)
    for (let x = 0; x < 900; x++) {
      const isHall = y > 330 && x > 200 && x < 700;
      png.data.set(isHall ? [230, 190, 120, 255] : [40, 40 + y / 12, 110, 255], 4 * (y * 900 + x));
    }
  return PNG.sync.write(png);
}

test('photo and width, automatic runs, a lit attract show', async ({ page }) => {
  await withoutPickers(page);
  await openPage(page);
  let actions = 0;
  const act = async (action: Promise<unknown>): Promise<void> => {
    actions++;
    await action;
  };
  const press = (name: string | RegExp, role: 'button' | 'menuitem' | 'link' = 'button') =>
    act(page.getByRole(role, { name, exact: typeof name === 'string' }).click());

  await press(/^Project: /);
  await press('New project', 'menuitem');
  // Pressing the button and choosing the file.
  const choosing = page.waitForEvent('filechooser');
  await press('Place a picture...');
  await act((await choosing).setFiles({ name: 'hall.png', mimeType: 'image/png', buffer: photo() }));
  await expect(page.getByRole('textbox', { name: /wide/ })).toBeFocused();
  await act(page.keyboard.type('450'));
  await act(page.keyboard.press('Enter'));
  await expect(page.getByRole('textbox', { name: 'Panel width, mm' })).toHaveValue('450.0');
  const { panel } = await project(page);
  expect(panel.heightMm).toBe(300);

  await act(stageButton(page, 'Runs').click());
  await press('Lay out for me');
  await press('Lay these runs');
  const laid = await project(page);
  const ledCount = laid.runs.reduce((sum, run) => sum + run.ledCount, 0);
  expect(ledCount).toBeGreaterThan(100);
  expect(laid.dataLines[0]!.chain).toHaveLength(laid.runs.length);

  await act(stageButton(page, 'Lampshows').click());
  await press('Add a clip');
  expect(actions).toBeLessThanOrEqual(mostActions);

  // The attract show is on the glass: with light in it, where the runs are.
  await expect(page.locator('[data-glass]')).toHaveAttribute('data-show', laid.attractMode);
  // The first clip fills the show: a band of light passes over the whole panel.
  const [clip] = (await project(page)).lampshows[0]!.rows[0]!.clips;
  expect([clip!.startMs, clip!.lengthMs]).toEqual([0, laid.lampshows[0]!.lengthMs]);
  await expect.poll(async () => (await pictureOf(page)).visibleShare).toBeGreaterThan(0.1);
  console.log(`From an empty project to a lit attract show: ${actions} actions.`);
});

const project = async (page: Page): Promise<Project> => JSON.parse(await savedText(page)) as Project;

const stageButton = (page: Page, name: string) =>
  page.getByRole('navigation', { name: 'Stages' }).getByRole('button', { name, exact: true });

test('a photo taken askew is straightened: marks come to lie where they are on the real sheet, within half a per cent', async ({
  page,
}) => {
  test.setTimeout(120_000);
  await withoutPickers(page);
  await openPage(page);
  await page.getByRole('button', { name: /^Project: / }).click();
  await page.getByRole('menuitem', { name: 'New project', exact: true }).click();
  const choosing = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Place a picture...' }).click();
  await (await choosing).setFiles({ name: 'askew.png', mimeType: 'image/png', buffer: askewPhoto() });
  await page.getByRole('button', { name: 'Straighten it first...' }).click();
  const set = async (label: string, value: number) => {
    const field = page.getByRole('textbox', { name: label });
    await field.fill(String(value));
    await field.press('Enter');
  };
  for (const [label, corner] of [
    ['Top left', corners[0]],
    ['Top right', corners[1]],
    ['Bottom right', corners[2]],
    ['Bottom left', corners[3]],
  ] as const) {
    await set(`${label} x`, corner[0]);
    await set(`${label} y`, corner[1]);
  }
  await set('True width', sheetMm[0]);
  await set('True height', sheetMm[1]);
  await page.getByRole('button', { name: 'Use the straightened picture' }).click();
  await expect.poll(async () => (await project(page)).panel.widthMm).toBe(sheetMm[0]);
  const { panel } = await project(page);
  expect(panel.heightMm).toBe(sheetMm[1]);
  const picture = await page.evaluate(async ({ mediaType, base64 }) => {
    const bytes = Uint8Array.from(atob(base64), (character) => character.charCodeAt(0));
    const bitmap = await createImageBitmap(new Blob([bytes], { type: mediaType }));
    const context = new OffscreenCanvas(bitmap.width, bitmap.height).getContext('2d')!;
    context.drawImage(bitmap, 0, 0);
    const { data } = context.getImageData(0, 0, bitmap.width, bitmap.height);
    return {
      width: bitmap.width,
      height: bitmap.height,
      dark: Array.from(data).filter((_, i) => i % 4 === 1),
    };
  }, panel.artwork!);
  // The picture is stretched over the panel, whatever its own proportions.
  const perX = picture.width / sheetMm[0];
  const perY = picture.height / sheetMm[1];
  for (const [xMm, yMm] of marksMm) {
    // The mark's middle: darkness weighed over a window of 24 mm.
    let [sum, sumX, sumY] = [0, 0, 0];
    for (let y = Math.floor((yMm - 12) * perY); y < (yMm + 12) * perY; y++)
      for (let x = Math.floor((xMm - 12) * perX); x < (xMm + 12) * perX; x++) {
        const weight = 255 - picture.dark[y * picture.width + x]!;
        if (weight < 60) continue;
        sum += weight;
        sumX += weight * (x + 0.5);
        sumY += weight * (y + 0.5);
      }
    expect(Math.abs(sumX / sum / perX - xMm)).toBeLessThan(0.005 * sheetMm[0]);
    expect(Math.abs(sumY / sum / perY - yMm)).toBeLessThan(0.005 * sheetMm[1]);
  }
});

/** The sheet that was photographed, and where marks of 10 mm lie on it. */
const sheetMm = [400, 300] as const;
const marksMm = [
  [30, 30],
  [370, 30],
  [200, 150],
  [110, 220],
  [370, 270],
  [30, 270],
] as const;

/** A pinhole camera: a place on the sheet (mm) to a pixel. The third row makes it a perspective and not a shear. */
const camera = (xMm: number, yMm: number): readonly [number, number] => {
  const depth = 1 + 0.0006 * xMm - 0.0004 * yMm;
  return [(60 + 2.1 * xMm + 0.25 * yMm) / depth, (90 - 0.18 * xMm + 2.2 * yMm) / depth];
};
const corners = [
  camera(0, 0),
  camera(sheetMm[0], 0),
  camera(sheetMm[0], sheetMm[1]),
  camera(0, sheetMm[1]),
] as const;

/** The same camera backwards: solves its two equations for the place on the sheet. */
function onSheet(u: number, v: number): readonly [number, number] {
  const [a, b, c] = [2.1 - 0.0006 * u, 0.25 + 0.0004 * u, u - 60];
  const [d, e, f] = [-0.18 - 0.0006 * v, 2.2 + 0.0004 * v, v - 90];
  const determinant = a * e - b * d;
  return [(c * e - b * f) / determinant, (a * f - c * d) / determinant];
}

/** Four samples a pixel: what the camera sees. */
function askewPhoto(): Buffer {
  const [width, height] = [1000, 900];
  const png = new PNG({ width, height });
  for (let v = 0; v < height; v++)
    for (let u = 0; u < width; u++) {
      let white = 0;
      for (const [du, dv] of [
        [0.25, 0.25],
        [0.75, 0.25],
        [0.25, 0.75],
        [0.75, 0.75],
      ] as const) {
        const [x, y] = onSheet(u + du, v + dv);
        const isSheet = x >= 0 && y >= 0 && x <= sheetMm[0] && y <= sheetMm[1];
        const isMark = marksMm.some(([mx, my]) => Math.abs(x - mx) < 5 && Math.abs(y - my) < 5);
        white += isSheet && !isMark ? 255 : isSheet ? 0 : 90;
      }
      const grey = Math.round(white / 4);
      png.data.set([grey, grey, grey, 255], 4 * (v * width + u));
    }
  return PNG.sync.write(png);
}
