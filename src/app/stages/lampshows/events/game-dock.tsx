// Under the canvas while a game is played: how long it has been running, a button for each game event, and which show had the panel when.
import { Button } from '../../../fields/index.ts';
import { figure, seconds } from '../../../format.ts';
import {
  useCommander,
  usePlaybackPart,
  usePlaybackState,
  useSettled,
  useWorkbench,
} from '../../../workbench/context.ts';
import { newGame } from '../../../workbench/game.ts';
import dock from '../dock.module.css';
import { nameOf } from '../words.ts';
import { EventStrip } from './event-strip.tsx';
import css from './events.module.css';
import { GameRuler } from './game-ruler.tsx';
import { useKeptLog, usePlayedGame } from './use-game.ts';

function Readout() {
  const { frame } = usePlaybackState();
  const { frameMs } = useSettled();
  return (
    <p className={dock['readout']}>
      <span className={dock['time']}>
        {seconds(frame * frameMs)}
        <span className={dock['soft']}> s</span>
      </span>
      <span className={dock['frames']}>
        <span>
          frame <b>{figure(frame)}</b>
        </span>{' '}
        <span>since power-up</span>
      </span>
    </p>
  );
}

function WhatPlays() {
  const log = useKeptLog();
  const { presses } = usePlayedGame();
  return (
    <p className={css['what']} data-game-log={log?.id ?? ''}>
      {log ? `Replays ${nameOf(log)}` : presses.length === 0 ? 'No presses yet' : 'Recording'}
    </p>
  );
}

export function GameDock() {
  const workbench = useWorkbench();
  const commander = useCommander();
  const playing = usePlaybackPart('playing');
  const isKept = useKeptLog() !== undefined;
  const { presses } = usePlayedGame();
  return (
    <div className={dock['dock']} data-game-dock>
      <div className={dock['bar']} data-bar="game">
        <Button onPress={() => workbench.playback.leaveGame()}>Back to one show</Button>
        <WhatPlays />
        <Readout />
        <Button onPress={() => commander.run('play')}>{playing ? 'Pause' : 'Play'}</Button>
        <Button onPress={() => commander.run('game-again')}>From power-up</Button>
        <Button onPress={() => newGame(workbench)}>New game</Button>
        <Button
          tone="main"
          isDisabled={isKept || presses.length === 0}
          onPress={() => commander.run('game-keep')}
        >
          Keep as a test
        </Button>
      </div>
      <EventStrip />
      <GameRuler />
    </div>
  );
}
