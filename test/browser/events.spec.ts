// A game played in a real browser: events pressed by mouse and by key, what the glass then shows against the command line's frames for the same
// presses; kept as a test, replayed, and told as differing after an edit; events and inputs edited, findings that lead there.
// Which show has the panel follows from the director's rules (firmware-templates/player/SPEC.md) and the sample's events: start has a priority of 80,
// jackpot of 120.
import AxeBuilder from '@axe-core/playwright';
import type { Locator, Page } from '@playwright/test';
import type { Project } from '../../src/project/index.ts';
import {
  expect,
  expectedCrc,
  frameMsOf,
  frameOf,
  glassOf,
  openPage,
  pause,
  savedText,
  stage,
  test,
  withoutPickers,
} from './page.ts';

const inspector = (page: Page): Locator => page.getByRole('complementary', { name: 'Inspector' });
const field = (page: Page, name: string): Locator =>
  inspector(page).getByRole('textbox', { name, exact: true });
const eventButton = (page: Page, id: string): Locator => page.locator(`[data-event="${id}"]`);
const since = (page: Page): Locator => page.getByRole('slider', { name: 'Time since power-up' });
const director = (page: Page, label: string): Locator =>
  page.locator('[data-director] div').filter({ hasText: label }).locator('dd');
const paneNamed = (page: Page, name: string) =>
  inspector(page).getByRole('group', { name: 'Of the game' }).getByText(name, { exact: true }).click();

async function set(page: Page, name: string, text: string): Promise<void> {
  await field(page, name).fill(text);
  await field(page, name).press('Enter');
}

async function goTo(page: Page, frame: number): Promise<void> {
  await since(page).fill(String(frame));
  await expect(glassOf(page)).toHaveAttribute('data-frame', String(frame));
}

const crcOf = async (page: Page): Promise<string> =>
  (await glassOf(page).getAttribute('data-wire-crc')) ?? 'plays';

const projectNow = async (page: Page): Promise<Project> => JSON.parse(await savedText(page)) as Project;

async function playGame(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Play as the game' }).click();
  await expect(glassOf(page)).toHaveAttribute('data-game', 'true');
}

test.beforeEach(async ({ page }) => {
  await withoutPickers(page);
  await openPage(page);
  await pause(page);
});

test('events by mouse and by key: the glass shows what the command line sends for the same presses', async ({
  page,
}) => {
  await playGame(page);
  await goTo(page, 40);
  await page.keyboard.press('1');
  await goTo(page, 140);
  await eventButton(page, 'jackpot').click();
  await goTo(page, 160);
  await eventButton(page, 'ball-lost').focus();
  await page.keyboard.press('Enter');
  const events = '40:start,140:jackpot,160:ball-lost';
  // Before, at and after the presses; in the crossfade of 200 ms; and out of order.
  for (const frame of [145, 39, 40, 160, 139, 300]) {
    await goTo(page, frame);
    expect(await crcOf(page), `frame ${frame}`).toBe(expectedCrc('attract', frame, undefined, events));
  }
  await expect(glassOf(page)).toHaveAttribute('data-show', 'jackpot');
  await expect(director(page, 'Has the panel')).toHaveText('Jackpot');
  await expect(director(page, 'Waits')).toHaveText('Ball lost');
  await expect(director(page, 'Afterwards')).toHaveText('Game start goes on where it was');
  await expect(eventButton(page, 'ball-lost')).toContainText('waits');
  await goTo(page, 145);
  await expect(director(page, 'Fades out')).toHaveText(/^Game start; \d+ % of Jackpot is there$/);
  // The pixels follow: the glass of one frame with and without the press.
  const picture = () => page.locator('[data-glass]').screenshot();
  await goTo(page, 200);
  const withJackpot = await picture();
  await page.getByRole('button', { name: 'Delete press 2, Jackpot' }).click();
  await expect.poll(async () => (await picture()).equals(withJackpot)).toBe(false);
  expect(await crcOf(page)).toBe(expectedCrc('attract', 200, undefined, '40:start,160:ball-lost'));
});

test('while it plays a press counts at the frame that is due, and the moment is told', async ({ page }) => {
  const frameMs = frameMsOf('attract');
  await playGame(page);
  await page.keyboard.press('Space');
  await expect.poll(() => frameOf(page)).toBeGreaterThan(20);
  await page.keyboard.press('4');
  await expect(glassOf(page)).toHaveAttribute('data-show', 'multiball');
  await eventButton(page, 'tilt').click();
  await expect(glassOf(page)).toHaveAttribute('data-show', 'tilt');
  await page.keyboard.press('Space');
  await expect(page.getByRole('button', { name: 'Play', exact: true })).toBeVisible();
  const at = async (name: string) =>
    Math.round(Number(await field(page, name).inputValue()) * 1000) / frameMs;
  const multiball = await at('Press 1, Multiball, at, s');
  const tilt = await at('Press 2, Tilt, at, s');
  expect(multiball).toBeGreaterThan(20);
  expect(Number.isInteger(multiball)).toBe(true);
  expect(tilt).toBeGreaterThanOrEqual(multiball);
  const frame = await frameOf(page);
  const events = `${multiball}:multiball,${tilt}:tilt`;
  expect(await crcOf(page)).toBe(expectedCrc('attract', frame, undefined, events));
  // Keys of shows press nothing else, and G leads back.
  await page.keyboard.press('g');
  await expect(glassOf(page)).toHaveAttribute('data-game', 'false');
  await page.keyboard.press('2');
  await expect(glassOf(page)).toHaveAttribute('data-show', 'game-start');
});

test('a game is kept as a test, replayed, told as differing after an edit, and expected anew', async ({
  page,
}) => {
  await playGame(page);
  await goTo(page, 40);
  await page.keyboard.press('1');
  await goTo(page, 140);
  await page.keyboard.press('2');
  await goTo(page, 240);
  await page.getByRole('button', { name: 'Keep as a test' }).click();
  const log = page.locator('[data-log="test-2"]');
  await expect(log).toContainText('Plays as expected.');
  await field(page, 'Name of Test 2').fill('Jackpot in the start');
  await field(page, 'Name of Test 2').press('Enter');
  const text = await savedText(page);
  const { pressLogs } = JSON.parse(text) as Project;
  // Behind the sample's own.
  expect(pressLogs!.at(-1)).toMatchObject({
    id: 'test-2',
    name: 'Jackpot in the start',
    presses: [{ event: 'start' }, { event: 'jackpot' }],
    expected: [{ lampshow: 'attract' }, { lampshow: 'game-start' }, { lampshow: 'jackpot' }],
  });

  await page.getByRole('button', { name: 'New game' }).click();
  await goTo(page, 150);
  await expect(glassOf(page)).toHaveAttribute('data-show', 'attract');
  await page.getByRole('button', { name: 'Replay Jackpot in the start' }).click();
  await page.getByRole('button', { name: 'Pause' }).click();
  await goTo(page, 150);
  expect(await crcOf(page)).toBe(expectedCrc('attract', 150, text, 'test-2'));
  await expect(glassOf(page)).toHaveAttribute('data-show', 'jackpot');

  // Its presses are the document's now: one is moved by its field, and undo moves it back.
  await paneNamed(page, 'Now');
  const frameMs = frameMsOf('attract');
  await set(page, 'Press 2, Jackpot, at, s', String((160 * frameMs) / 1000));
  await expect(glassOf(page)).toHaveAttribute('data-show', 'game-start');
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect(glassOf(page)).toHaveAttribute('data-show', 'jackpot');

  // D-5: with 79 the jackpot is below the 80 of what plays.
  await paneNamed(page, 'Events');
  await page.getByRole('button', { name: 'Edit Jackpot' }).click();
  await set(page, 'Priority', '79');
  await page.getByRole('button', { name: 'All events' }).click();
  await paneNamed(page, 'Tests');
  await expect(log).toContainText('Plays differently now.');
  await expect(log).toContainText(
    `From ${((140 * frameMs) / 1000).toFixed(2)} s to ${((241 * frameMs) / 1000).toFixed(2)} s "Jackpot" was expected; "Game start" has the panel.`,
  );
  await expect(glassOf(page)).toHaveAttribute('data-show', 'game-start');
  await page.getByRole('button', { name: /^Undo/ }).click();
  await expect(log).toContainText('Plays as expected.');
  await page.getByRole('button', { name: /^Redo/ }).click();
  await page.getByRole('button', { name: 'Take what plays now as expected of Jackpot in the start' }).click();
  await expect(log).toContainText('Plays as expected.');
  expect((await projectNow(page)).pressLogs!.at(-1)!.expected).toMatchObject([
    { lampshow: 'attract' },
    { lampshow: 'game-start' },
  ]);
  await page.getByRole('button', { name: 'Delete Jackpot in the start' }).click();
  await expect(log).toBeHidden();
  // What was replayed is still the game.
  await expect(glassOf(page)).toHaveAttribute('data-show', 'game-start');
});

test('events and inputs are edited in figures and by keys; findings lead there; axe finds nothing', async ({
  page,
}) => {
  const axe = async () => {
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join()}`)).toEqual([]);
  };
  await page.keyboard.press('g');
  await page.keyboard.press('3');
  await axe();
  await paneNamed(page, 'Events');
  await axe();
  await page.getByRole('button', { name: 'New game event' }).click();
  // Each show but the attract mode has its event already: the first of them gets another.
  await expect(inspector(page).getByRole('heading', { level: 2 })).toHaveText('Game start 2');
  await set(page, 'Name', 'Ball saved');
  await inspector(page).getByLabel('Starts').selectOption('multiball');
  await set(page, 'Priority', '90');
  await inspector(page).getByLabel('When another plays').selectOption('queue');
  await inspector(page).getByLabel('What it interrupted').selectOption('resume');
  await set(page, 'Plays, x', '3');
  await set(page, 'Crossfade, ms', '250');
  await set(page, 'Delay for a late sound, ms', '120');
  await set(page, 'Heard again after, ms', '2000');
  await inspector(page).getByLabel('Comes with a value').check();
  await inspector(page).getByLabel('Pin, held low for 60 ms').selectOption('7');
  await expect(inspector(page)).toContainText('Never wire a lamp, coil or flasher line straight to a pin');
  await axe();
  expect((await projectNow(page)).gameEvents!.at(-1)).toEqual({
    id: 'game-start-2',
    name: 'Ball saved',
    lampshow: 'multiball',
    priority: 90,
    when: 'queue',
    resume: true,
    plays: 3,
    crossfadeMs: 250,
    delayMs: 120,
    retriggerMs: 2000,
    hasValue: true,
    pin: 7,
  });
  // Its value comes with the press, and its delay runs: 120 ms are more than five frames of 20 ms.
  await page.getByRole('slider', { name: 'Value of Ball saved' }).fill('200');
  await page.getByRole('button', { name: 'All events' }).click();
  await page.getByRole('button', { name: 'Move Ball saved up' }).click();
  await paneNamed(page, 'Now');
  await page.keyboard.press('7');
  await expect(director(page, 'Delay runs')).toHaveText('Ball saved, in 0.12 s');
  await expect(director(page, 'Value')).toHaveText('200');
  await expect(field(page, 'Value of press 2')).toHaveValue('200');

  // Without the serial port nothing starts the others, and each of those findings leads to its event.
  await paneNamed(page, 'Events');
  await page.getByRole('button', { name: 'Inputs' }).click();
  await inspector(page).getByLabel('Serial port').uncheck();
  await inspector(page).getByRole('combobox', { name: 'Pin' }).selectOption('8');
  await set(page, 'Middle step, %', '55');
  await page.getByRole('slider', { name: 'Room light' }).fill('1');
  await axe();
  const { inputs } = await projectNow(page);
  expect(inputs).toEqual({ roomPin: 8, roomPercents: [100, 55, 30] });
  await stage(page, 'Power');
  await page
    .locator('[data-sign="findings"], button')
    .filter({ hasText: /^\d+ findings?$/ })
    .first()
    .click();
  await page.getByRole('button', { name: /Nothing on the board can start the game event "jackpot"/ }).click();
  await expect(page.locator('[data-stage="lampshows"]')).toBeVisible();
  await expect(inspector(page).getByRole('heading', { level: 2 })).toHaveText('Jackpot');
  await expect(inspector(page)).toContainText('Give it a pin, or turn the serial events on.');
  await page.keyboard.press('Escape');
  await page.keyboard.press('g');
  // From the stage Board too.
  await stage(page, 'Board');
  await axe();
  await page.getByRole('button', { name: 'Tilt', exact: true }).click();
  await expect(inspector(page).getByRole('heading', { level: 2 })).toHaveText('Tilt');
  await page.keyboard.press('Delete');
  await expect
    .poll(async () => (await projectNow(page)).gameEvents!.map(({ id }) => id))
    .not.toContain('tilt');
});
