// Edits of game events, inputs and recorded presses. Expected documents are written by hand from the edit's name; figures at a bound are the
// schema's own (delay to 500 ms, 255 plays, pins to 99, shows to an hour).
import { describe, expect, test } from 'vitest';
import * as eventEdits from '../../src/project/edits-events.ts';
import * as logEdits from '../../src/project/edits-press-logs.ts';
import {
  deleteLampshow,
  type Edit,
  edited,
  type GameEvent,
  limits,
  type PressLog,
  type Project,
  startHistory,
} from '../../src/project/index.ts';
import { type EditCase, holdsLaws, testCases } from '../support/edit-laws.ts';
import { sample } from '../support/lamploom.ts';

/** The sample with three of its events, as bare as can be; no inputs. */
const plain: Project = {
  ...sample('first-light'),
  gameEvents: [
    { id: 'start', name: 'Game start', lampshow: 'game-start' },
    { id: 'jackpot', name: 'Jackpot', lampshow: 'jackpot' },
    { id: 'ball-lost', name: 'Ball lost', lampshow: 'ball-lost' },
  ],
};
const start = plain.gameEvents![0]!;
const applied = (project: Project, edit: Edit): Project =>
  edited(startHistory(project), 'edit', edit).project;

const tilt: GameEvent = { id: 'tilt', lampshow: 'ball-lost', pin: 4, delayMs: 120, plays: 2 };
const press = (atMs: number, event: string) => ({ atMs, event });
const seen = (atMs: number, lampshow: string) => ({ atMs, lampshow });
const log: PressLog = {
  id: 'good-game',
  name: 'Good game',
  lampshow: 'game-start',
  lengthMs: 20_000,
  presses: [press(100, 'start'), press(900, 'jackpot'), press(950, 'start')],
  expected: [seen(0, 'game-start'), seen(900, 'jackpot'), seen(4000, 'attract')],
};
const bare: PressLog = { id: 'bare', lengthMs: 5000, presses: [] };
const logged: Project = { ...plain, pressLogs: [log, bare] };
const wired: Project = { ...plain, inputs: { serial: true, roomPin: 9, roomPercents: [100, 50, 20] } };

const eventCases: readonly EditCase[] = [
  {
    name: 'addGameEvent',
    fact: 'adds it behind the others',
    on: plain,
    edit: eventEdits.addGameEvent(tilt),
    leaves: () => ({ '/gameEvents/3': tilt }),
  },
  {
    name: 'addGameEvent',
    fact: 'begins the list, with numbers inside their bounds',
    on: { ...plain, gameEvents: [] },
    edit: eventEdits.addGameEvent({ ...tilt, plays: 900, delayMs: 700, pin: 2.4 }),
    leaves: () => ({ '/gameEvents': [{ ...tilt, plays: 255, delayMs: 500, pin: 2 }] }),
  },
  {
    name: 'changeGameEvent',
    fact: 'sets some and takes the name away',
    on: plain,
    edit: eventEdits.changeGameEvent('start', { name: undefined, plays: 'until-next', delayMs: 90 }),
    leaves: () => ({
      '/gameEvents/0': { id: 'start', lampshow: 'game-start', plays: 'until-next', delayMs: 90 },
    }),
  },
  {
    name: 'changeGameEvent',
    fact: 'keeps numbers inside their bounds',
    on: plain,
    edit: eventEdits.changeGameEvent('jackpot', { plays: 0, delayMs: -3, priority: 300, crossfadeMs: 99.6 }),
    leaves: () => ({
      '/gameEvents/1/plays': 1,
      '/gameEvents/1/delayMs': 0,
      '/gameEvents/1/priority': 255,
      '/gameEvents/1/crossfadeMs': 100,
    }),
  },
  {
    name: 'changeGameEvent',
    fact: 'leaves what is no number',
    on: { ...plain, gameEvents: [{ ...start, plays: 3 }] },
    edit: eventEdits.changeGameEvent('start', { plays: Number.NaN, delayMs: Number.NaN }),
    leaves: () => ({}),
  },
  {
    name: 'deleteGameEvent',
    fact: 'takes its presses out of all logs',
    on: logged,
    edit: eventEdits.deleteGameEvent('start'),
    leaves: (before) => ({
      '/gameEvents': [before.gameEvents![1], before.gameEvents![2]],
      '/pressLogs/0/presses': [press(900, 'jackpot')],
    }),
  },
  {
    name: 'moveGameEvent',
    fact: 'moves it to another place',
    on: plain,
    edit: eventEdits.moveGameEvent(2, 0),
    leaves: (before) => ({ '/gameEvents': [2, 0, 1].map((i) => before.gameEvents![i]) }),
  },
  {
    name: 'changeInputs',
    fact: 'begins the inputs',
    on: plain,
    edit: eventEdits.changeInputs({ serial: true, roomPin: 120 }),
    leaves: () => ({ '/inputs': { serial: true, roomPin: 99 } }),
  },
  {
    name: 'changeInputs',
    fact: 'sets one and takes one away',
    on: wired,
    edit: eventEdits.changeInputs({ serial: undefined, roomPercents: [90, 40, 0] }),
    leaves: () => ({ '/inputs': { roomPin: 9, roomPercents: [90, 40, 1] } }),
  },
  {
    name: 'changeInputs',
    fact: 'leaves room steps that are not three',
    on: wired,
    edit: eventEdits.changeInputs({ roomPercents: [90, 40] as never, i2cAddress: 8 }),
    leaves: () => ({ '/inputs/i2cAddress': 8 }),
  },
  {
    name: 'changeInputs',
    fact: 'leaves a project without inputs as it is where nothing is set',
    on: plain,
    edit: eventEdits.changeInputs({ serial: undefined }),
    leaves: () => ({}),
  },
];
testCases(eventCases, eventEdits);

const logCases: readonly EditCase[] = [
  {
    name: 'addPressLog',
    fact: 'begins the list',
    on: plain,
    edit: logEdits.addPressLog(log),
    leaves: () => ({ '/pressLogs': [log] }),
  },
  {
    name: 'addPressLog',
    fact: 'adds it behind the others, with numbers inside their bounds',
    on: { ...plain, pressLogs: [log] },
    edit: logEdits.addPressLog({ ...bare, lengthMs: 5, presses: [{ ...press(-4, 'jackpot'), value: 300 }] }),
    leaves: () => ({
      '/pressLogs/1': { id: 'bare', lengthMs: 20, presses: [{ ...press(0, 'jackpot'), value: 255 }] },
    }),
  },
  {
    name: 'deletePressLog',
    fact: 'takes it out',
    on: logged,
    edit: logEdits.deletePressLog('good-game'),
    leaves: () => ({ '/pressLogs': [bare] }),
  },
  {
    name: 'renamePressLog',
    fact: 'sets the name and leaves the id',
    on: logged,
    edit: logEdits.renamePressLog('bare', 'Nothing pressed'),
    leaves: () => ({ '/pressLogs/1/name': 'Nothing pressed' }),
  },
  {
    name: 'renamePressLog',
    fact: 'takes an empty name away',
    on: logged,
    edit: logEdits.renamePressLog('good-game', ''),
    leaves: () => ({ '/pressLogs/0/name': undefined }),
  },
  {
    name: 'changePressLog',
    fact: 'sets presses and length, and takes what is expected away',
    on: logged,
    edit: logEdits.changePressLog('good-game', {
      presses: [press(5, 'ball-lost')],
      lengthMs: 4_000_000,
      expected: undefined,
    }),
    leaves: () => ({
      '/pressLogs/0/presses': [press(5, 'ball-lost')],
      '/pressLogs/0/lengthMs': 3_600_000,
      '/pressLogs/0/expected': undefined,
    }),
  },
];
testCases(logCases, logEdits);

describe('what goes takes along what recorded presses say of it', () => {
  test('a lampshow: its events’ presses, what is expected of it, and the show of power-up', () => {
    const after = holdsLaws(logged, 'deleteLampshow', deleteLampshow('game-start'));
    expect(after.pressLogs).toEqual([
      {
        id: 'good-game',
        name: 'Good game',
        lengthMs: 20_000,
        presses: [press(900, 'jackpot')],
        expected: [seen(900, 'jackpot'), seen(4000, 'attract')],
      },
      bare,
    ]);
  });

  test('where nothing is expected any more, the log is no test', () => {
    const only = { ...logged, pressLogs: [{ ...log, expected: [seen(0, 'game-start')] }] };
    expect(
      holdsLaws(only, 'deleteLampshow', deleteLampshow('game-start')).pressLogs![0]!.expected,
    ).toBeUndefined();
  });

  test('an event, over and over, until none is left', () => {
    const none = ['start', 'jackpot', 'ball-lost'].reduce(
      (project, id) => holdsLaws(project, 'deleteGameEvent', eventEdits.deleteGameEvent(id)),
      logged,
    );
    expect([none.gameEvents, none.pressLogs![0]!.presses]).toEqual([[], []]);
    expect(none.pressLogs![0]!.expected).toEqual(log.expected);
  });
});

describe('what names nothing that is there throws, and what a limit forbids is left undone', () => {
  test.each<[what: string, edit: Edit]>([
    ['an event of no show', eventEdits.addGameEvent({ ...tilt, lampshow: 'waltz' })],
    ['an event whose id is taken', eventEdits.addGameEvent({ ...tilt, id: 'start' })],
    ['an event changed to no show', eventEdits.changeGameEvent('start', { lampshow: 'waltz' })],
    ['no event', eventEdits.deleteGameEvent('tilt')],
    ['no place', eventEdits.moveGameEvent(3, 0)],
    ['a log whose id is taken', logEdits.addPressLog({ ...bare, id: 'good-game' })],
    ['a press of no event', logEdits.addPressLog({ ...bare, id: 'new', presses: [press(0, 'tilt')] })],
    ['a log from no show', logEdits.changePressLog('bare', { lampshow: 'waltz' })],
    ['no show expected', logEdits.changePressLog('bare', { expected: [seen(0, 'waltz')] })],
    ['no log', logEdits.deletePressLog('waltz')],
  ])('%s', (_, edit) => {
    expect(() => applied(logged, edit)).toThrow();
  });

  const many = <T>(count: number, entry: (i: number) => T): T[] =>
    Array.from({ length: count }, (_, i) => entry(i));

  test('64 events', () => {
    const full = { ...plain, gameEvents: many(63, (i) => ({ ...tilt, id: `event-${i}` })) };
    const one = applied(full, eventEdits.addGameEvent(tilt));
    expect(one.gameEvents).toHaveLength(64);
    expect(applied(one, eventEdits.addGameEvent({ ...tilt, id: 'more' }))).toBe(one);
  });

  test(`${limits.pressLogs} logs of ${limits.pressesPerLog} presses`, () => {
    const most = many(limits.pressesPerLog, (i) => press(i, 'start'));
    const more = [...most, press(0, 'start')];
    const full = applied(logged, logEdits.changePressLog('bare', { presses: most }));
    expect(full.pressLogs![1]!.presses).toHaveLength(limits.pressesPerLog);
    expect(applied(full, logEdits.changePressLog('bare', { presses: more, lengthMs: 99 }))).toBe(full);
    expect(applied(full, logEdits.addPressLog({ ...bare, id: 'new', presses: more }))).toBe(full);
    const logs = { ...plain, pressLogs: many(limits.pressLogs - 1, (i) => ({ ...bare, id: `log-${i}` })) };
    const last = applied(logs, logEdits.addPressLog(bare));
    expect(last.pressLogs).toHaveLength(limits.pressLogs);
    expect(applied(last, logEdits.addPressLog({ ...bare, id: 'more' }))).toBe(last);
  });
});
