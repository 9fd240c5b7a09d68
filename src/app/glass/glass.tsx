// The glass: the panel's edge, its opening, and the lit artwork in it. What it shows is said in data attributes, the bytes' CRC only
// while the show stands still, because it is meant for comparing single frames.
import { useEffect, useLayoutEffect, useRef, useState } from 'react';
import { type OpenedProject, showName } from '../opening/open-project.ts';
import type { Playback } from '../playback/playback.ts';
import { usePlaybackState } from '../playback/use-playback.ts';
import { crc32 } from './crc32.ts';
import css from './glass.module.css';
import { GlassPainter, openingOf } from './glass-painter.ts';

/** More pixels than this per CSS pixel can't be seen in soft light, but cost time. */
const mostPixelRatio = 2;

/** Pixels that the element covers on the screen, kept up to date. */
function usePixelSize(ref: { readonly current: HTMLElement | null }) {
  const [size, setSize] = useState({ widthPx: 0, heightPx: 0 });
  useEffect(() => {
    const observer = new ResizeObserver(([entry]) => {
      const ratio = Math.min(mostPixelRatio, devicePixelRatio);
      const { width, height } = entry!.contentRect;
      setSize({ widthPx: Math.round(width * ratio), heightPx: Math.round(height * ratio) });
    });
    observer.observe(ref.current!);
    return () => observer.disconnect();
  }, [ref]);
  return size;
}

const percent = (part: number, whole: number): string => `${(100 * part) / whole}%`;

export function Glass({
  opened,
  playback,
  roomLight,
}: {
  readonly opened: OpenedProject;
  readonly playback: Playback;
  readonly roomLight: number;
}) {
  const { show: id, frame, playing } = usePlaybackState(playback);
  const canvas = useRef<HTMLCanvasElement>(null);
  const painter = useRef<GlassPainter>(null);
  const { widthPx, heightPx } = usePixelSize(canvas);
  const { project } = opened;
  const { widthMm, heightMm } = project.panel;
  const opening = openingOf(project);
  const show = project.lampshows.find((one) => one.id === id)!;

  useLayoutEffect(() => {
    painter.current = new GlassPainter(canvas.current!, opened);
  }, [opened]);
  useLayoutEffect(() => {
    if (widthPx > 0 && heightPx > 0) painter.current?.resize(widthPx, heightPx);
  }, [widthPx, heightPx]);
  // Sizes are listed too: a canvas that was resized is empty.
  useLayoutEffect(() => {
    if (widthPx > 0 && heightPx > 0) painter.current?.paint(opened.wireBytes(id, frame), roomLight);
  }, [opened, id, frame, roomLight, widthPx, heightPx]);

  return (
    <div className={css['stage']} style={{ '--panel-aspect': widthMm / heightMm } as React.CSSProperties}>
      <figure
        className={css['panel']}
        data-glass
        data-show={id}
        data-frame={frame}
        {...(playing
          ? {}
          : { 'data-wire-crc': crc32(opened.wireBytes(id, frame)).toString(16).padStart(8, '0') })}
      >
        <canvas
          ref={canvas}
          className={css['opening']}
          role="img"
          aria-label={`${project.name} as it looks lit, playing ${showName(show)}`}
          style={{
            left: percent(opening.xMm, widthMm),
            top: percent(opening.yMm, heightMm),
            width: percent(opening.widthMm, widthMm),
            height: percent(opening.heightMm, heightMm),
          }}
        />
      </figure>
    </div>
  );
}
