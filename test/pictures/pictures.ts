// The guide's pictures: the sample on the stages that show most, paused at one frame and with one thing chosen, so that taking them again
// gives the same pictures; and the lit panel by the command line. Run by `npm run pictures`.
import { execFileSync } from 'node:child_process';
import { mkdirSync, statSync } from 'node:fs';
import {
  expect,
  glassOf,
  openPage,
  pause,
  root,
  runShape,
  sample,
  stage,
  test,
  timeSlider,
} from '../browser/page.ts';

type Page = import('@playwright/test').Page;

const folder = `${root}/guide/pictures`;
const size = { width: 1440, height: 900 };
const jpegQuality = 82;
/** Of the attract mode: sky, wheel, tent and high striker are all lit, in many colours. */
const frame = 850;

/** How the room is, where the range of the room light ends. */
const roomKeys = { dark: 'Home', lit: 'End' } as const;

interface Picture {
  readonly name: string;
  readonly stage: string;
  readonly room: keyof typeof roomKeys;
  readonly choose?: (page: Page) => Promise<void>;
}

const pictures: readonly Picture[] = [
  { name: 'panel', stage: 'Panel', room: 'lit' },
  { name: 'runs', stage: 'Runs', room: 'lit', choose: (page) => runShape(page, 'wheel-4').press('Enter') },
  {
    name: 'lampshows',
    stage: 'Lampshows',
    room: 'dark',
    choose: (page) =>
      page
        .getByRole('button', { name: /^Moving band on High striker,/ })
        .last()
        .click(),
  },
  { name: 'power', stage: 'Power', room: 'lit' },
  { name: 'workshop', stage: 'Workshop', room: 'lit' },
  { name: 'board', stage: 'Board', room: 'dark' },
];

async function stand(page: Page, room: keyof typeof roomKeys): Promise<void> {
  const slider = page.getByRole('slider', { name: 'Room light' });
  await slider.press(roomKeys[room]);
  await expect(page.locator('html')).toHaveAttribute('data-room', room);
}

test.use({ viewport: size });

for (const picture of pictures)
  test(picture.name, async ({ page }) => {
    mkdirSync(folder, { recursive: true });
    await openPage(page);
    await pause(page);
    await stage(page, 'Lampshows');
    await timeSlider(page).fill(`${frame}`);
    await expect(glassOf(page)).toHaveAttribute('data-frame', `${frame}`);
    await stand(page, picture.room);
    await stage(page, picture.stage);
    await picture.choose?.(page);
    // No ring of the keyboard, no place of the pointer.
    await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur());
    await page.mouse.move(0, 0);
    // Surveys, weaves and drawings come while the page has time.
    await page.waitForTimeout(4000);
    await page.screenshot({ path: `${folder}/${picture.name}.jpg`, type: 'jpeg', quality: jpegQuality });
  });

test('lit', () => {
  const out = `${folder}/lit.png`;
  execFileSync(
    'npm',
    [
      'run',
      '-s',
      'lamploom',
      '--',
      'picture',
      sample,
      '--show',
      'attract',
      '--frame',
      `${frame}`,
      '--out',
      out,
    ],
    { cwd: root },
  );
  expect(statSync(out).size).toBeGreaterThan(0);
});
