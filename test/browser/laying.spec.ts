// Laying strip in a real browser: by mouse, by keys alone, by touch. What is expected follows from the sample's own figures and from how far the
// pointer went. Pitch: 1000 / 60 = 16.667 mm.
import type { CDPSession, Page } from '@playwright/test';
import type { Project } from '../../src/project/index.ts';
import {
  expect,
  openPage,
  panelOnScreen,
  pause,
  runShape,
  savedText,
  stage,
  test,
  withoutDay,
  withoutPickers,
} from './page.ts';

const widthMm = 600;
const saved = async (page: Page): Promise<Project> => JSON.parse(await savedText(page)) as Project;
const runOf = (project: Project, id: string) => project.runs.find((run) => run.id === id)!;

test.beforeEach(({ page }) => withoutPickers(page));

async function onRuns(page: Page) {
  await openPage(page);
  await pause(page);
  await stage(page, 'Runs');
  return panelOnScreen(page, widthMm);
}

test('by mouse: several at once, clinging, areas by line and by brush, guides, measuring', async ({
  page,
}) => {
  test.setTimeout(180_000);
  const { at, pxPerMm } = await onRuns(page);
  const before = await saved(page);
  const { firstLed: sky1 } = runOf(before, 'sky-1');
  const { firstLed: sky3 } = runOf(before, 'sky-3');
  const on = (x: number, y: number, drag?: readonly (readonly [number, number])[]) => async () => {
    const start = at(x, y);
    await page.mouse.move(start.x, start.y);
    await page.mouse.down();
    for (const [toX, toY] of drag ?? []) {
      const to = at(toX, toY);
      await page.mouse.move(to.x, to.y, { steps: 5 });
    }
    await page.mouse.up();
  };

  // Two runs, chosen with Shift, go together; Alt lets them go anywhere.
  await on(sky1.xMm + 100, sky1.yMm)();
  await page.keyboard.down('Shift');
  await on(300, runOf(before, 'sky-2').firstLed.yMm)();
  await page.keyboard.up('Shift');
  await expect(page.locator('[data-run][data-chosen="true"]')).toHaveCount(2);
  await page.keyboard.down('Alt');
  await on(sky1.xMm + 100, sky1.yMm, [[sky1.xMm + 107.3, sky1.yMm + 4.1]])();
  await page.keyboard.up('Alt');
  const moved = await saved(page);
  const by = (id: string) => {
    const [a, b] = [runOf(before, id).firstLed, runOf(moved, id).firstLed];
    return [b.xMm - a.xMm, b.yMm - a.yMm];
  };
  const perPx = 1 / pxPerMm;
  for (const id of ['sky-1', 'sky-2']) {
    expect(Math.abs(by(id)[0]! - 7.3)).toBeLessThan(perPx);
    expect(Math.abs(by(id)[1]! - 4.1)).toBeLessThan(perPx);
  }
  expect(by('sky-1')[0]).toBeCloseTo(by('sky-2')[0]!, 6);
  expect(moved.runs.filter((run) => run.id !== 'sky-1' && run.id !== 'sky-2')).toEqual(
    before.runs.filter((run) => run.id !== 'sky-1' && run.id !== 'sky-2'),
  );
  // One drag is one step back.
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect(page.getByRole('button', { name: /^Undo/ })).toBeDisabled();
  expect((await saved(page)).runs).toEqual(before.runs);

  // Half a millimetre beside the LEDs above, it clings to them: the columns stand under each other exactly.
  await page.keyboard.press('Escape');
  const target = sky1.xMm + 2 * (1000 / 60) + 0.5;
  await on(300, sky3.yMm, [[300 + target - sky3.xMm, sky3.yMm + 0.4]])();
  const clung = runOf(await saved(page), 'sky-3').firstLed;
  const pitch = 1000 / 60;
  const columns = (clung.xMm - sky1.xMm) / pitch;
  expect(Math.abs(columns - Math.round(columns))).toBeLessThan(1e-4);
  await page.getByRole('button', { name: /^Undo/ }).click();

  // Escape in the middle of a drag puts everything back.
  const start = at(300, sky3.yMm);
  await page.mouse.move(start.x, start.y);
  await page.mouse.down();
  await page.mouse.move(start.x + 40, start.y + 40, { steps: 4 });
  await page.keyboard.press('Escape');
  await page.mouse.up();
  expect((await saved(page)).runs).toEqual(before.runs);

  // A line drawn round the wheel catches exactly the LEDs inside it.
  await page.keyboard.press('Escape');
  await page.keyboard.press('o');
  await on(50, 75, [
    [235, 75],
    [235, 277],
    [50, 277],
    [50, 80],
  ])();
  const inside = (await saved(page)).areas.at(-1)!;
  expect(inside.members.map(({ kind }) => kind)).toEqual(['outline']);
  const wheelLeds = before.runs
    .flatMap(({ id, firstLed, arrowDeg, ledCount }) =>
      Array.from({ length: ledCount }, (_, led) => ({
        id,
        x: firstLed.xMm + led * pitch * Math.cos((arrowDeg * Math.PI) / 180),
        y: firstLed.yMm - led * pitch * Math.sin((arrowDeg * Math.PI) / 180),
      })),
    )
    .filter(({ x, y }) => x > 50 && x < 235 && y > 75 && y < 277).length;
  await expect(page.getByRole('complementary')).toContainText(`${wheelLeds} LEDs`);

  // A brush over the first LEDs of the top row adds them to the chosen area.
  await page.keyboard.press('b');
  await on(sky1.xMm, sky1.yMm, [[sky1.xMm + 2 * pitch, sky1.yMm]])();
  await page.keyboard.press('Escape');
  const brushed = (await saved(page)).areas.at(-1)!;
  expect(brushed.members.map(({ kind }) => kind)).toEqual(['outline', 'stroke']);
  await expect(page.getByRole('complementary')).toContainText(`${wheelLeds + 3} LEDs`);

  // A guide pulled out of the ruler on the left, and away again.
  await page.keyboard.press('Escape');
  const ruler = (await page.locator('[data-ruler="y"]').boundingBox())!;
  await page.mouse.move(ruler.x + 10, at(0, 150).y);
  await page.mouse.down();
  const to = at(333, 150);
  await page.mouse.move(to.x, to.y, { steps: 6 });
  await page.mouse.up();
  const [guide] = (await saved(page)).panel.guides!;
  expect(guide!.axis).toBe('x');
  expect(Math.abs(guide!.atMm - 333)).toBeLessThanOrEqual(0.5 + perPx);
  await page.keyboard.press('Delete');
  expect((await saved(page)).panel.guides).toBeUndefined();

  // Measuring leaves the document alone.
  const untouched = withoutDay(await savedText(page));
  await page.keyboard.press('m');
  await on(100, 100, [[400, 200]])();
  const measuredMm = Number(await page.locator('[data-measured]').getAttribute('data-measured'));
  // A hypotenuse of 300 and 100 is 316.23.
  expect(Math.abs(measuredMm - Math.hypot(300, 100))).toBeLessThan(2 * perPx);
  expect(withoutDay(await savedText(page))).toBe(untouched);
});

test('by keys alone: a run is added, turned, lengthened, moved, doubled, joined again, and undone', async ({
  page,
}) => {
  await openPage(page);
  await page.keyboard.press('Alt+2');
  await expect(page.getByRole('heading', { name: 'Runs and areas' })).toBeVisible();
  const before = await saved(page);
  const add = page.getByRole('button', { name: 'Add a run' });
  for (let i = 0; i < 120 && !(await add.evaluate((button) => button === document.activeElement)); i++)
    await page.keyboard.press('Tab');
  await expect(add).toBeFocused();
  await page.keyboard.press('Enter');
  const added = (await saved(page)).runs.at(-1)!;
  await runShape(page, added.id).focus();
  for (const key of ['r', 'Shift+ArrowRight', 'ArrowUp', ']', ']', '[']) await page.keyboard.press(key);
  const turned = runOf(await saved(page), added.id);
  expect(turned.arrowDeg).toBe(90);
  expect(turned.ledCount).toBe(added.ledCount + 1);
  // A quarter turn about its middle, then 10 mm to the right and 1 mm up.
  const half = ((added.ledCount - 1) * 1000) / 60 / 2;
  expect(turned.firstLed.xMm).toBeCloseTo(added.firstLed.xMm + half + 10, 2);
  expect(turned.firstLed.yMm).toBeCloseTo(added.firstLed.yMm + half - 1, 2);

  // Cut in the middle, both halves chosen, joined.
  await page.keyboard.press('k');
  expect((await saved(page)).runs).toHaveLength(before.runs.length + 2);
  await page.keyboard.press('Control+z');
  await page.keyboard.press('Control+a');
  await expect(page.locator('[data-run][data-chosen="true"]')).toHaveCount(before.runs.length + 1);
  await page.keyboard.press('ArrowLeft');
  const shifted = await saved(page);
  for (const run of before.runs)
    expect(runOf(shifted, run.id).firstLed.xMm).toBeCloseTo(run.firstLed.xMm - 1, 6);
  for (let i = 0; i < 40 && !(await page.getByRole('button', { name: /^Undo/ }).isDisabled()); i++)
    await page.keyboard.press('Control+z');
  expect((await saved(page)).runs).toEqual(before.runs);
});

/** Fingers on a screen, as the browser's own driver sends them. */
async function fingers(
  cdp: CDPSession,
  type: 'touchStart' | 'touchMove' | 'touchEnd',
  ...points: { x: number; y: number }[]
) {
  await cdp.send('Input.dispatchTouchEvent', {
    type,
    touchPoints: points.map(({ x, y }, id) => ({ x, y, id })),
  });
}

test('by touch: a finger moves a run, two fingers move and zoom the view and leave the document alone', async ({
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
  const { at, pxPerMm } = await onRuns(page);
  const before = await saved(page);
  const cdp = await context.newCDPSession(page);
  const { firstLed } = runOf(before, 'tent-3');
  const from = at(firstLed.xMm - 50, firstLed.yMm);
  await fingers(cdp, 'touchStart', from);
  for (let step = 1; step <= 8; step++)
    await fingers(cdp, 'touchMove', { x: from.x + 5 * step, y: from.y + 3 * step });
  await fingers(cdp, 'touchEnd');
  const moved = runOf(await saved(page), 'tent-3').firstLed;
  // It clings to lines from 5 pixels away, or keeps to half millimetres.
  const reachMm = 5 / pxPerMm + 0.3;
  expect(Math.abs(moved.xMm - firstLed.xMm - 40 / pxPerMm)).toBeLessThan(reachMm);
  expect(Math.abs(moved.yMm - firstLed.yMm - 24 / pxPerMm)).toBeLessThan(reachMm);
  await page.getByRole('button', { name: /^Undo/ }).tap();
  expect((await saved(page)).runs).toEqual(before.runs);

  // Two fingers 200 px apart, then 400: twice as large, whatever lies under them.
  const middle = at(400, 205);
  const pair = (apart: number, dy = 0) =>
    [-1, 1].map((side) => ({ x: middle.x + (side * apart) / 2, y: middle.y + dy })) as [
      { x: number; y: number },
      { x: number; y: number },
    ];
  await fingers(cdp, 'touchStart', pair(200)[0]);
  await fingers(cdp, 'touchStart', ...pair(200));
  for (let step = 1; step <= 10; step++) await fingers(cdp, 'touchMove', ...pair(200 + 20 * step, 3 * step));
  await fingers(cdp, 'touchEnd');
  await expect
    .poll(async () => (await page.locator('[data-panel]').boundingBox())!.width / (pxPerMm * widthMm))
    .toBeCloseTo(2, 1);
  expect((await saved(page)).runs).toEqual(before.runs);
  await context.close();
});

test('true scale: a measured distance makes the panel that large, and everything stays on its place of the artwork', async ({
  page,
}) => {
  await openPage(page);
  await pause(page);
  await stage(page, 'Panel');
  const before = await saved(page);
  const { at } = await panelOnScreen(page, widthMm);
  await page.keyboard.press('y');
  const [a, b] = [at(100, 150), at(500, 150)];
  await page.mouse.move(a.x, a.y);
  await page.mouse.down();
  await page.mouse.move(b.x, b.y, { steps: 5 });
  await page.mouse.up();
  const drawn = (await saved(page)).panel.measures![0]!;
  const drawnMm = Math.hypot(drawn.to.xMm - drawn.from.xMm, drawn.to.yMm - drawn.from.yMm);
  const measured = page.getByRole('complementary').getByRole('textbox', { name: 'A to B, measured, mm' });
  await measured.fill('410');
  await measured.press('Enter');
  const after = await saved(page);
  expect(after.panel.widthMm).toBeCloseTo((before.panel.widthMm * 410) / drawnMm, 1);
  expect(after.panel.heightMm).toBeCloseTo((before.panel.heightMm * 410) / drawnMm, 1);
  const grown = 410 / drawnMm;
  const opening = before.panel.opening!;
  expect(after.panel.opening!.xMm).toBeCloseTo(opening.xMm * grown, 3);
});
