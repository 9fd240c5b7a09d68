// WebGL draws what the reference draws, within 2 % of linear light, in the system's Chromium with its software card. The page under test is
// no part of the shipped one: it is bundled here from src/light and light-page/proof.ts.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, type Page, test } from '@playwright/test';
import type { Project } from '../../src/project/index.ts';
import { bundled, openBundle, softwareCard } from './light-page/bundle.ts';
import type { Proof } from './light-page/proof.ts';
import { root } from './page.ts';

test.use({ launchOptions: softwareCard });
test.describe.configure({ timeout: 120_000 });

const most = 0.02;

/** Some of what the samples show, the brightest and the most colourful; frame numbers are arbitrary. */
const frames = {
  'midnight-carnival': [
    ['attract', 236],
    ['jackpot', 40],
  ],
  'first-light': [
    ['attract', 100],
    ['game-start', 30],
  ],
  'deep-sea': [
    ['attract', 150],
    ['jackpot', 25],
  ],
} as const;
type Sample = keyof typeof frames;

let script = '';
test.beforeAll(async () => {
  script = await bundled('proof.ts');
});
const openProof = (page: Page): Promise<void> => openBundle(page, script);

const pathOf = (sample: Sample): string => `samples/${sample}.lamploom.json`;

const setUp = (
  page: Page,
  sample: Sample,
  plantedInk = false,
  inBox: Partial<Project['panel']> = {},
): Promise<number> =>
  page.evaluate(
    ({ text, planted, box }) => (globalThis as unknown as { proof: Proof }).proof.setUp(text, planted, box),
    { text: readFileSync(join(root, pathOf(sample)), 'utf8'), planted: plantedInk, box: inBox },
  );

/** One frame as the command line writes it. */
function frameBytes(sample: Sample, show: string, frame: number): number[] {
  const folder = mkdtempSync(join(tmpdir(), 'lamploom-light-'));
  try {
    const out = join(folder, 'frame.bin');
    const args = [
      'frames',
      pathOf(sample),
      '--show',
      show,
      '--from',
      `${frame}`,
      '--count',
      '1',
      '--out',
      out,
    ];
    execFileSync('node', ['src/cli/launch.mjs', ...args], { cwd: root });
    return [...readFileSync(out)];
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const white = (ledCount: number): number[] => Array<number>(3 * ledCount).fill(255);
const oneLed = (ledCount: number): number[] =>
  Array.from({ length: 3 * ledCount }, (_, i) => (Math.floor(i / 3) === Math.floor(ledCount / 2) ? 255 : 0));

for (const sample of Object.keys(frames) as Sample[])
  test(`${sample}: WebGL and the reference agree within 2 % of linear light`, async ({ page }) => {
    await openProof(page);
    const ledCount = await setUp(page, sample);
    const pictures: [string, number[]][] = [
      ['white', white(ledCount)],
      ['one LED', oneLed(ledCount)],
      ...frames[sample].map(([show, frame]): [string, number[]] => [
        `${show} ${frame}`,
        frameBytes(sample, show, frame),
      ]),
    ];
    for (const [name, bytes] of pictures) {
      const light = await page.evaluate(
        (all) => (globalThis as unknown as { proof: Proof }).proof.compareLight(Uint8Array.from(all)),
        bytes,
      );
      // Long exposures bring dark places to where 8 bits are fine, a short one white to below the shoulder.
      const dark = await page.evaluate(
        (all) =>
          (globalThis as unknown as { proof: Proof }).proof.comparePictures(
            Uint8Array.from(all),
            0,
            [-2, 0, 2, 4, 6],
          ),
        bytes,
      );
      const lit = await page.evaluate(
        (all) =>
          (globalThis as unknown as { proof: Proof }).proof.comparePictures(Uint8Array.from(all), 0.6, [0]),
        bytes,
      );
      test.info().annotations.push({
        type: 'light apart',
        description: `${name}: texels ${(100 * light.worstShare).toFixed(3)} %, picture ${(100 * dark.worstShare).toFixed(2)} % in the dark (${dark.worstCodes} codes), ${(100 * lit.worstShare).toFixed(2)} % in a lit room (${lit.worstCodes} codes)`,
      });
      expect(light.texels, name).toBeGreaterThan(1000);
      expect(light.worstShare, name).toBeLessThan(most);
      expect(dark.comparedChannels, name).toBeGreaterThan(10_000);
      expect(dark.worstShare, name).toBeLessThan(most);
      expect(lit.comparedChannels, name).toBeGreaterThan(1000);
      expect(lit.worstShare, name).toBeLessThan(most);
      expect(Math.max(dark.worstCodes, lit.worstCodes), name).toBeLessThanOrEqual(1);
    }
  });

/** Walls across the panel, some that meet, one that ends in the open. */
const boxes: readonly (readonly [string, Partial<Project['panel']>])[] = [
  [
    'white walls up to the sheet',
    {
      baffles: {
        thicknessMm: 3,
        finish: 'white-paint',
        walls: [
          { from: { xMm: 0, yMm: 97 }, to: { xMm: 300, yMm: 97 } },
          { from: { xMm: 142, yMm: 0 }, to: { xMm: 142, yMm: 97 } },
          { from: { xMm: 60, yMm: 97 }, to: { xMm: 85, yMm: 160 } },
        ],
      },
    },
  ],
  [
    'wooden walls below the sheet, and deep channels',
    {
      backing: { thicknessMm: 12, channelDepthMm: 6 },
      baffles: {
        thicknessMm: 6,
        belowSheetMm: 8,
        walls: [
          { from: { xMm: 0, yMm: 97 }, to: { xMm: 300, yMm: 97 } },
          { from: { xMm: 142, yMm: 0 }, to: { xMm: 150, yMm: 200 } },
        ],
      },
    },
  ],
];

for (const [what, box] of boxes)
  test(`${what}: WebGL and the reference agree within 2 % of linear light`, async ({ page }) => {
    await openProof(page);
    const ledCount = await setUp(page, 'first-light', false, box);
    for (const [name, bytes] of [
      ['white', white(ledCount)],
      ['one LED', oneLed(ledCount)],
    ] as const) {
      const light = await page.evaluate(
        (all) => (globalThis as unknown as { proof: Proof }).proof.compareLight(Uint8Array.from(all)),
        bytes,
      );
      const picture = await page.evaluate(
        (all) =>
          (globalThis as unknown as { proof: Proof }).proof.comparePictures(Uint8Array.from(all), 0, [-2, 0]),
        bytes,
      );
      test.info().annotations.push({
        type: 'light apart',
        description: `${name}: texels ${(100 * light.worstOfPeak).toFixed(2)} % of the brightest, ${(100 * light.worstShare).toFixed(1)} % of what is there; picture ${(100 * picture.worstOfWhite).toFixed(2)} % of white, ${(100 * picture.worstShare).toFixed(1)} % of what is there, ${picture.worstCodes} codes`,
      });
      expect(light.texels, name).toBeGreaterThan(10_000);
      // At a shadow's edge light falls to nothing within a few millimetres, so there it is measured by what the edge divides.
      expect(light.worstOfPeak, name).toBeLessThan(most);
      expect(picture.comparedChannels, name).toBeGreaterThan(1000);
      expect(picture.worstOfWhite, name).toBeLessThan(most);
    }
  });

test('opaque black print stays black however strong the light, and half-clear print agrees too', async ({
  page,
}) => {
  await openProof(page);
  const ledCount = await setUp(page, 'deep-sea', true);
  const apart = await page.evaluate(
    (all) =>
      (globalThis as unknown as { proof: Proof }).proof.comparePictures(Uint8Array.from(all), 0, [-2, 0, 9]),
    white(ledCount),
  );
  expect(apart.blackChannels).toBeGreaterThan(50_000);
  expect(apart.litBlack).toBe(0);
  expect(apart.worstShare).toBeLessThan(most);
  // The card keeps ink in 8 bits once it is laid on white: one more rounding than elsewhere.
  expect(apart.worstCodes).toBeLessThanOrEqual(2);
});

test('the picture comes back by itself after the context was lost', async ({ page }) => {
  await openProof(page);
  const ledCount = await setUp(page, 'first-light');
  const outcome = await page.evaluate(
    (all) => (globalThis as unknown as { proof: Proof }).proof.sameAfterLoss(Uint8Array.from(all)),
    white(ledCount),
  );
  expect(outcome).toEqual({ lost: true, same: true, lit: true });
});

test('dragging a run uploads no image and reads nothing back', async ({ page }) => {
  await openProof(page);
  const ledCount = await setUp(page, 'midnight-carnival');
  const { scriptMsPerStep, ...calls } = await page.evaluate(
    (all) => (globalThis as unknown as { proof: Proof }).proof.drag(Uint8Array.from(all), 20),
    white(ledCount),
  );
  test.info().annotations.push({ type: 'script', description: `${scriptMsPerStep.toFixed(2)} ms a step` });
  expect(calls).toEqual({ images: 0, readbacks: 0 });
});
