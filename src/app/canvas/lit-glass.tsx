// The lit glass on the canvas: what the player sends at the frame that is due, as the eye sees it. What it shows is said in data attributes; the
// bytes' CRC only while the show stands still, because it is meant for comparing single frames.
import { memo, useMemo } from 'react';
import { lightScene } from '../../light/index.ts';
import { crc32 } from '../glass/crc32.ts';
import { Glass } from '../glass/glass.tsx';
import { showName } from '../playback/frames.ts';
import { usePlaybackState, useScreen, useSettled, useWorkbench } from '../workbench/context.ts';
import css from './canvas.module.css';
import { useArtwork, useOpacity } from './use-artwork.ts';

/** The frame that is due, of the project as it settled, and the scene that it is shown in. */
export function useLitPanel() {
  const workbench = useWorkbench();
  const { frame, playing } = usePlaybackState();
  // A press changes what is shown at the very same frame.
  const { isOn: isGame } = useScreen((state) => state.game);
  const { project, layout } = useSettled();
  const { panel, sheets } = project;
  const scene = useMemo(
    () => lightScene({ panel, ...(sheets && { sheets }) }, layout),
    [panel, sheets, layout],
  );
  const { bytes, show } = workbench.shown();
  const chosen = project.lampshows.find((one) => one.id === show);
  const label = `${project.name} as it looks lit, playing ${isGame ? 'the game, now ' : ''}${chosen ? showName(chosen) : show}`;
  return { scene, bytes, show, frame, frameKey: `${show} ${frame}`, playing, label, isGame };
}

/** While somebody stands in front of the panel, the canvas behind is not seen, and its light would be worked out twice. */
export const LitGlass = memo(function LitGlass() {
  const isStanding = useScreen((state) => state.viewer.isStanding);
  return isStanding ? null : <OnCanvas />;
});

/** Drawn anew for what it reads alone, not whenever the canvas is: a drag over the glass leaves the light as it is until the hand rests. */
function OnCanvas() {
  const { scene, bytes, show, frame, frameKey, playing, label, isGame } = useLitPanel();
  const roomLight = useScreen((state) => state.roomLight);
  const exposureStops = useScreen((state) => state.exposureStops);
  const artwork = useArtwork();
  const opacity = useOpacity();
  return (
    <div
      className={css['glass']}
      data-glass
      data-game={isGame}
      data-show={show}
      data-frame={frame}
      {...(playing ? {} : { 'data-wire-crc': crc32(bytes).toString(16).padStart(8, '0') })}
    >
      <Glass
        scene={scene}
        artwork={artwork?.image}
        opacity={opacity?.image}
        wireBytes={bytes}
        frameKey={frameKey}
        roomLight={roomLight}
        exposureStops={exposureStops}
        label={label}
        renderer="auto"
      />
    </div>
  );
}
