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

/** Drawn anew for what it reads alone, not whenever the canvas is: a drag over the glass leaves the light as it is until the hand rests. */
export const LitGlass = memo(function LitGlass() {
  const workbench = useWorkbench();
  const { show, frame, playing } = usePlaybackState();
  const compiled = useSettled();
  const roomLight = useScreen((state) => state.roomLight);
  const exposureStops = useScreen((state) => state.exposureStops);
  const artwork = useArtwork();
  const opacity = useOpacity();
  const { project, layout } = compiled;
  const { panel, sheets } = project;
  const scene = useMemo(
    () => lightScene({ panel, ...(sheets && { sheets }) }, layout),
    [panel, sheets, layout],
  );
  const bytes = workbench.wireBytes(show, frame);
  const chosen = project.lampshows.find((one) => one.id === show);
  return (
    <div
      className={css['glass']}
      data-glass
      data-show={show}
      data-frame={frame}
      {...(playing ? {} : { 'data-wire-crc': crc32(bytes).toString(16).padStart(8, '0') })}
    >
      <Glass
        scene={scene}
        artwork={artwork?.image}
        opacity={opacity?.image}
        wireBytes={bytes}
        frameKey={`${show} ${frame}`}
        roomLight={roomLight}
        exposureStops={exposureStops}
        label={`${project.name} as it looks lit, playing ${chosen ? showName(chosen) : show}`}
        renderer="auto"
      />
    </div>
  );
});
