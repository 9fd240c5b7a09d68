// The time since power-up: which show had the panel when, the presses, and the slider that goes back and forth. What lies ahead of the furthest frame
// is what would follow if nothing more were pressed.
import { memo } from 'react';
import { seconds } from '../../../format.ts';
import { rulerMarks } from '../../../playback/ruler.ts';
import { usePlaybackState, useProject, useSettled, useWorkbench } from '../../../workbench/context.ts';
import { useScrubbing } from '../use-scrubbing.ts';
import { nameOf } from '../words.ts';
import css from './events.module.css';
import { type GameTime, knownPresses, useGameTime, usePlayedGame } from './use-game.ts';

function Slider({ extentMs }: { readonly extentMs: number }) {
  const { playback } = useWorkbench();
  const { frame, reached = 0 } = usePlaybackState();
  const { frameMs } = useSettled();
  const scrubbing = useScrubbing();
  const percentOf = (ms: number) => `${(100 * ms) / extentMs}%`;
  const last = Math.floor(extentMs / frameMs) - 1;
  return (
    <>
      <span className={css['ahead']} style={{ left: percentOf(reached * frameMs) }} aria-hidden="true" />
      <span className={css['playhead']} style={{ left: percentOf(frame * frameMs) }} aria-hidden="true" />
      <input
        type="range"
        className={css['slider']}
        aria-label="Time since power-up"
        aria-valuetext={`${seconds(frame * frameMs)} seconds, frame ${frame}`}
        min={0}
        max={last}
        value={Math.min(frame, last)}
        onChange={({ currentTarget }) => playback.scrubTo(currentTarget.valueAsNumber)}
        {...scrubbing}
      />
    </>
  );
}

const Played = memo(function Played({ extentMs, played }: GameTime) {
  const project = useProject((one) => one);
  const { presses } = usePlayedGame();
  const percentOf = (ms: number) => `${(100 * ms) / extentMs}%`;
  const named = (list: readonly { readonly id: string; readonly name?: string }[], id: string) =>
    nameOf(list.find((one) => one.id === id) ?? { id });
  return (
    <>
      <div className={css['marks']} aria-hidden="true">
        {rulerMarks(extentMs).map((ms) => (
          <span key={ms} data-last={ms === extentMs} style={{ left: percentOf(ms) }}>
            {ms / 1000}
            {ms === 0 && ' s'}
          </span>
        ))}
      </div>
      <ol className={css['played']} aria-label="Which lampshow has the panel when">
        {played.map(({ atMs, lampshow }, index) => (
          <li
            key={atMs}
            data-attract={lampshow === project.attractMode}
            style={{ left: percentOf(atMs), width: percentOf((played[index + 1]?.atMs ?? extentMs) - atMs) }}
          >
            <span className="visually-hidden">From {seconds(atMs)} s: </span>
            {named(project.lampshows, lampshow)}
          </li>
        ))}
      </ol>
      <div className={css['presses']} aria-hidden="true">
        {knownPresses(project, presses).map(({ atMs, event }, index) => (
          <span
            // biome-ignore lint/suspicious/noArrayIndexKey: a press is known by its place
            key={index}
            title={`${named(project.gameEvents ?? [], event)} at ${seconds(atMs)} s`}
            style={{ left: percentOf(atMs) }}
          />
        ))}
      </div>
    </>
  );
});

export function GameRuler() {
  const { extentMs, played } = useGameTime();
  return (
    <div className={css['time']}>
      <div className={css['track']}>
        <Played extentMs={extentMs} played={played} />
        <Slider extentMs={extentMs} />
      </div>
      <p className={css['hint']}>
        A press counts at the frame that is due. Go back in time to see it again; what is pressed there comes
        in between.
      </p>
    </div>
  );
}
