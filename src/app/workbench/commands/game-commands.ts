// The game by keys: playing it, pressing its events, keeping it as a test. Digits press the first nine events, then letters that mean nothing else
// while a game is played.
import { keepAsTest, keptLog, playGame, pressEvent } from '../game.ts';
import type { WorkbenchState } from '../workbench.ts';
import type { ActCommand } from './command.ts';

/** In the order of the events; those behind have none. */
export const eventKeys: readonly string[] = [...'123456789QRTYUIOPHJKXCNMDS'];

/** Where the events' buttons are in view, or nothing but the glass. */
const isPlayed = ({ game, stage, viewer }: WorkbenchState): boolean =>
  game.isOn && (stage === 'lampshows' || viewer.isStanding);

const pressing = eventKeys.map(
  (key, index): ActCommand => ({
    id: `event-${index + 1}`,
    label: `Press game event ${index + 1}`,
    keys: [key],
    isOnceAPress: true,
    when: (state) => isPlayed(state) && index < (state.history.project.gameEvents?.length ?? 0),
    run: ({ workbench }) => pressEvent(workbench, workbench.project.gameEvents![index]!.id),
  }),
);

export const gameCommands: readonly ActCommand[] = [
  ...pressing,
  {
    id: 'game-play',
    label: 'Play as the game, or one show',
    keys: ['G'],
    isOnceAPress: true,
    when: ({ stage }) => stage === 'lampshows',
    run: ({ workbench }) => {
      if (workbench.state.game.isOn) workbench.playback.leaveGame();
      else playGame(workbench);
    },
  },
  {
    id: 'game-again',
    label: 'The game from power-up again',
    keys: ['Shift+G'],
    when: isPlayed,
    run: ({ workbench }) => playGame(workbench),
  },
  {
    id: 'game-keep',
    label: 'Keep the game as a test',
    keys: ['Shift+K'],
    isOnceAPress: true,
    // What is replayed is kept already.
    when: (state) => isPlayed(state) && !keptLog(state.history.project, state.game),
    run: ({ workbench }) => keepAsTest(workbench),
  },
];
