// The glass: a canvas that fills its parent, which stands for exactly the panel's rectangle, with one frame of the lit panel on it.
// It repaints when the scene, the artwork, the frame, the room, the exposure or its size changes. Not here: playback, pan and zoom.
import { useEffect, useLayoutEffect, useRef, useState } from 'react';
import { frameByteCount, type LightScene } from '../../light/index.ts';
import { Eye } from './eye.ts';
import css from './glass.module.css';
import { cpuPainter, type GlassPainter, gpuPainter } from './painters.ts';

/** More pixels than this per CSS pixel can't be seen in soft light, but cost time. */
const mostPixelRatio = 2;
/** Zoomed in, the canvas is larger than the screen; from here on the browser stretches it. */
const mostPixels = 4e6;

export interface GlassProps {
  /** As `lightScene` of src/light makes it. A new object means a change. */
  readonly scene: LightScene;
  readonly artwork: HTMLImageElement | undefined;
  /** Multiplies what the artwork lets through. */
  readonly opacity?: HTMLImageElement | undefined;
  /** One frame as it goes out, of the scene's LEDs; bytes of another number of LEDs are not painted. Read while rendering is committed. */
  readonly wireBytes: Uint8Array;
  /** Names the frame: bytes may change in place. */
  readonly frameKey: string | number;
  /** 0 dark to 1 lit. */
  readonly roomLight: number;
  readonly exposureStops: number;
  /** Whether the eye gets used to the light: as it stands where the picture stands, and by and by while it moves. Not at all where absent. */
  readonly eye?: 'stands' | 'moves' | undefined;
  /** What the picture shows, in words. */
  readonly label: string;
  /** `gpu` takes WebGL even where the processor has to do its work; `auto` then paints here. */
  readonly renderer?: 'auto' | 'gpu' | 'cpu';
}

export function Glass({ renderer = 'auto', ...props }: GlassProps) {
  const [withoutGpu, setWithoutGpu] = useState(false);
  const kind = renderer === 'cpu' || withoutGpu ? 'cpu' : 'gpu';
  // A canvas that was asked for one kind of context gives no other: each kind has its own.
  return (
    <GlassCanvas
      key={`${kind} ${renderer}`}
      {...props}
      kind={kind}
      forced={renderer === 'gpu'}
      onFailure={() => setWithoutGpu(true)}
    />
  );
}

/** Pixels that the element covers on the screen, kept up to date. */
function usePixelSize(ref: { readonly current: HTMLElement | null }) {
  const [size, setSize] = useState({ widthPx: 0, heightPx: 0 });
  useEffect(() => {
    const observer = new ResizeObserver(([entry]) => {
      const { width, height } = entry!.contentRect;
      const ratio = Math.min(
        mostPixelRatio,
        devicePixelRatio,
        Math.sqrt(mostPixels / Math.max(1, width * height)),
      );
      const widthPx = Math.round(width * ratio);
      const heightPx = Math.round(height * ratio);
      setSize((known) =>
        known.widthPx === widthPx && known.heightPx === heightPx ? known : { widthPx, heightPx },
      );
    });
    observer.observe(ref.current!);
    return () => observer.disconnect();
  }, [ref]);
  return size;
}

function GlassCanvas({
  scene,
  artwork,
  opacity,
  wireBytes,
  frameKey,
  roomLight,
  exposureStops,
  eye,
  label,
  kind,
  forced,
  onFailure,
}: Omit<GlassProps, 'renderer'> & {
  readonly kind: 'gpu' | 'cpu';
  readonly forced: boolean;
  readonly onFailure: () => void;
}) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const [painter, setPainter] = useState<GlassPainter>();
  const { widthPx, heightPx } = usePixelSize(canvas);
  const eyeOf = useRef(new Eye());

  // biome-ignore lint/correctness/useExhaustiveDependencies: kind and forced never change, the key does
  useLayoutEffect(() => {
    const made = kind === 'gpu' ? gpuPainter(canvas.current!, forced) : cpuPainter(canvas.current!);
    if (!made) {
      onFailure();
      return;
    }
    setPainter(made);
    return () => made.dispose();
  }, []);
  useLayoutEffect(() => painter?.setScene(scene, { artwork, opacity }), [painter, scene, artwork, opacity]);
  useLayoutEffect(() => {
    if (widthPx > 0 && heightPx > 0) painter?.resize(widthPx, heightPx);
  }, [painter, widthPx, heightPx]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: artwork and opacity are painted too, and the key says when the bytes are others
  useLayoutEffect(() => {
    if (widthPx === 0 || heightPx === 0 || wireBytes.length !== frameByteCount(scene.sources)) return;
    const adaptedStops = eye ? eyeOf.current.stopsAt(scene, wireBytes, roomLight, eye === 'moves') : 0;
    painter?.paint(wireBytes, { roomLight, exposureStops, adaptedStops });
  }, [
    painter,
    scene,
    artwork,
    opacity,
    wireBytes,
    frameKey,
    roomLight,
    exposureStops,
    eye,
    widthPx,
    heightPx,
  ]);

  return <canvas ref={canvas} className={css['glass']} role="img" aria-label={label} data-renderer={kind} />;
}
