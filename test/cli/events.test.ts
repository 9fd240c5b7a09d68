// `frames --events`: what is written is what the director decides from each named frame on, or over recorded presses; what can't be read is told, a
// line for each fault.
// Expected frames come from shows played by themselves, at times that the rules of the director give. Not here: those rules (test/player/director.test.ts).
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { type Project, writeProject } from '../../src/project/index.ts';
import { lamploom, temporaryFile, temporaryFolder } from '../support/command-line.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const show = (id: string, seed: number): Project['lampshows'][number] => ({
  id,
  lengthMs: 1000,
  rows: [
    {
      id: 'row',
      clips: [
        {
          startMs: 0,
          lengthMs: 1000,
          area: 'everything',
          gradient: 'ember',
          blend: 'over',
          effect: { kind: 'stars', lifeSeconds: 0.4, density: 1, seed },
        },
      ],
    },
  ],
});
const scene = projectOf({
  runs: rowsOfStrip(30),
  lampshows: [show('attract', 1), show('win', 2), show('mood', 3)],
  gameEvents: [
    { id: 'win', lampshow: 'win' },
    { id: 'mood', lampshow: 'mood', plays: 'until-next' },
    { id: 'score', lampshow: 'win', hasValue: true },
  ],
  inputs: { serial: true },
  pressLogs: [
    {
      id: 'game',
      lampshow: 'mood',
      lengthMs: 3000,
      presses: [
        { atMs: 500, event: 'win', value: 9 },
        { atMs: 1700, event: 'score', value: 5 },
      ],
      expected: [
        { atMs: 0, lampshow: 'mood' },
        { atMs: 500, lampshow: 'win' },
        { atMs: 1500, lampshow: 'mood' },
        { atMs: 1700, lampshow: 'attract' },
      ],
    },
    { id: 'quiet', lengthMs: 400, presses: [] },
  ],
  power: {
    supply: { volts: 5, amps: 5 },
    feeds: [{ run: 'row-0', led: 0, wire: 'AWG 18', lengthMm: 300 }],
  },
});

/** Wire bytes of frames of a call, one entry a frame, and its other outcome. */
function framesOf(...args: string[]) {
  const file = temporaryFile(writeProject(scene));
  const out = join(temporaryFolder(), 'frames.bin');
  const outcome = lamploom('frames', file, ...args, '--out', out, '--json');
  expect(outcome.status, outcome.stderr).toBe(0);
  const report = JSON.parse(outcome.stdout) as {
    frameMs: number;
    bytesPerFrame: number;
    from: number;
    count: number;
    lampshow: string;
    expectedDiffers?: string[];
  };
  const bytes = readFileSync(out);
  expect(bytes.length).toBe(report.bytesPerFrame * report.count);
  const frames = Array.from({ length: report.count }, (_, i) =>
    bytes.subarray(i * report.bytesPerFrame, (i + 1) * report.bytesPerFrame).toString('hex'),
  );
  return { frames, stderr: outcome.stderr, ...report };
}

beforeAll(() => {
  expect(lamploom('schema').status).toBe(0);
});

describe('what is written', () => {
  test('the event’s show from its frame on, then the show of power-up where it would be', () => {
    const base = framesOf('--show', 'attract', '--count', '900');
    const win = framesOf('--show', 'win', '--count', '900');
    const { frames, frameMs } = framesOf('--show', 'attract', '--count', '900', '--events', '17:win');
    const length = Math.ceil(1000 / frameMs);
    expect(17 + length).toBeLessThan(900);
    expect(frames.slice(0, 17)).toEqual(base.frames.slice(0, 17));
    expect(frames.slice(17, 17 + length)).toEqual(win.frames.slice(0, length));
    expect(frames.slice(17 + length)).toEqual(base.frames.slice(17 + length));
    expect(frames).not.toEqual(base.frames);
  });

  test('events before --from count; their order in the option does not', () => {
    const whole = framesOf('--show', 'attract', '--count', '120', '--events', '5:win,40:mood');
    const part = framesOf('--show', 'attract', '--from', '50', '--count', '70', '--events', '40:mood, 5:win');
    expect(part.frames).toEqual(whole.frames.slice(50));
    const mood = framesOf('--show', 'mood', '--count', '30');
    expect(part.frames.slice(0, 20)).toEqual(mood.frames.slice(10, 30));
  });

  test('a value for an event that takes none has no effect, and that is told', () => {
    const without = framesOf('--show', 'attract', '--count', '20', '--events', '5:win');
    const withIt = framesOf('--show', 'attract', '--count', '20', '--events', '5:win=9');
    expect(withIt.frames).toEqual(without.frames);
    expect(without.stderr).toBe('');
    expect(withIt.stderr).toBe('--events: "win" takes no value, so 9 at frame 5 has no effect.\n');
    expect(framesOf('--show', 'attract', '--count', '20', '--events', '5:score=255').stderr).toBe('');
  });
});

describe('recorded presses', () => {
  test('play from their own show on and for their length, each press at the first frame at or after its moment', () => {
    const game = framesOf('--events', 'game');
    const { frameMs } = game;
    expect([game.lampshow, game.count]).toEqual(['mood', Math.ceil(3000 / frameMs)]);
    const [win, score] = [500, 1700].map((ms) => Math.ceil(ms / frameMs));
    const byFrame = framesOf(
      '--show',
      'mood',
      '--count',
      String(game.count),
      '--events',
      `${win}:win,${score}:score=5`,
    );
    expect(game.frames).toEqual(byFrame.frames);
    expect(game.stderr).toBe('--events: "win" takes no value, so 9 at 500 ms has no effect.\n');
  });

  test('what is not as expected is told, and only where something is expected', () => {
    const { frameMs, expectedDiffers } = framesOf('--events', 'game');
    // The show of 1,000 ms from the press's frame on, then the one of power-up.
    const from = Math.ceil(1700 / frameMs) * frameMs;
    const [begins, ends] = [from, from + Math.ceil(1000 / frameMs) * frameMs].map((ms) =>
      (ms / 1000).toFixed(2),
    );
    expect(expectedDiffers).toEqual([
      `From ${begins} s to ${ends} s "attract" was expected; "win" has the panel.`,
      `From ${ends} s to 3.00 s "attract" was expected; "mood" has the panel.`,
    ]);
    expect('expectedDiffers' in framesOf('--events', 'quiet')).toBe(false);
    expect('expectedDiffers' in framesOf('--show', 'mood', '--count', '2', '--events', '1:win')).toBe(false);
  });

  test('--show and --count win over what the log says', () => {
    const game = framesOf('--events', 'quiet', '--show', 'win', '--count', '7');
    expect([game.lampshow, game.count]).toEqual(['win', 7]);
    expect(game.frames).toEqual(framesOf('--show', 'win', '--count', '7').frames);
    expect(framesOf('--events', 'quiet', '--count', '3').lampshow).toBe('attract');
  });

  test('without --json the differences are lines of their own', () => {
    const { status, stdout } = lamploom('frames', temporaryFile(writeProject(scene)), '--events', 'game');
    expect(status).toBe(0);
    expect(stdout.split('\n').filter((line) => line.startsWith('From '))).not.toHaveLength(0);
  });

  test.each([
    [scene, 'The project has game, quiet.'],
    [{ ...scene, pressLogs: [] }, 'The project has no recorded presses.'],
  ])('an unknown id is told with the known ones: status 2', (project, known) => {
    const { status, stdout, stderr } = lamploom(
      'frames',
      temporaryFile(writeProject(project)),
      '--events',
      'waltz',
      '--json',
    );
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toMatch(/^--events: expected the id of recorded presses, or FRAME:EVENT, found "waltz"/);
    expect(stderr).toContain(known);
  });
});

describe('what can’t be read: status 2, nothing written, one line for each fault', () => {
  test.each([
    ['3', [/expected FRAME:EVENT or FRAME:EVENT=VALUE.* found "3"/]],
    ['', [/expected FRAME:EVENT/]],
    ['3:win,', [/expected FRAME:EVENT.* found ""/]],
    ['3.5:win', [/found "3.5:win"/]],
    ['3:Win', [/found "3:Win"/]],
    ['3:win=', [/found "3:win="/]],
    ['3:score=x', [/found "3:score=x"/]],
    ['3:score=256', [/expected a value from 0 to 255/]],
    ['99999999999:win', [/expected a frame from 0 to \d+/]],
    ['3:waltz', [/expected the id of a game event, found "waltz".*win, mood, score/]],
    ['3:waltz,4:win,5;win,6:score=300', [/found "waltz"/, /found "5;win"/, /from 0 to 255/]],
  ])('%j', (events, lines) => {
    const file = temporaryFile(writeProject(scene));
    const { status, stdout, stderr } = lamploom(
      'frames',
      file,
      '--show',
      'attract',
      '--events',
      events,
      '--json',
    );
    expect([status, stdout]).toEqual([2, '']);
    const printed = stderr.trimEnd().split('\n');
    expect(printed).toHaveLength(lines.length);
    for (const [i, line] of lines.entries()) {
      expect(printed[i]).toMatch(/^--events: /);
      expect(printed[i]).toMatch(line);
    }
  });
});
