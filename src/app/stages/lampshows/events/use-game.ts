// The game for components: what was pressed, what the director holds at the frame that is due, which show has the panel over time.
import { useMemo } from 'react';
import { type DirectorState, type PlayedShow, playedShows } from '../../../../lampshow/index.ts';
import type { Project } from '../../../../project/index.ts';
import {
  usePlaybackPart,
  usePlaybackState,
  useProject,
  useScreen,
  useSettled,
  useWorkbench,
} from '../../../workbench/context.ts';
import { type Game, keptLog, type PlayedGame, playedGame } from '../../../workbench/game.ts';

export const useGame = (): Game => useScreen(({ game }) => game);
export const useIsGame = (): boolean => useScreen(({ game }) => game.isOn);

export function usePlayedGame(): PlayedGame {
  const game = useGame();
  const project = useProject((one) => one);
  return useMemo(() => playedGame(project, game), [project, game]);
}

export function useKeptLog() {
  const game = useGame();
  return useProject((project) => keptLog(project, game));
}

/** Undefined where the shows are too large for any player. */
export function useDirector(): DirectorState | undefined {
  const workbench = useWorkbench();
  const { frame } = usePlaybackState();
  // What is pressed and what is edited changes it at the same frame.
  useGame();
  useSettled();
  return workbench.performance()?.directorAt(frame);
}

const leastExtentMs = 20_000;
const behindLastMs = 5000;

/** How much time the game's ruler spans: whole twenties of seconds, so that it seldom changes. */
export function gameExtentMs(reachedMs: number, lastPressMs: number): number {
  const neededMs = Math.max(reachedMs, lastPressMs + behindLastMs);
  return Math.max(1, Math.ceil(neededMs / leastExtentMs)) * leastExtentMs;
}

export interface GameTime {
  readonly extentMs: number;
  readonly played: readonly PlayedShow[];
}

const noShows: readonly PlayedShow[] = [];

export function useGameTime(): GameTime {
  const workbench = useWorkbench();
  const { project, frameMs, showData } = useSettled();
  const { presses, start } = usePlayedGame();
  const reached = usePlaybackPart('reached') ?? 0;
  const lastPressMs = Math.max(0, ...presses.map(({ atMs }) => atMs));
  const extentMs = gameExtentMs((reached + 1) * frameMs, lastPressMs);
  const played = useMemo(() => {
    if (!showData) return noShows;
    const heard = knownPresses(project, presses);
    const log = { id: 'game', lengthMs: extentMs, presses: heard };
    return playedShows(workbench.ports.player, log, start, frameMs);
  }, [workbench, project, showData, presses, start, extentMs, frameMs]);
  return { extentMs, played };
}

/** Without those of events that are gone. */
export const knownPresses = (
  { gameEvents = [] }: Pick<Project, 'gameEvents'>,
  presses: PlayedGame['presses'],
) => presses.filter(({ event }) => gameEvents.some(({ id }) => id === event));
