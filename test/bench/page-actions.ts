// What is done on the page while it is measured or profiled: playing, dragging a run, moving it by keys.
import type { Page } from '@playwright/test';
import { toStage, toView, watched } from './page-browser.ts';

/** Every step moves the run by more than the half millimetre that it snaps to. */
const stepPx = 3;
const stepsOut = 30;

/**
 * Presses on the run, moves it there and back again, one move for every two pictures, and lets go. `pressed` is called once the press has been
 * drawn, `step` hears the count of changes.
 */
export async function dragThereAndBack(
  page: Page,
  run: string,
  step: (moves: number) => Promise<void> = async () => undefined,
  pressed: () => Promise<void> = async () => undefined,
): Promise<void> {
  const box = (await page.locator(`[data-run="${run}"]`).boundingBox())!;
  const [x, y] = [box.x + box.width * 0.6, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  await pressed();
  const away = Array.from({ length: stepsOut }, (_, i) => (i + 1) * stepPx);
  for (const byPx of [...away, ...away.toReversed().slice(1), 0]) {
    await page.mouse.move(x + byPx / 2, y + byPx);
    await step((await watched(page)).moves);
  }
  await page.mouse.up();
}

/** Chooses the run in stage Runs and shows the panel lit. */
export async function chooseLit(page: Page, run: string): Promise<void> {
  await toStage(page, 'Runs');
  await page.locator(`[data-run="${run}"]`).press('Enter');
  await toView(page, 'Lit');
  await page.locator('[data-glass] canvas').waitFor();
  await page.locator(`[data-run="${run}"]`).focus();
}

/** Moves the run by a millimetre and gives how long that took to be drawn and to be shown, ms. */
export async function nudge(page: Page, key: string): Promise<{ drawnMs: number; shownMs: number }> {
  await page.keyboard.press(key);
  await page.waitForFunction(() => globalThis.watch.key?.shownMs !== undefined);
  const { key: noted } = await watched(page);
  return {
    drawnMs: noted!.drawnMs! - noted!.pressedMs,
    shownMs: noted!.shownMs! - noted!.pressedMs,
  };
}
