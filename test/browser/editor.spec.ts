// Editing in a real browser: by mouse, by keys, by number; back to the same bytes; played, scrubbed, saved, reloaded. What is expected follows
// from the sample's own figures and from how far the mouse went.
import { readFileSync } from 'node:fs';
import {
  chooseProject,
  expect,
  expectedCrc,
  frameOf,
  glassOf,
  openPage,
  panelOnScreen,
  pause,
  root,
  runShape,
  sample,
  savedText,
  stage,
  test,
  timeSlider,
  withoutDay,
  withoutPickers,
} from './page.ts';

const widthMm = 600;
const field = (page: import('@playwright/test').Page, name: string) =>
  page.getByRole('complementary').getByRole('textbox', { name, exact: true });
const sampleText = readFileSync(`${root}/${sample}`, 'utf8');

test.beforeEach(({ page }) => withoutPickers(page));

test('a run is moved by mouse, by keys and by number, undone to the same bytes, kept, saved and reloaded', async ({
  page,
}) => {
  await openPage(page);
  await pause(page);
  await stage(page, 'Runs');
  // tent-3: 12 LEDs to the left from (488.33, 180).
  const run = JSON.parse(sampleText).runs.find((one: { id: string }) => one.id === 'tent-3');
  const { firstLed } = run as { firstLed: { xMm: number; yMm: number } };
  const { at, pxPerMm } = await panelOnScreen(page, widthMm);
  const from = at(firstLed.xMm - 50, firstLed.yMm);
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move(from.x + 10, from.y + 10, { steps: 3 });
  await page.mouse.move(from.x + 30 * pxPerMm, from.y + 12 * pxPerMm, { steps: 6 });
  await page.mouse.up();
  // Snapped to half millimetres.
  const half = (mm: number) => Math.round(mm * 2) / 2;
  const movedX = half(firstLed.xMm + 30);
  const movedY = half(firstLed.yMm + 12);
  await expect(field(page, 'First LED x, mm')).toHaveValue(movedX.toFixed(1));
  await expect(field(page, 'First LED y, mm')).toHaveValue(movedY.toFixed(1));

  await page.locator('[data-run="tent-3"]').focus();
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Shift+ArrowDown');
  await expect(field(page, 'First LED x, mm')).toHaveValue((movedX + 1).toFixed(1));
  await expect(field(page, 'First LED y, mm')).toHaveValue((movedY + 10).toFixed(1));

  await field(page, 'First LED x, mm').fill('455.25');
  await field(page, 'First LED x, mm').press('Enter');
  const moved = JSON.parse(await savedText(page)).runs.find((one: { id: string }) => one.id === 'tent-3');
  expect(moved.firstLed).toEqual({ xMm: 455.25, yMm: movedY + 10 });

  const undo = page.getByRole('button', { name: /^Undo/ });
  for (let steps = 0; steps < 4; steps++) await undo.click();
  await expect(undo).toBeDisabled();
  expect(withoutDay(await savedText(page))).toBe(withoutDay(sampleText));
  const redo = page.getByRole('button', { name: /^Redo/ });
  for (let steps = 0; steps < 4; steps++) await redo.click();
  await expect(field(page, 'First LED x, mm')).toHaveValue('455.25');

  const edited = await savedText(page);
  await field(page, 'LEDs').fill('11');
  await field(page, 'LEDs').press('Enter');
  await expect(page.getByText('Kept in this browser')).toBeVisible();
  await page.reload();
  await expect(glassOf(page)).toBeVisible();
  const reloaded = JSON.parse(await savedText(page));
  const expected = JSON.parse(edited);
  expected.runs.find((one: { id: string }) => one.id === 'tent-3').ledCount = 11;
  expect({ ...reloaded, savedOn: '' }).toEqual({ ...expected, savedOn: '' });
});

test('handles turn, lengthen, reverse and split the chosen run, and Escape puts a drag back', async ({
  page,
}) => {
  await openPage(page);
  await pause(page);
  await stage(page, 'Runs');
  await runShape(page, 'tent-1').press('Enter');
  const chosen = async () =>
    JSON.parse(await savedText(page)).runs.find((one: { id: string }) => one.id === 'tent-1');
  const before = await chosen();
  const handle = (id: string) => page.locator(`[data-handle="${id}"]`);
  const middle = async (id: string) => {
    const box = (await handle(id).boundingBox())!;
    return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
  };
  const { pxPerMm } = await panelOnScreen(page, widthMm);
  const pitchPx = (1000 / 60) * pxPerMm;

  // The run points left: two pitches further left are two LEDs more.
  const end = await middle('length');
  await page.mouse.move(end.x, end.y);
  await page.mouse.down();
  await page.mouse.move(end.x - 2 * pitchPx, end.y, { steps: 5 });
  await page.mouse.up();
  await expect(field(page, 'LEDs')).toHaveValue(String(before.ledCount + 2));

  const turn = await middle('turn');
  await page.mouse.move(turn.x, turn.y);
  await page.mouse.down();
  await page.mouse.move(turn.x + 40, turn.y + 60, { steps: 5 });
  await page.keyboard.press('Escape');
  await page.mouse.up();
  expect((await chosen()).arrowDeg).toBe(before.arrowDeg);

  await handle('reverse').click();
  const reversed = await chosen();
  expect(reversed.arrowDeg).toBe(0);
  expect(reversed.firstLed.xMm).toBeCloseTo(before.firstLed.xMm - ((before.ledCount + 1) * 1000) / 60, 3);

  const { at } = await panelOnScreen(page, widthMm);
  // Between the third and the fourth LED.
  const gap = at(reversed.firstLed.xMm + (2.5 * 1000) / 60, reversed.firstLed.yMm);
  await page.mouse.move(gap.x, gap.y);
  await handle('cut').click();
  const runs = JSON.parse(await savedText(page)).runs as { id: string; ledCount: number }[];
  expect(runs.filter(({ id }) => id.startsWith('tent-1')).map(({ ledCount }) => ledCount)).toEqual([
    3,
    before.ledCount + 2 - 3,
  ]);
});

test('the view zooms to the pointer, pans, turns over and fits again; the document stays', async ({
  page,
}) => {
  await openPage(page);
  await pause(page);
  await stage(page, 'Runs');
  const fitted = await panelOnScreen(page, widthMm);
  // The wheel's place comes in whole pixels.
  const near = fitted.at(400, 200);
  const point = { x: Math.round(near.x), y: Math.round(near.y) };
  const placeMm = (one: typeof fitted) => ({
    x: (point.x - one.at(0, 0).x) / one.pxPerMm,
    y: (point.y - one.at(0, 0).y) / one.pxPerMm,
  });
  await page.mouse.move(point.x, point.y);
  await page.mouse.wheel(0, -400);
  // The page hears the wheel after the call is back.
  await expect
    .poll(async () => (await panelOnScreen(page, widthMm)).pxPerMm)
    .toBeGreaterThan(1.5 * fitted.pxPerMm);
  const zoomed = await panelOnScreen(page, widthMm);
  expect(placeMm(zoomed).x).toBeCloseTo(placeMm(fitted).x, 1);
  expect(placeMm(zoomed).y).toBeCloseTo(placeMm(fitted).y, 1);
  await page.mouse.down({ button: 'middle' });
  await page.mouse.move(point.x + 50, point.y + 30, { steps: 4 });
  await page.mouse.up({ button: 'middle' });
  const panned = await panelOnScreen(page, widthMm);
  expect(panned.at(0, 0).x - zoomed.at(0, 0).x).toBeCloseTo(50, 0);
  expect(panned.at(0, 0).y - zoomed.at(0, 0).y).toBeCloseTo(30, 0);
  await page.getByRole('button', { name: 'Fit', exact: true }).click();
  expect((await panelOnScreen(page, widthMm)).pxPerMm).toBeCloseTo(fitted.pxPerMm, 6);
  await page.keyboard.press('f');
  await expect(page.getByRole('radio', { name: 'Rear' })).toBeChecked();
  // From behind, what was at the left is at the right.
  const box = (await runShape(page, 'tower-2').boundingBox())!;
  expect(box.x).toBeLessThan(fitted.at(300, 0).x);
  expect(withoutDay(await savedText(page))).toBe(withoutDay(sampleText));
});

test('what plays after an edit is what the command line writes for the saved project', async ({ page }) => {
  await openPage(page);
  await pause(page);
  await stage(page, 'Runs');
  await runShape(page, 'wheel-3').press('Enter');
  await page.getByRole('button', { name: 'Turn the arrow round' }).click();
  await stage(page, 'Lampshows');
  await timeSlider(page).fill('500');
  const saved = await savedText(page);
  await expect(glassOf(page)).toHaveAttribute('data-wire-crc', expectedCrc('attract', 500, saved));
  await page.keyboard.press('Space');
  await expect.poll(() => frameOf(page)).toBeGreaterThan(505);
});

test('a file that can’t be opened is told, and nothing is lost', async ({ page }) => {
  await openPage(page);
  const choosing = page.waitForEvent('filechooser');
  await chooseProject(page, 'Open...');
  await (await choosing).setFiles({
    name: 'odd.lamploom.json',
    mimeType: 'application/json',
    buffer: Buffer.from(sampleText.replace('"ledCount": 33', '"ledCount": -1')),
  });
  await expect(page.getByRole('alert')).toContainText('odd.lamploom.json can');
  await expect(page.getByRole('alert')).toContainText('/runs/0/ledCount');
  expect(withoutDay(await savedText(page))).toBe(withoutDay(sampleText));
});

test('a field takes comma and point, refuses what it can’t read, and one undo takes back a held arrow', async ({
  page,
}) => {
  await openPage(page);
  await pause(page);
  await stage(page, 'Runs');
  await runShape(page, 'tent-3').press('Enter');
  const x = field(page, 'First LED x, mm');
  const before = await x.inputValue();
  await x.fill('1,5');
  await x.press('Enter');
  await expect(x).toHaveValue('1.5');
  await x.fill('-5');
  await x.press('Enter');
  await expect(x).toHaveValue('-5.0');

  // Refused on Enter, kept to be mended with the reason in words, gone with Escape.
  for (const text of ['abc', '1e2', '20000']) {
    await x.fill(text);
    await x.press('Enter');
    await expect(x).toHaveAttribute('aria-invalid', 'true');
    await expect(x).toHaveValue(text);
    await expect(x).toHaveAttribute('title', 'Not taken: a number from -10000 to 10000 mm is wanted');
    await expect(x).toHaveAccessibleDescription('Not taken: a number from -10000 to 10000 mm is wanted.');
  }
  await x.press('Escape');
  await expect(x).toHaveValue('-5.0');
  await expect(x).toHaveAttribute('aria-invalid', 'false');
  // Leaving the field hides nothing either.
  await x.fill('abc');
  await x.blur();
  await expect(x).toHaveValue('abc');
  await expect(x).toHaveAttribute('aria-invalid', 'true');
  await expect(page.getByText('Not taken: a number from -10000 to 10000 mm is wanted.')).toBeVisible();
  await x.focus();
  await x.press('Escape');
  await expect(x).toHaveValue('-5.0');

  // No button acts on the figure that stood there before.
  const copies = field(page, 'Copies');
  await copies.fill('0');
  await page.getByRole('button', { name: 'Copy', exact: true }).click();
  await expect(copies).toBeFocused();
  await expect(copies).toHaveValue('0');
  await copies.press('Escape');

  // Held: repeated presses without letting go.
  await x.focus();
  for (let i = 0; i < 5; i++) await page.keyboard.down('ArrowUp');
  await page.keyboard.up('ArrowUp');
  await expect(x).toHaveValue('0.0');
  // The field keeps the focus, and as nothing is typed in it, undo is the document's.
  await page.keyboard.press('Control+z');
  await expect(x).toHaveValue('-5.0');
  await page.keyboard.press('Control+z');
  await page.keyboard.press('Control+z');
  await expect(x).toHaveValue(before);
  expect(withoutDay(await savedText(page))).toBe(withoutDay(sampleText));

  const spare = field(page, 'Spare LEDs, kept dark');
  await spare.fill('3, 7-9');
  await spare.press('Enter');
  await spare.fill('99');
  await spare.press('Enter');
  await expect(spare).toHaveValue('99');
  await expect(spare).toHaveAttribute('aria-invalid', 'true');
  const run = JSON.parse(await savedText(page)).runs.find((one: { id: string }) => one.id === 'tent-3');
  expect(run.spareLeds).toEqual([3, 7, 8, 9]);
});

test('what is typed for one clip stays with it when another is pressed, and Escape in a drag leaves nothing to redo', async ({
  page,
}) => {
  await openPage(page);
  await pause(page);
  await stage(page, 'Lampshows');
  const clips = page.locator('[data-clip]');
  await clips.nth(0).press('Enter');
  const starts = field(page, 'Starts, s');
  const first = JSON.parse(sampleText);
  const saved = async () => JSON.parse(await savedText(page)).lampshows[0].rows;
  await starts.fill('0,25');
  await clips.nth(1).click();
  const rows = await saved();
  const flat = (all: { clips: { startMs: number }[] }[]) => all.flatMap((row) => row.clips);
  expect(flat(rows)[0]!.startMs).toBe(250);
  expect(flat(rows)[1]!.startMs).toBe(flat(first.lampshows[0].rows)[1]!.startMs);

  const box = (await clips.nth(1).boundingBox())!;
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width / 2 + 60, box.y + box.height / 2, { steps: 5 });
  await page.keyboard.press('Escape');
  await page.mouse.up();
  await expect(page.getByRole('button', { name: /^Redo/ })).toBeDisabled();
  expect(await saved()).toEqual(rows);
});
