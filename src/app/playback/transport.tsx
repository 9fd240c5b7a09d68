// The bar under the glass: which show, where it stands, and Play or Pause.
import { figure, seconds } from '../format.ts';
import { framesOfShow, type OpenedProject, showName } from '../opening/open-project.ts';
import { frameInPass, type Playback } from './playback.ts';
import css from './transport.module.css';
import { usePlaybackPart, usePlaybackState } from './use-playback.ts';

function ShowChoice({ opened, playback }: { readonly opened: OpenedProject; readonly playback: Playback }) {
  const chosen = usePlaybackPart(playback, 'show');
  return (
    <fieldset className={css['shows']}>
      <legend className="visually-hidden">Lampshow</legend>
      {opened.project.lampshows.map((show, index) => (
        <label key={show.id} className={css['show']}>
          <input
            type="radio"
            name="lampshow"
            value={show.id}
            checked={show.id === chosen}
            onChange={() => playback.choose(show.id)}
            className="visually-hidden"
            {...(index < 9 ? { 'aria-keyshortcuts': String(index + 1) } : {})}
          />
          {showName(show)}
        </label>
      ))}
    </fieldset>
  );
}

function Readout({ opened, playback }: { readonly opened: OpenedProject; readonly playback: Playback }) {
  const { show: id, frame } = usePlaybackState(playback);
  const { frameMs } = opened.examination;
  const show = opened.project.lampshows.find((one) => one.id === id)!;
  const place = frameInPass(frame, frameMs, show.lengthMs);
  const frames = framesOfShow(show, frameMs);
  return (
    <p className={css['readout']}>
      <span className={css['time']}>
        {seconds(place * frameMs)}
        <span className={css['soft']}> s</span>
      </span>
      <span className={css['soft']}>
        frame <span className={css['place']}>{figure(place)}</span> of{' '}
        <span className={css['place']}>{figure(frames)}</span>, repeats every{' '}
        <span className={css['place']}>{seconds(show.lengthMs)} s</span>
      </span>
    </p>
  );
}

function PlayButton({ playback }: { readonly playback: Playback }) {
  const playing = usePlaybackPart(playback, 'playing');
  return (
    <button type="button" className={css['play']} aria-keyshortcuts="Space" onClick={() => playback.toggle()}>
      <svg width="10" height="10" viewBox="0 0 10 10" aria-hidden="true" focusable="false">
        <path d={playing ? 'M1 0H4V10H1ZM6 0H9V10H6Z' : 'M1 0L10 5L1 10Z'} fill="currentColor" />
      </svg>
      {playing ? 'Pause' : 'Play'}
    </button>
  );
}

export const Transport = (props: { readonly opened: OpenedProject; readonly playback: Playback }) => (
  <div className={css['bar']} data-bar="transport">
    <ShowChoice {...props} />
    <Readout {...props} />
    <PlayButton playback={props.playback} />
  </div>
);
