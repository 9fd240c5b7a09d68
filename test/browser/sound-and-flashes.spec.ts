// The sound guide and the flash analysis in a real browser. Expected: beats of a sound made of clicks lie where the clicks are; a panel that goes white and
// black four times a second breaks the rule of three (WCAG 2.2, 2.3.1), three times a second does not.

import type { Page } from '@playwright/test';
import { unzipSync } from 'fflate';
import type { Project } from '../../src/project/index.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';
import {
  chooseProject,
  downloadOf,
  expect,
  frameOf,
  openPage,
  pause,
  savedText,
  stage,
  test,
  withoutPickers,
} from './page.ts';

/** 16-bit mono with a short click at each of these moments. Layout: RIFF WAVE, PCM. */
function wav(clicksMs: readonly number[], lastsMs: number): Buffer {
  const sampleRate = 8000;
  const count = (lastsMs * sampleRate) / 1000;
  const bytes = Buffer.alloc(44 + 2 * count);
  bytes.write('RIFF', 0);
  bytes.writeUInt32LE(36 + 2 * count, 4);
  bytes.write('WAVEfmt ', 8);
  bytes.writeUInt32LE(16, 16);
  bytes.writeUInt16LE(1, 20);
  bytes.writeUInt16LE(1, 22);
  bytes.writeUInt32LE(sampleRate, 24);
  bytes.writeUInt32LE(2 * sampleRate, 28);
  bytes.writeUInt16LE(2, 32);
  bytes.writeUInt16LE(16, 34);
  bytes.write('data', 36);
  bytes.writeUInt32LE(2 * count, 40);
  for (const ms of clicksMs)
    for (let i = 0; i < 400; i++) {
      const at = Math.round((ms * sampleRate) / 1000) + i;
      if (at < count)
        bytes.writeInt16LE(Math.round(20_000 * Math.exp(-i / 120) * Math.sin(i / 2)), 44 + 2 * at);
    }
  return bytes;
}

const inspector = (page: Page) => page.getByRole('complementary', { name: 'Inspector' });

async function openProject(page: Page, project: Project): Promise<void> {
  const choosing = page.waitForEvent('filechooser');
  await chooseProject(page, 'Open...');
  await (await choosing).setFiles({
    name: 'flashes.lamploom.json',
    mimeType: 'application/json',
    buffer: Buffer.from(JSON.stringify(project)),
  });
  await expect(page.getByRole('button', { name: `Project: ${project.name}` })).toBeVisible();
}

/** Black and white in turn over the whole panel. */
const blinking = (holdMs: number): Project =>
  projectOf({
    runs: rowsOfStrip(60),
    lampshows: [
      {
        id: 'attract',
        lengthMs: 16 * holdMs,
        rows: [
          {
            id: 'row',
            clips: [
              {
                startMs: 0,
                lengthMs: 16 * holdMs,
                area: 'everything',
                gradient: 'ember',
                blend: 'over',
                effect: {
                  kind: 'painted',
                  columns: 1,
                  rows: 1,
                  palette: ['#000000', '#ffffff'],
                  frames: [
                    { holdMs, cells: '0' },
                    { holdMs, cells: '1' },
                  ],
                },
              },
            ],
          },
        ],
      },
    ],
  });

test('a sound lies above the rows, its beats are found, and the project knows nothing of it', async ({
  page,
}) => {
  await withoutPickers(page);
  await openPage(page);
  await pause(page);
  const clicks = Array.from({ length: 24 }, (_, i) => 250 + 500 * i);
  const choosing = page.waitForEvent('filechooser');
  await inspector(page).getByRole('button', { name: 'Choose a sound' }).click();
  await (await choosing).setFiles({ name: 'march.wav', mimeType: 'audio/wav', buffer: wav(clicks, 12_500) });
  const waveform = page.getByRole('img', { name: 'Waveform of march.wav' });
  await expect(waveform).toBeVisible();
  // Taller at a click than between two of them: the columns' heights differ.
  const heights = await waveform.evaluate((element) => {
    const { width, height } = element as HTMLCanvasElement;
    const { data } = (element as HTMLCanvasElement).getContext('2d')!.getImageData(0, 0, width, height);
    return Array.from({ length: width }, (_, x) => {
      let drawn = 0;
      for (let y = 0; y < height; y++) if (data[4 * (y * width + x) + 3]! > 0) drawn++;
      return drawn;
    });
  });
  expect(Math.max(...heights)).toBeGreaterThan(8);
  expect(Math.min(...heights)).toBeLessThanOrEqual(2);

  await inspector(page).getByRole('button', { name: 'Find beats' }).click();
  const text = await savedText(page);
  expect(text).not.toContain('march');
  const { beatsMs } = (JSON.parse(text) as Project).lampshows[0]!;
  for (const ms of clicks.slice(2, -2))
    expect(Math.min(...beatsMs!.map((one) => Math.abs(one - ms)))).toBeLessThanOrEqual(30);

  // While the show plays the guide follows it; nothing is to complain.
  await page.keyboard.press('Space');
  await page.waitForTimeout(600);
  await page.keyboard.press('Space');
  await inspector(page).getByRole('button', { name: 'Take it away' }).click();
  await expect(waveform).toHaveCount(0);
});

test('flashes are told in the vital signs, shown on the ruler, and repeated with the caution by the export', async ({
  page,
}) => {
  test.setTimeout(120_000);
  await withoutPickers(page);
  await openPage(page);
  await pause(page);
  const sign = page.locator('[data-sign="flashes"]');
  await openProject(page, blinking(125));
  await expect(sign).toContainText('found: 1', { timeout: 30_000 });
  await expect(page.locator('[data-sign="findings"]')).toContainText(/[1-9]\d* findings?/);
  const mark = page.locator('[data-flash]');
  await expect(mark).toHaveAttribute('data-flash', 'general broadcast');
  await page.getByRole('slider', { name: 'Time' }).fill('40');
  await mark.click();
  // The first second that is too many begins with the show, give or take a frame.
  await expect.poll(() => frameOf(page)).toBeLessThan(5);
  await expect(inspector(page)).toContainText('Flashing light can cause seizures');

  await stage(page, 'Board');
  const zip = await downloadOf(page, () => page.getByRole('button', { name: 'Save everything' }).click());
  const report = JSON.parse(new TextDecoder().decode(unzipSync(zip.bytes)['report.json']!));
  expect(report.findings.map(({ code }: { code: string }) => code)).toContain('flashes');
  expect(report.flashes.caution).toContain('Flashing light can cause seizures');

  await stage(page, 'Lampshows');
  await openProject(page, { ...blinking(167), name: 'Three a second' });
  await expect(sign).toContainText('none found', { timeout: 30_000 });
  await expect(mark).toHaveCount(0);
});
