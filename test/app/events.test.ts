// A game played on the page, without a browser: presses at the frame that is due, the bytes that follow, games kept as tests, the director in words.
// Expected bytes come from a second player that is given the presses by hand; expected shows from the director's rules (D-1 and so on of
// firmware-templates/player/SPEC.md) and the sample's own events.
import { describe, expect, test } from 'vitest';
import { Playback } from '../../src/app/playback/playback.ts';
import { directorRows, eventState } from '../../src/app/stages/lampshows/events/director-words.ts';
import { plannedEvent } from '../../src/app/stages/lampshows/events/event-plans.ts';
import { pinChoices } from '../../src/app/stages/lampshows/events/pin-choices.ts';
import { gameExtentMs } from '../../src/app/stages/lampshows/events/use-game.ts';
import { causeOf } from '../../src/app/workbench/cause.ts';
import {
  changePresses,
  expectedNow,
  keepAsTest,
  newGame,
  playGame,
  pressEvent,
  replayLog,
} from '../../src/app/workbench/game.ts';
import { boards, rowById } from '../../src/catalogue/index.ts';
import type { DirectorState, HeardEvent } from '../../src/lampshow/index.ts';
import {
  changeGameEvent,
  deleteGameEvent,
  edited,
  type Project,
  startHistory,
} from '../../src/project/index.ts';
import { loadPlayer, sample } from '../support/lamploom.ts';
import { benchFor } from './bench.ts';

/** Start (80) starts game-start, jackpot (120, resumes) jackpot, ball-lost (100) queues, tilt (200) tilt. */
// Games kept here are counted from none: the sample's own is left out.
const { pressLogs: _, ...carnival } = sample('midnight-carnival');

async function gameBench(project: Project = carnival) {
  const bench = await benchFor(project);
  const { workbench, clock } = bench;
  const { frameMs } = workbench.state.settled;
  workbench.playback.setPlaying(true);
  playGame(workbench);
  return {
    ...bench,
    frameMs,
    /** Lets so many frames go by, and a bit: presses seldom fall on the beginning of a frame. */
    passFrames: (frames: number) => {
      clock.pass(frames * frameMs);
      workbench.playback.tick();
    },
  };
}

/** What a board would send from power-up with the attract mode on. */
async function sentWith(bench: Awaited<ReturnType<typeof gameBench>>, log: readonly HeardEvent[]) {
  const player = await loadPlayer();
  player.setShowData(bench.workbench.state.settled.showData!);
  return player.perform('attract', log);
}

const shownAt = ({ workbench }: Awaited<ReturnType<typeof gameBench>>, frame: number): number[] => {
  workbench.playback.setPlaying(false);
  workbench.playback.scrubTo(frame);
  return [...workbench.shown().bytes];
};

const keyPress = (key: string, repeat = false) => ({
  key,
  ctrlKey: false,
  metaKey: false,
  altKey: false,
  shiftKey: false,
  repeat,
  isWithin: () => false,
});

describe('a game on the glass', () => {
  test('a press counts at the frame that is due, and what is shown is what the board sends; back in time too', async () => {
    const bench = await gameBench();
    const { workbench, clock, frameMs } = bench;
    clock.pass(40 * frameMs + frameMs / 2);
    pressEvent(workbench, 'start');
    clock.pass(100 * frameMs);
    pressEvent(workbench, 'jackpot');
    expect(workbench.state.game.presses).toEqual([
      { atMs: 40 * frameMs, event: 'start' },
      { atMs: 140 * frameMs, event: 'jackpot' },
    ]);
    const sent = await sentWith(bench, [
      { frame: 40, event: 'start' },
      { frame: 140, event: 'jackpot' },
    ]);
    for (const frame of [141, 39, 40, 300, 60, 150, 0, 139, 140])
      expect(shownAt(bench, frame), `frame ${frame}`).toEqual([...sent(frame)]);
    const shows = [39, 40, 139, 140].map((frame) => {
      workbench.playback.scrubTo(frame);
      return workbench.shown().show;
    });
    expect(shows).toEqual(['attract', 'game-start', 'game-start', 'jackpot']);
  });

  test('what is pressed after going back comes in between, and the later press stays', async () => {
    const bench = await gameBench();
    const { workbench, frameMs, passFrames } = bench;
    passFrames(50);
    pressEvent(workbench, 'jackpot');
    workbench.playback.scrubTo(20);
    pressEvent(workbench, 'start');
    expect(workbench.state.game.presses.map(({ event, atMs }) => [event, atMs / frameMs])).toEqual([
      ['start', 20],
      ['jackpot', 50],
    ]);
    const sent = await sentWith(bench, [
      { frame: 20, event: 'start' },
      { frame: 50, event: 'jackpot' },
    ]);
    for (const frame of [70, 30, 10]) expect(shownAt(bench, frame)).toEqual([...sent(frame)]);
  });

  test('digits press the events in their order, once while held, and play no show meanwhile', async () => {
    const { workbench, commander } = await gameBench();
    commander.onKey(keyPress('2'));
    for (let i = 0; i < 5; i++) commander.onKey(keyPress('2', true));
    commander.onKey(keyPress('5'));
    // The sample has seven events and eight shows.
    commander.onKey(keyPress('8'));
    expect(workbench.state.game.presses.map(({ event }) => event)).toEqual(['jackpot', 'tilt']);
    expect(workbench.state.game.isOn).toBe(true);
    workbench.enter('runs');
    commander.onKey(keyPress('1'));
    expect(workbench.state.game.presses).toHaveLength(2);
  });

  test('in front of the panel the keys press events too', async () => {
    const { workbench, commander } = await gameBench();
    commander.run('view-stand');
    commander.onKey(keyPress('1'));
    expect(workbench.state.game.presses.map(({ event }) => event)).toEqual(['start']);
  });

  test('the one show comes back where it stood, and choosing a show ends the game', async () => {
    const { workbench, commander } = await benchFor(carnival);
    workbench.playback.choose('jackpot');
    workbench.playback.scrubTo(33);
    commander.onKey(keyPress('g'));
    expect(workbench.state.game.isOn).toBe(true);
    expect(workbench.playback.current().frame).toBe(0);
    expect(workbench.shown().show).toBe('attract');
    commander.onKey(keyPress('g'));
    expect(workbench.state.game.isOn).toBe(false);
    expect(workbench.playback.current()).toMatchObject({ show: 'jackpot', frame: 33 });
    playGame(workbench);
    workbench.playback.choose('tilt');
    expect(workbench.state.game.isOn).toBe(false);
    expect(workbench.shown().show).toBe('tilt');
  });

  test('from power-up again keeps the presses, a new game has none', async () => {
    const { workbench, commander, passFrames } = await gameBench();
    passFrames(10);
    pressEvent(workbench, 'tilt');
    commander.run('game-again');
    expect(workbench.playback.current()).toMatchObject({ frame: 0, reached: 0 });
    expect(workbench.state.game.presses).toHaveLength(1);
    newGame(workbench);
    expect(workbench.state.game.presses).toEqual([]);
  });

  test('presses of an event that is deleted are not heard, and count again when undo brings it back', async () => {
    const bench = await gameBench();
    const { workbench, passFrames } = bench;
    passFrames(10);
    pressEvent(workbench, 'jackpot');
    workbench.edit('Delete game event', deleteGameEvent('jackpot'));
    workbench.playback.scrubTo(12);
    expect(workbench.shown().show).toBe('attract');
    workbench.undo();
    expect(workbench.shown().show).toBe('jackpot');
  });

  test('a value comes with an event that has one, and an opened project begins without a game', async () => {
    const project = edited(
      startHistory(carnival),
      'Value',
      changeGameEvent('tilt', { hasValue: true }),
    ).project;
    const { workbench } = await gameBench(project);
    workbench.set({ game: { ...workbench.state.game, values: { tilt: 42 } } });
    pressEvent(workbench, 'tilt');
    pressEvent(workbench, 'start');
    expect(workbench.state.game.presses).toEqual([
      { atMs: 0, event: 'tilt', value: 42 },
      { atMs: 0, event: 'start' },
    ]);
    expect(workbench.performance()!.directorAt(0).value).toBe(42);
    workbench.replace(sample('deep-sea'));
    expect(workbench.state.game).toMatchObject({ isOn: false, presses: [] });
  });
});

describe('the clock of a game', () => {
  test('frames run on from power-up, the furthest is known, and another frame time keeps the moments', () => {
    const clock = { ms: 0 };
    const playback = new Playback({ show: 'a', playing: true, frame: 7 }, 20, () => clock.ms);
    playback.setLoop({ fromMs: 100, toMs: 200 });
    playback.powerUp();
    clock.ms = 2000;
    playback.tick();
    // 100 frames of 20 ms: the show's loop repeats nothing here.
    expect(playback.current()).toMatchObject({ frame: 100, reached: 100, loop: undefined });
    playback.scrubTo(30);
    expect(playback.current()).toMatchObject({ frame: 30, reached: 100 });
    playback.follow(10, [{ id: 'a', lengthMs: 1000 }]);
    expect(playback.current()).toMatchObject({ frame: 60, reached: 200 });
    // Its show is gone: the game goes on.
    playback.follow(10, [{ id: 'b', lengthMs: 1000 }]);
    expect(playback.current()).toMatchObject({ show: 'b', frame: 60, reached: 200 });
    playback.leaveGame();
    expect(playback.current()).toMatchObject({ show: 'b', frame: 0, reached: undefined });
  });

  test('the ruler spans whole twenties of seconds, five beyond the last press', () => {
    expect(gameExtentMs(20, 0)).toBe(20_000);
    expect(gameExtentMs(20_000, 0)).toBe(20_000);
    expect(gameExtentMs(20_001, 0)).toBe(40_000);
    expect(gameExtentMs(20, 15_000)).toBe(20_000);
    expect(gameExtentMs(20, 15_001)).toBe(40_000);
  });
});

describe('games kept as tests', () => {
  /** Start at frame 40, jackpot 100 later, kept at frame 200. */
  async function kept() {
    const bench = await gameBench();
    const { workbench, passFrames } = bench;
    passFrames(40);
    pressEvent(workbench, 'start');
    passFrames(100);
    pressEvent(workbench, 'jackpot');
    passFrames(60);
    keepAsTest(workbench);
    return { ...bench, log: () => workbench.project.pressLogs![0]! };
  }

  test('presses, length and what had the panel are kept in one step', async () => {
    const { workbench, frameMs, log } = await kept();
    expect(log()).toEqual({
      id: 'test-1',
      name: 'Test 1',
      lengthMs: 201 * frameMs,
      presses: [
        { atMs: 40 * frameMs, event: 'start' },
        { atMs: 140 * frameMs, event: 'jackpot' },
      ],
      // D-2, D-5: the jackpot's priority of 120 is above the 80 of what plays.
      expected: [
        { atMs: 0, lampshow: 'attract' },
        { atMs: 40 * frameMs, lampshow: 'game-start' },
        { atMs: 140 * frameMs, lampshow: 'jackpot' },
      ],
    });
    expect(workbench.state.game.log).toBe('test-1');
    expect(workbench.state.history.past).toHaveLength(1);
    workbench.undo();
    expect(workbench.project.pressLogs ?? []).toEqual([]);
    // What was recorded is still there to be kept.
    workbench.playback.scrubTo(150);
    expect(workbench.shown().show).toBe('jackpot');
  });

  test('a game that begins while nothing was pressed is kept as well', async () => {
    const { workbench, frameMs } = await gameBench();
    keepAsTest(workbench);
    expect(workbench.project.pressLogs![0]).toMatchObject({
      // One frame, and no less than the schema lets a log last.
      lengthMs: Math.max(20, frameMs),
      presses: [],
      expected: [{ atMs: 0, lampshow: 'attract' }],
    });
  });

  test('its presses are edited in the document, a step each, and heard at once', async () => {
    const { workbench, frameMs, log } = await kept();
    const [start, jackpot] = log().presses;
    changePresses(workbench, 'Move press', [{ ...start!, atMs: 80 * frameMs }, jackpot!]);
    workbench.playback.scrubTo(60);
    expect(workbench.shown().show).toBe('attract');
    workbench.undo();
    expect(workbench.shown().show).toBe('game-start');
    changePresses(workbench, 'Delete press', [start!]);
    workbench.playback.scrubTo(150);
    expect(workbench.shown().show).toBe('game-start');
  });

  test('of a recording they are changed without a step', async () => {
    const { workbench, passFrames } = await gameBench();
    passFrames(10);
    pressEvent(workbench, 'tilt');
    changePresses(workbench, 'Delete press', []);
    expect(workbench.shown().show).toBe('attract');
    expect(workbench.state.history.past).toEqual([]);
  });

  test('replayed it plays from power-up; a press then records anew and leaves the kept log as it is', async () => {
    const { workbench, frameMs, passFrames, log } = await kept();
    const before = log();
    newGame(workbench);
    replayLog(workbench, before);
    expect(workbench.playback.current()).toMatchObject({ frame: 0, playing: true });
    passFrames(150);
    expect(workbench.shown().show).toBe('jackpot');
    pressEvent(workbench, 'tilt');
    expect(log()).toBe(before);
    expect(workbench.state.game.log).toBeUndefined();
    expect(workbench.state.game.presses.map(({ event, atMs }) => [event, atMs / frameMs])).toEqual([
      ['start', 40],
      ['jackpot', 140],
      ['tilt', 150],
    ]);
    expect(workbench.shown().show).toBe('tilt');
  });

  test('what plays now is taken as expected: a jackpot of lower priority is not played', async () => {
    const { workbench, frameMs, log } = await kept();
    workbench.edit('Change priority', changeGameEvent('jackpot', { priority: 79 }));
    workbench.edit('Take what plays as expected', expectedNow(workbench, log())!);
    // D-5: 79 is below the 80 of what plays.
    expect(log().expected).toEqual([
      { atMs: 0, lampshow: 'attract' },
      { atMs: 40 * frameMs, lampshow: 'game-start' },
    ]);
    workbench.undo();
    expect(log().expected).toHaveLength(3);
  });

  test('names and ids are free ones', async () => {
    const { workbench } = await kept();
    newGame(workbench);
    keepAsTest(workbench);
    expect(workbench.project.pressLogs!.map(({ id, name }) => [id, name])).toEqual([
      ['test-1', 'Test 1'],
      ['test-2', 'Test 2'],
    ]);
  });
});

describe('the director in words', () => {
  const rest: DirectorState = { lampshow: 'attract', sinceFrame: 0, value: 0, waiting: [], delayed: [] };
  const words = (director: DirectorState, frame: number, project: Project = carnival) =>
    Object.fromEntries(directorRows(director, project, frame, 20).map(({ label, text }) => [label, text]));

  test('at power-up nothing but the attract mode', () => {
    const valueless = { ...carnival, gameEvents: carnival.gameEvents!.filter((event) => !event.hasValue) };
    expect(words(rest, 50, valueless)).toEqual({
      'Has the panel': 'Attract',
      Since: '0.00 s, for 1.00 s',
      'Started by': 'power-up',
      'Fades out': 'nothing',
      Waits: 'nothing',
      'Delay runs': 'for nothing',
      Afterwards: 'no other show',
    });
  });

  test('everything that it can hold', () => {
    const director: DirectorState = {
      lampshow: 'jackpot',
      event: 'jackpot',
      sinceFrame: 100,
      value: 7,
      fading: { from: 'game-start', share: 0.25 },
      waiting: ['ball-lost', 'tilt'],
      delayed: [
        { event: 'start', frame: 115 },
        { event: 'multiball', frame: 120 },
      ],
      resumes: { lampshow: 'game-start', how: 'where-it-was' },
    };
    // The sample's score comes with a value.
    expect(words(director, 110)).toEqual({
      'Has the panel': 'Jackpot',
      Since: '2.00 s, for 0.20 s',
      'Started by': 'the event Jackpot',
      'Fades out': 'Game start; 25 % of Jackpot is there',
      Waits: 'Ball lost, then Tilt',
      'Delay runs': 'Game start, in 0.10 s; Multiball, in 0.20 s',
      Afterwards: 'Game start goes on where it was',
      Value: '7',
    });
    expect(words({ ...rest, resumes: { lampshow: 'tilt', how: 'anew' } }, 0)['Afterwards']).toBe(
      'Tilt comes back from its beginning',
    );
    expect(['jackpot', 'start', 'tilt', 'other'].map((id) => eventState(director, id))).toEqual([
      'plays',
      'delayed',
      'waits',
      'rests',
    ]);
  });
});

describe('editing events', () => {
  const board = rowById(boards, carnival.board.id)!;
  const pinsOf = (project: Project, chosen?: number) =>
    pinChoices(project, board, chosen).map(({ id }) => id);

  test('pins offered are those that nothing has, and what is chosen', () => {
    const bare: Project = {
      ...carnival,
      dataLines: [{ ...carnival.dataLines[0]!, pin: 6 }],
      gameEvents: [{ id: 'a', lampshow: 'tilt', pin: 7 }],
      inputs: { roomPin: 8 },
    };
    const all = board.pins.map(({ pin }) => pin).filter((pin) => !board.usbSerialPins.includes(pin));
    expect(pinsOf(bare)).toEqual(['', ...all.filter((pin) => ![6, 7, 8].includes(pin)).map(String)]);
    // What is chosen is named as usual (A0 is pin 14 on this board), even where a bus has taken it.
    expect(pinChoices(bare, board, 7)).toContainEqual({ id: '7', label: 'D7' });
    // The bus takes A4 and A5 of this board.
    const withBus: Project = { ...bare, inputs: { i2cAddress: 8 } };
    expect(pinsOf(withBus)).toContain('8');
    for (const pin of board.i2cPins) expect(pinsOf(withBus)).not.toContain(String(pin));
    expect(pinChoices(withBus, board, 18)).toContainEqual({ id: '18', label: 'A4' });
    expect(pinChoices(bare, board, 98).at(-1)).toEqual({ id: '98', label: 'Pin 98, not usable' });
  });

  test('a new event starts the first show that none starts, named like it', () => {
    const without: Project = {
      ...carnival,
      gameEvents: carnival.gameEvents!.filter(({ id }) => id !== 'multiball'),
    };
    const planned = plannedEvent(without)!;
    const after = edited(startHistory(without), 'New game event', planned.edit).project;
    expect(after.gameEvents!.at(-1)).toEqual({ id: 'multiball', name: 'Multiball', lampshow: 'multiball' });
    // All shows but the attract mode have one: the first of them gets another.
    expect(
      edited(startHistory(carnival), 'New', plannedEvent(carnival)!.edit).project.gameEvents!.at(-1),
    ).toEqual({ id: 'game-start-2', name: 'Game start 2', lampshow: 'game-start' });
  });

  test('a finding about an event or an input leads to it', () => {
    expect(causeOf(carnival, '/gameEvents/1/pin')).toEqual({
      stage: 'lampshows',
      selection: { kind: 'game-event', id: 'jackpot' },
    });
    for (const at of ['/gameEvents', '/inputs', '/inputs/roomPin'])
      expect(causeOf(carnival, at)).toEqual({ stage: 'lampshows', selection: { kind: 'inputs' } });
  });
});
