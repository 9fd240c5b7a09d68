// Once through the whole job as a builder does it: new project, artwork, runs, chain, area, a show with three clips, power, export; and the
// exported program, run by an emulated board, sends what the page showed.
import { crc32 } from 'node:zlib';
import { runInAvr8js } from '../board/board-avr8js.ts';
import {
  chooseProject,
  downloadOf,
  expect,
  glassOf,
  openPage,
  panelOnScreen,
  powerAnswerFor,
  root,
  savedText,
  stage,
  test,
  timeSlider,
  voltsInWords,
  withoutPickers,
} from './page.ts';

const dataPin = 6;
/** Frames that are compared: of the steady glow alone, and of the time when the band and then the stars move over it. */
const steadyFrames = [0, 1, 30];
const movingFrames = [150, 181, 290, 340];
const comparedFrames = [...steadyFrames, ...movingFrames];

test('from an empty project to a program that sends what the screen shows', async ({ page }) => {
  test.setTimeout(180_000);
  await withoutPickers(page);
  await openPage(page);
  await chooseProject(page, 'New project');
  await expect(page.getByRole('heading', { name: 'Artwork and panel' })).toBeVisible();
  // Without LEDs there is nothing to measure.
  await expect(page.locator('[data-sign="lowest"]')).toHaveText('Lowest - V');
  await expect(page.locator('[data-sign="speed"]')).toHaveText('- frames/s');

  const inspector = page.getByRole('complementary');
  const set = async (name: string, value: string) => {
    await inspector.getByRole('textbox', { name, exact: true }).fill(value);
    await inspector.getByRole('textbox', { name, exact: true }).press('Enter');
  };
  // Artwork of 300 x 200 mm on a panel set to 300 mm: the height follows the picture.
  await set('Panel width, mm', '300');
  const choosing = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Place a picture...' }).click();
  await (await choosing).setFiles(`${root}/samples/artwork/first-light.svg`);
  // It is taken to be as wide as the panel unless another width is typed.
  await expect(page.getByRole('textbox', { name: 'The picture is this wide, mm' })).toHaveValue('300.0');
  await page.keyboard.press('Enter');
  await expect(inspector.getByRole('textbox', { name: 'Panel height, mm' })).toHaveValue('200.0');
  await set('Air gap, mm', '20');

  // Two runs drawn by mouse, one added by its button.
  await stage(page, 'Runs');
  const { at } = await panelOnScreen(page, 300);
  const draw = async (fromMm: readonly [number, number], toMm: readonly [number, number]) => {
    await page.getByText('Draw a run', { exact: true }).click();
    const from = at(...fromMm);
    const to = at(...toMm);
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move(to.x, to.y, { steps: 6 });
    await page.mouse.up();
  };
  await draw([30, 60], [265, 60]);
  // 235 mm hold 14 whole pitches of 16.667 mm: 15 LEDs.
  await expect(inspector.getByRole('textbox', { name: 'LEDs', exact: true })).toHaveValue('15');
  await draw([265, 120], [30, 120]);
  await expect(inspector.getByRole('textbox', { name: 'Arrow points left, °' })).toHaveValue('180.0');
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Add a run' }).click();
  await set('First LED y, mm', '170');
  await set('LEDs', '10');

  // The run that was added last comes to stand second in the chain.
  await set('Place in the chain', '2');
  await expect(page.getByText('Line 1, no pin: 40 LEDs in 3 runs')).toBeVisible();

  // An area of two runs. The first Escape leaves the field, the second the run.
  await page.keyboard.press('Escape');
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Add an area of runs' }).click();
  await inspector.getByRole('textbox', { name: 'Name' }).fill('Two rows');
  await inspector.getByRole('textbox', { name: 'Name' }).press('Enter');
  await inspector.getByRole('checkbox', { name: 'run', exact: true }).check();
  await inspector.getByRole('checkbox', { name: 'run-2' }).check();
  await expect(inspector.getByRole('heading', { name: 'Two rows' })).toBeVisible();
  await expect(inspector.getByText('30 LEDs')).toBeVisible();

  // Three clips: a glow over everything, a band over the two rows, stars that begin later.
  await stage(page, 'Lampshows');
  if (await page.getByRole('button', { name: 'Pause' }).isVisible())
    await page.getByRole('button', { name: 'Pause' }).click();
  await timeSlider(page).fill('0');
  for (const [effect, starts, area] of [
    ['Glow', '0', 'Whole panel'],
    ['Moving band', '0.5', 'Two rows'],
    ['Stars', '1', 'Whole panel'],
  ] as const) {
    await page.getByRole('button', { name: 'Add a clip' }).click();
    await inspector.getByRole('combobox', { name: 'Effect' }).selectOption({ label: effect });
    await inspector.getByRole('combobox', { name: 'Area' }).selectOption({ label: area });
    await set('Starts, s', starts);
    await set('Lasts, s', '5');
    if (effect !== 'Glow') await page.getByText('Add', { exact: true }).click();
  }

  // Power: a feed by mouse, and the figures that the command line computes.
  await stage(page, 'Power');
  await page.getByText('Add a feed', { exact: true }).click();
  const volts = await panelOnScreen(page, 300);
  const first = volts.at(30, 60);
  await page.mouse.click(first.x, first.y);
  await expect(page.getByRole('heading', { name: 'Feed F1' })).toBeVisible();
  const power = powerAnswerFor(await savedText(page));
  const worst = page.locator('[data-sign="worst-case"]');
  await expect(worst).toHaveText(`Worst case ${power.worstCase.amps.toFixed(2)} A`);
  await expect(page.locator('[data-sign="lowest"]')).toContainText(voltsInWords(power.worstCase.lowestVolts));

  // Board: without a pin there is no program; with one there is.
  await stage(page, 'Board');
  const saveHex = page.getByRole('button', { name: 'Save .hex' });
  await expect(saveHex).toBeDisabled();
  await page.getByRole('combobox', { name: 'Line 1, 40 LEDs: pin' }).selectOption({ label: `D${dataPin}` });
  await expect(saveHex).toBeEnabled();
  const hex = await downloadOf(page, () => saveHex.click());
  expect(hex.name).toBe('atmega328p-old.hex');

  const shown = new Map<number, string>();
  await stage(page, 'Lampshows');
  for (const frame of comparedFrames) {
    await timeSlider(page).fill(String(frame));
    await expect(glassOf(page)).toHaveAttribute('data-frame', String(frame));
    shown.set(frame, (await glassOf(page).getAttribute('data-wire-crc'))!);
  }
  // Moving light is another in every frame, or the comparison would mean little.
  const moving = movingFrames.map((frame) => shown.get(frame));
  expect(new Set([...moving, shown.get(0)]).size).toBe(movingFrames.length + 1);

  const run = runInAvr8js(hex.bytes.toString('ascii'), {
    lines: [{ pin: dataPin }],
    // One black frame after power-up comes before frame 0.
    frames: Math.max(...comparedFrames) + 2,
    maxCycles: 16e6 * 20,
  });
  const { frames } = run.lines[0]!;
  for (const [frame, crc] of shown) {
    const sent = Uint8Array.from(frames[frame + 1]!.bytes);
    expect(sent).toHaveLength(40 * 3);
    expect(crc32(sent).toString(16).padStart(8, '0'), `frame ${frame}`).toBe(crc);
  }

  // Everything as a zip: a standard program finds the files whole.
  await stage(page, 'Board');
  const zip = await downloadOf(page, () => page.getByRole('button', { name: 'Save everything' }).click());
  expect(zip.name).toBe('new-panel.zip');
  expect(zip.bytes.subarray(0, 4).toString('latin1')).toBe('PK\u0003\u0004');
  expect(zip.bytes.includes('workshop/backing.svg')).toBe(true);
  expect(zip.bytes.includes('build-sheet.pdf')).toBe(true);
  expect(zip.bytes.includes('firmware/atmega328p-old.hex')).toBe(true);
});
