// Under the canvas: which show, where it stands, Play, and the rows with their clips.
import { Joystick, Plus } from 'lucide-react';
import { useEffect, useRef } from 'react';
import { Button, Segments } from '../../fields/index.ts';
import { figure, seconds } from '../../format.ts';
import { framesOfShow } from '../../playback/frames.ts';
import { frameInPass } from '../../playback/playback.ts';
import {
  useCommander,
  useEdit,
  usePlaybackPart,
  usePlaybackState,
  useProject,
  useSettled,
  useWorkbench,
} from '../../workbench/context.ts';
import { nothing } from '../../workbench/selection.ts';
import css from './dock.module.css';
import { GameDock } from './events/game-dock.tsx';
import { useIsGame } from './events/use-game.ts';
import { useChosenRow } from './row-choice.ts';
import { plannedClip, plannedShow } from './show-edits.ts';
import { Timeline } from './timeline.tsx';
import { useShow, useShowFollowsSelection } from './use-show.ts';
import { namedChoices } from './words.ts';

function ShowTabs() {
  const { playback } = useWorkbench();
  const shows = useProject(({ lampshows }) => lampshows);
  const chosen = usePlaybackPart('show');
  const box = useRef<HTMLDivElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the chosen tab is scrolled to when it is another
  useEffect(() => {
    const label = box.current?.querySelector(':checked')?.closest('label');
    label?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
  }, [chosen]);
  return (
    <div className={css['shows']} ref={box}>
      <Segments
        label="Lampshow"
        value={chosen}
        choices={namedChoices(shows)}
        onChange={(id) => playback.choose(id)}
      />
    </div>
  );
}

function NewShow() {
  const workbench = useWorkbench();
  const edit = useEdit();
  return (
    <Button
      label="New show"
      onPress={() => {
        const { edit: recipe, place } = plannedShow(workbench.project);
        edit('New show', recipe);
        if (workbench.project.lampshows.some(({ id }) => id === place)) workbench.playback.choose(place);
        workbench.select(nothing);
      }}
    >
      <Plus size={14} aria-hidden="true" className={css['plus']!} />
      <span className={css['wide']}>New show</span>
    </Button>
  );
}

function Readout() {
  const { frame } = usePlaybackState();
  const { frameMs } = useSettled();
  const show = useShow();
  const isAttract = useProject(({ attractMode }) => attractMode) === show.id;
  const place = frameInPass(frame, frameMs, show.lengthMs);
  return (
    <p className={css['readout']}>
      <span className={css['time']}>
        {seconds(place * frameMs)}
        <span className={css['soft']}> s</span>
      </span>
      <span className={css['frames']}>
        <span>
          frame <b>{figure(place)}</b> of <b>{figure(framesOfShow(show, frameMs))}</b>,
        </span>{' '}
        <span title={isAttract ? '' : 'In the game it plays once; here it repeats'}>
          {isAttract ? 'loops' : 'repeats'} every <b>{seconds(show.lengthMs)} s</b>
        </span>
      </span>
    </p>
  );
}

function PlayButton() {
  const { playback } = useWorkbench();
  const playing = usePlaybackPart('playing');
  return (
    <button type="button" className={css['play']} aria-keyshortcuts="Space" onClick={() => playback.toggle()}>
      <svg width="10" height="10" viewBox="0 0 10 10" aria-hidden="true" focusable="false">
        <path d={playing ? 'M1 0H4V10H1ZM6 0H9V10H6Z' : 'M1 0L10 5L1 10Z'} fill="currentColor" />
      </svg>
      {playing ? 'Pause' : 'Play'}
    </button>
  );
}

/** Adds a clip and chooses it; nothing happens where there is no area or no room. */
export function useAddClip(): (row: number, startMs: number) => void {
  const workbench = useWorkbench();
  const edit = useEdit();
  const show = useShow();
  return (row, startMs) => {
    const planned = plannedClip(workbench.project, show, row, startMs);
    if (!planned) {
      workbench.set({
        message: {
          title: 'No clip was added',
          lines: [
            'A clip needs an area to play on: make one in Runs. A show holds 512 clips, a project 1 000.',
          ],
        },
      });
      return;
    }
    edit('Add clip', planned.edit);
    workbench.select({ kind: 'clip', ...planned.place });
  };
}

function AddClip() {
  const { playback } = useWorkbench();
  const { frameMs } = useSettled();
  const show = useShow();
  const row = useChosenRow(show);
  const addClip = useAddClip();
  return (
    <Button
      onPress={() =>
        addClip(Math.max(0, row), frameInPass(playback.current().frame, frameMs, show.lengthMs) * frameMs)
      }
    >
      Add a clip
    </Button>
  );
}

function AsTheGame() {
  const commander = useCommander();
  return (
    <Button label="Play as the game" onPress={() => commander.run('game-play')}>
      <Joystick size={14} aria-hidden="true" />
      <span className={css['wide']}>As the game</span>
    </Button>
  );
}

export function Dock() {
  useShowFollowsSelection();
  const isGame = useIsGame();
  if (isGame) return <GameDock />;
  return (
    <div className={css['dock']}>
      <div className={css['bar']} data-bar="transport">
        <ShowTabs />
        <NewShow />
        <AsTheGame />
        <Readout />
        <PlayButton />
        <AddClip />
      </div>
      <Timeline />
    </div>
  );
}
