// A game that is played on the page: which events were pressed when, from power-up on. What the director makes of them, the player alone says. What is
// recorded is no part of the document until it is kept as a test; from then on its presses are the document's, and so is every change of them.
// Not here: the clock (playback/playback.ts), keys (commands/game-commands.ts).
import { type HeardEvent, heardPresses, playedShows, pressLogStart } from '../../lampshow/index.ts';
import {
  addPressLog,
  changePressLog,
  type Edit,
  freeId,
  limits,
  type PressLog,
  type Project,
} from '../../project/index.ts';
import { chosenClips, nothing } from './selection.ts';
import type { Workbench } from './workbench.ts';

export type Press = PressLog['presses'][number];

export interface Game {
  /** The glass shows it instead of one show. */
  readonly isOn: boolean;
  /** As they were recorded; those of the kept log count where there is one. */
  readonly presses: readonly Press[];
  /** What plays from power-up on; the attract mode where undefined. */
  readonly start: string | undefined;
  /** The kept log that is played. */
  readonly log: string | undefined;
  /** What comes with each event that has a value. */
  readonly values: Readonly<Record<string, number>>;
  /** What the inspector shows of it. */
  readonly pane: 'now' | 'tests' | 'events';
}

export const noGame: Game = {
  isOn: false,
  presses: [],
  start: undefined,
  log: undefined,
  values: {},
  pane: 'now',
};

const middleValue = 128;
export const pressValue = ({ values }: Game, event: string): number => values[event] ?? middleValue;

/** Undefined also where the log that was played is gone. */
export const keptLog = ({ pressLogs = [] }: Project, { log }: Game): PressLog | undefined =>
  log === undefined ? undefined : pressLogs.find(({ id }) => id === log);

export interface PlayedGame {
  readonly presses: readonly Press[];
  readonly start: string;
}

/** What counts: the kept log that is played, else what was recorded. */
export function playedGame(project: Project, game: Game): PlayedGame {
  const { presses, lampshow } = keptLog(project, game) ?? { presses: game.presses, lampshow: game.start };
  const isThere = project.lampshows.some(({ id }) => id === lampshow);
  return { presses, start: pressLogStart(isThere && lampshow ? { lampshow } : {}, project) };
}

/** What the player performs. Presses of events that are gone are not heard; they count again when an undo brings their event back. */
export function heardInGame(
  { presses, start }: PlayedGame,
  { gameEvents = [] }: Project,
  frameMs: number,
): [start: string, heard: HeardEvent[]] {
  const known = new Set(gameEvents.map(({ id }) => id));
  return [start, heardPresses({ presses: presses.filter(({ event }) => known.has(event)) }, frameMs)];
}

/** Behind all that were pressed up to the same moment. */
export function withPress(presses: readonly Press[], press: Press): Press[] {
  const later = presses.findIndex(({ atMs }) => atMs > press.atMs);
  return presses.toSpliced(later < 0 ? presses.length : later, 0, press);
}

const inOrder = (presses: readonly Press[]): Press[] => [...presses].sort((a, b) => a.atMs - b.atMs);

/** Plays the game from power-up on, with what was pressed so far. */
export function playGame(workbench: Workbench): void {
  if (chosenClips(workbench.state.selection)) workbench.select(nothing);
  workbench.playback.powerUp();
}

/** Another game: nothing pressed yet. */
export function newGame(workbench: Workbench): void {
  const { game } = workbench.state;
  workbench.set({ game: { ...game, presses: [], start: undefined, log: undefined } });
  workbench.playback.powerUp();
}

/** Plays a kept log from power-up on. */
export function replayLog(workbench: Workbench, { id, presses, lampshow }: PressLog): void {
  const { game } = workbench.state;
  workbench.set({ game: { ...game, log: id, presses, start: lampshow } });
  workbench.playback.powerUp();
  workbench.playback.setPlaying(true);
}

/** Presses an event at the frame that is due. What follows a kept log is a recording of its own, so that the log stays as it was kept. */
export function pressEvent(workbench: Workbench, event: string): void {
  const { playback, project } = workbench;
  const row = project.gameEvents?.find(({ id }) => id === event);
  if (!row || !workbench.state.game.isOn) return;
  playback.tick();
  const { game, settled } = workbench.state;
  const atMs = playback.current().frame * settled.frameMs;
  const { presses } = playedGame(project, game);
  if (presses.length >= limits.pressesPerLog || atMs > limits.showMs) {
    const line = `A game holds ${limits.pressesPerLog} presses and lasts an hour at most.`;
    workbench.set({ message: { title: 'The press was not recorded', lines: [line] } });
    return;
  }
  const press = { atMs, event, ...(row.hasValue ? { value: pressValue(game, event) } : {}) };
  const start = keptLog(project, game)?.lampshow ?? game.start;
  workbench.set({ game: { ...game, log: undefined, start, presses: withPress(presses, press) } });
}

/** Moves, changes or takes out presses: of the document where a kept log is played, else of the recording. */
export function changePresses(
  workbench: Workbench,
  label: string,
  presses: readonly Press[],
  gesture?: string,
): void {
  const { game } = workbench.state;
  const log = keptLog(workbench.project, game);
  if (log) workbench.edit(label, changePressLog(log.id, { presses: [...presses] }), gesture);
  else workbench.set({ game: { ...game, presses } });
}

/** What has the panel over a log's length now. Undefined where the shows are too large for any player. */
function playedNow({ state, ports }: Workbench, log: PressLog) {
  const { showData, project, frameMs } = state.settled;
  return showData && playedShows(ports.player, log, pressLogStart(log, project), frameMs);
}

const inWhole = (ms: number): number => Math.min(limits.showMs, Math.max(20, Math.ceil(ms)));

function freeName(logs: readonly PressLog[]): string {
  const taken = new Set(logs.map(({ name, id }) => name ?? id));
  let number = logs.length + 1;
  while (taken.has(`Test ${number}`)) number++;
  return `Test ${number}`;
}

/** As far as it was played, with what then had the panel as what is expected. */
export function keepAsTest(workbench: Workbench): void {
  const { playback, project } = workbench;
  const { game, settled } = workbench.state;
  const { showData, frameMs } = settled;
  if (!game.isOn || !showData) return;
  const logs = project.pressLogs ?? [];
  const known = playedGame(project, game);
  const presses = inOrder(known.presses.filter(({ event }) => showData.eventNumbers.has(event)));
  const framesMs = ((playback.current().reached ?? 0) + 1) * frameMs;
  const name = freeName(logs);
  const bare: PressLog = {
    id: freeId(
      logs.map(({ id }) => id),
      name.toLowerCase().replace(' ', '-'),
    ),
    name,
    ...(known.start === project.attractMode ? {} : { lampshow: known.start }),
    lengthMs: inWhole(Math.max(framesMs, (presses.at(-1)?.atMs ?? 0) + frameMs)),
    presses,
  };
  const played = playedNow(workbench, bare)!;
  workbench.edit('Keep as a test', addPressLog({ ...bare, expected: played.slice(0, limits.pressesPerLog) }));
  if (workbench.project.pressLogs?.some(({ id }) => id === bare.id))
    workbench.set({ game: { ...workbench.state.game, log: bare.id, pane: 'tests' } });
  else
    workbench.set({
      message: { title: 'The game was not kept', lines: [`A project holds ${limits.pressLogs} tests.`] },
    });
}

/** The edit that makes what plays now what is expected of a log. */
export function expectedNow(workbench: Workbench, log: PressLog): Edit | undefined {
  const played = playedNow(workbench, log);
  return played && changePressLog(log.id, { expected: played.slice(0, limits.pressesPerLog) });
}
