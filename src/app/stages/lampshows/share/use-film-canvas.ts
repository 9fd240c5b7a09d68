// What a picture or a film is painted from: the glass as it is set now, with the artwork, the room's light and the exposure.
import { useMemo } from 'react';
import { lightScene } from '../../../../light/index.ts';
import { useArtwork, useOpacity } from '../../../canvas/use-artwork.ts';
import { type FilmCanvas, filmCanvas } from '../../../film/film-canvas.ts';
import type { SizePx } from '../../../film/film-plan.ts';
import { useScreen, useSettled } from '../../../workbench/context.ts';

/** Sides in pixels. */
export const leastWidthPx = 64;
export const mostFilmPx = 1920;
export const mostPicturePx = 4096;

/** Gives a canvas of a size; made when asked for, since the light has to be worked out for it. */
export function useFilmCanvas(): (size: SizePx) => FilmCanvas {
  const { project, layout } = useSettled();
  const artwork = useArtwork()?.image;
  const opacity = useOpacity()?.image;
  const roomLight = useScreen((state) => state.roomLight);
  const exposureStops = useScreen((state) => state.exposureStops);
  return useMemo(() => {
    const { panel, sheets } = project;
    const scene = lightScene({ panel, ...(sheets && { sheets }) }, layout);
    return (size) => filmCanvas(scene, { artwork, opacity }, { roomLight, exposureStops }, size);
  }, [project, layout, artwork, opacity, roomLight, exposureStops]);
}
