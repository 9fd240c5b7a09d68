// The samples: sound projects in their final form, each with its artwork beside it, shows that don't startle, and one of everything that a game needs.
import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { flashesOf, flashFindings } from '../../src/board/index.ts';
import { expectedDiffers, type Player, playedShows, pressLogStart } from '../../src/lampshow/index.ts';
import { areaLeds } from '../../src/panel/index.ts';
import { projectSchema, writeProject } from '../../src/project/index.ts';
import { examine, loadPlayer, root, sample, samples, sampleText, templates } from '../support/lamploom.ts';

let player: Player;
beforeAll(async () => {
  player = await loadPlayer();
});

/** Relative luminance weights of WCAG 2.x; wire bytes are linear light. */
const luminance = (red: number, green: number, blue: number): number =>
  (0.2126 * red + 0.7152 * green + 0.0722 * blue) / 255;

/** Pairs of opposing swings of at least a tenth within any second, as WCAG 2.x counts general flashes. */
function mostFlashes(values: readonly number[], framesPerSecond: number): number {
  const turns: number[] = [];
  let low = values[0]!;
  let high = low;
  let rising: boolean | undefined;
  for (const [frame, value] of values.entries()) {
    low = Math.min(low, value);
    high = Math.max(high, value);
    if (rising !== false && high - value >= 0.1) {
      turns.push(frame);
      rising = false;
      low = value;
      high = value;
    } else if (rising !== true && value - low >= 0.1) {
      turns.push(frame);
      rising = true;
      low = value;
      high = value;
    }
  }
  return (
    Math.max(
      0,
      ...turns.map((from) => turns.filter((frame) => frame >= from && frame < from + framesPerSecond).length),
    ) / 2
  );
}

test('the flash counter counts square waves', () => {
  const wave = (hertz: number) =>
    Array.from({ length: 200 }, (_, frame) => (Math.floor((2 * hertz * frame) / 40) % 2 === 0 ? 0 : 0.5));
  expect(mostFlashes(wave(2), 40)).toBe(2);
  expect(mostFlashes(wave(4), 40)).toBe(4);
});

describe.each(samples)('%s', (name) => {
  const project = sample(name);
  const examination = examine(project, templates);

  test('is written as Lamploom writes projects', () => {
    expect(writeProject(project)).toBe(sampleText(name));
  });

  test('holds the artwork that lies beside it, drawn without text, fonts, scripts or outside references', () => {
    const file = readFileSync(`${root}/samples/artwork/${name}.svg`);
    expect(Buffer.from(project.panel.artwork!.base64, 'base64').equals(file)).toBe(true);
    expect(file.toString()).not.toMatch(
      /<(text|script|image|foreignObject|style)\b|font|href="(?!#)|url\((?!#)/,
    );
  });

  test('has no error and no warning', () => {
    expect(examination.findings.filter((finding) => finding.severity !== 'note')).toEqual([]);
  });

  test('no flashes are found: alone, into and out of every event, pressed again and again', {
    timeout: 120_000,
  }, () => {
    player.setShowData(examination.showData!);
    const compiled = { project, ...examination };
    const work = flashesOf(compiled, player);
    let step = work.next();
    while (!step.done) step = work.next();
    expect(flashFindings(compiled, step.value)).toEqual([]);
  });

  test('has a show for everything that happens in a game, each started by an event; the attract mode lasts half a minute', () => {
    const { lampshows, gameEvents, attractMode } = project;
    const wanted = ['game-start', 'jackpot', 'multiball', 'ball-lost', 'tilt', 'high-score'];
    expect(lampshows.map((show) => show.id)).toEqual(expect.arrayContaining(wanted));
    expect(gameEvents!.map((event) => event.lampshow)).toEqual(expect.arrayContaining(wanted));
    expect(lampshows.find((show) => show.id === attractMode)!.lengthMs).toBeGreaterThanOrEqual(30_000);
    // Nobody waits for another show once the machine has tilted.
    const priorities = new Map(gameEvents!.map(({ id, priority = 100 }) => [id, priority]));
    expect(Math.max(...priorities.values())).toBe(priorities.get('tilt'));
  });

  test.each(project.lampshows.map((show) => show.id))(
    '%s stays under three flashes a second over the whole panel',
    (show) => {
      player.setShowData(examination.showData!);
      const frames = Math.ceil(
        project.lampshows.find((one) => one.id === show)!.lengthMs / examination.frameMs,
      );
      const { ledCount } = examination.showData!;
      const values = Array.from({ length: 2 * frames }, (_, frame) => {
        const bytes = player.frame(show, frame);
        let sum = 0;
        // Every sample's strip sends green first.
        for (let i = 0; i < bytes.length; i += 3) sum += luminance(bytes[i + 1]!, bytes[i]!, bytes[i + 2]!);
        return sum / ledCount;
      });
      expect(mostFlashes(values, 1000 / examination.frameMs)).toBeLessThan(3);
    },
  );
});

test('the samples are what the README says', () => {
  const leds = (name: (typeof samples)[number]) =>
    sample(name).runs.reduce((sum, run) => sum + run.ledCount, 0);
  expect([leds('midnight-carnival'), sample('midnight-carnival').runs.length]).toEqual([284, 18]);
  expect(leds('first-light')).toBe(62);
  expect(sample('deep-sea').runs.map((run) => run.ledCount)).toEqual(Array.from({ length: 12 }, () => 36));
});

test('an effect of each kind is used somewhere', () => {
  const used = samples.flatMap((name) =>
    sample(name).lampshows.flatMap((show) =>
      show.rows.flatMap((row) => row.clips.map((clip) => clip.effect.kind)),
    ),
  );
  const kinds =
    projectSchema.properties.lampshows.items.properties.rows.items.properties.clips.items.properties.effect
      .oneOf;
  expect([...new Set(used)].sort()).toEqual(kinds.map(({ properties }) => properties.kind.const).sort());
});

test('the carnival’s kept game plays as it expects, and at 45 frames a second or more', () => {
  const project = sample('midnight-carnival');
  const { showData, frameMs } = examine(project, templates);
  player.setShowData(showData!);
  expect(frameMs).toBeLessThanOrEqual(Math.floor(1000 / 45));
  const logs = project.pressLogs!;
  expect(logs).not.toEqual([]);
  for (const log of logs) {
    expect(log.expected!.length).toBeGreaterThan(1);
    const played = playedShows(player, log, pressLogStart(log, project), frameMs);
    expect(expectedDiffers(log, played, frameMs)).toEqual([]);
  }
});

test('the score fills the carnival’s high striker: dark at 0, lit to the top at 255', () => {
  const project = sample('midnight-carnival');
  const { showData, layout } = examine(project, templates);
  player.setShowData(showData!);
  const tower = project.areas.find((area) => area.id === 'tower')!;
  const bytes = areaLeds(layout, tower).map((led) => 3 * led.wire);
  const litAt = (value: number): number => {
    const frame = player.perform('attract', [{ frame: 0, event: 'score', value }])(100);
    return bytes.filter((at) => frame[at]! + frame[at + 1]! + frame[at + 2]! > 0).length;
  };
  expect(litAt(0)).toBe(0);
  expect(litAt(255)).toBe(bytes.length);
});
