// A picture of the glass at the frame that is shown: a PNG of a chosen width.
import { useEffect, useMemo, useRef, useState } from 'react';
import { Derived, NumberField } from '../../../fields/index.ts';
import { fileNameOf, projectExtension } from '../../../files/file-store.ts';
import { pictureSize } from '../../../film/film-plan.ts';
import { figure, seconds } from '../../../format.ts';
import { frameInPass } from '../../../playback/playback.ts';
import { useCommander, usePlaybackState, useSettled, useWorkbench } from '../../../workbench/context.ts';
import { Halves, Note } from '../../runs/dialog.tsx';
import { useShow } from '../use-show.ts';
import css from './share.module.css';
import type { SharePart } from './share-part.ts';
import { leastWidthPx, mostPicturePx, useFilmCanvas } from './use-film-canvas.ts';

const firstWidthPx = 1600;
/** As large as the dialog shows it, twice over for fine screens. */
const previewPx = 1000;

/** The canvas as the bytes of a PNG. */
async function pngOf(canvas: HTMLCanvasElement): Promise<Uint8Array<ArrayBuffer>> {
  const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, 'image/png'));
  if (!blob) throw new Error('this browser makes no PNG of this size');
  return new Uint8Array(await blob.arrayBuffer());
}

export function usePicturePart(isActive: boolean): SharePart {
  const { files } = useCommander();
  const workbench = useWorkbench();
  const { project, frameMs } = useSettled();
  const show = useShow();
  const { frame } = usePlaybackState();
  const [widthPx, setWidthPx] = useState(firstWidthPx);
  const canvasOf = useFilmCanvas();
  const size = pictureSize(project.panel, widthPx);
  const place = frameInPass(frame, frameMs, show.lengthMs);

  const save = async () => {
    const film = canvasOf(size);
    film.paint(workbench.wireBytes(show.id, frame));
    const bytes = await pngOf(film.canvas);
    film.dispose();
    const name = fileNameOf(project.name).replace(projectExtension, `-${show.id}-${place}.png`);
    await files.saveBytes(name, bytes, 'image/png');
  };

  return {
    act: 'Save the picture',
    onAct: () => void save(),
    body: (
      <Halves
        fields={
          <>
            <NumberField
              label="Width"
              unit="px"
              digits={0}
              step={10}
              least={leastWidthPx}
              most={mostPicturePx}
              value={widthPx}
              onChange={setWidthPx}
            />
            <Derived label="Height" unit="px">
              {figure(size.heightPx)}
            </Derived>
            <Derived label="Moment" unit="s">
              {seconds(place * frameMs)}
            </Derived>
            <Derived label="Frame">{figure(place)}</Derived>
            <Note>
              The glass as it is seen now, with its artwork, the room’s light and the exposure. Move the
              playhead for another moment.
            </Note>
          </>
        }
      >
        <Preview isActive={isActive} frame={frame} />
      </Halves>
    ),
  };
}

/** The glass at a frame, as it will be in the picture. */
export function Preview({ isActive, frame }: { readonly isActive: boolean; readonly frame: number }) {
  const workbench = useWorkbench();
  const { project } = useSettled();
  const show = useShow();
  const canvasOf = useFilmCanvas();
  const box = useRef<HTMLDivElement>(null);
  const { panel } = project;
  const film = useMemo(
    () => (isActive ? canvasOf(pictureSize(panel, previewPx)) : undefined),
    [isActive, canvasOf, panel],
  );
  useEffect(() => {
    if (!film) return;
    const { canvas } = film;
    canvas.setAttribute('role', 'img');
    canvas.setAttribute('aria-label', 'What will be seen');
    box.current!.replaceChildren(canvas);
    return () => film.dispose();
  }, [film]);
  useEffect(() => film?.paint(workbench.wireBytes(show.id, frame)), [film, workbench, show.id, frame]);
  return <div ref={box} className={css['preview']} />;
}
