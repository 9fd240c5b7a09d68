// In front of the panel: nothing on the page but the lit panel, as large as it looks from where the viewer stands, in a dark surround; and a bar to
// say from where, and what of it is looked at. Playing goes on; Escape leads back to the drawing.
// Not here: keys (commands/room-commands.ts), the light (src/light), the eye (src/light/eye.ts).
import { Pause, Play } from 'lucide-react';
import { useEffect, useRef } from 'react';
import { eyeBlurMm, seenPixelsPerMm } from '../../light/index.ts';
import { useLitPanel } from '../canvas/lit-glass.tsx';
import { useArtwork, useOpacity } from '../canvas/use-artwork.ts';
import { Button, CheckField, NumberField, Segments } from '../fields/index.ts';
import { useSize } from '../frame/use-size.ts';
import { BareLeds } from '../glass/bare-leds.tsx';
import { Glass } from '../glass/glass.tsx';
import { lookRows, setViewer } from '../workbench/commands/room-commands.ts';
import { useCommander, usePlaybackPart, useProject, useScreen, useWorkbench } from '../workbench/context.ts';
import css from './room.module.css';
import { RoomWiring } from './room-wiring.tsx';
import { seenWords } from './seen-words.ts';

const [nearestMetres, farthestMetres] = [0.4, 5];
/** Less can't be told from sharp. */
const leastBlurPx = 0.4;

const sizes = [
  { id: 'seen', label: 'As large as seen' },
  { id: 'fills', label: 'Fill the page' },
] as const;

/** The panel itself, in a box of its proportions. */
function Panel() {
  const { look, metres, fills, eyeAdapts } = useScreen((state) => state.viewer);
  const roomLight = useScreen((state) => state.roomLight);
  const exposureStops = useScreen((state) => state.exposureStops);
  const { scene, bytes, frame, frameKey, label, playing } = useLitPanel();
  const artwork = useArtwork();
  const opacity = useOpacity();
  const surround = useRef<HTMLDivElement>(null);
  const { width, height } = useSize(surround);
  const { widthMm, heightMm } = scene;
  const pxPerMm = fills ? Math.min(width / widthMm, height / heightMm) : seenPixelsPerMm(metres);
  const blurPx = eyeBlurMm(metres) * pxPerMm;
  return (
    <div ref={surround} className={css['surround']}>
      <div
        className={css['panel']}
        data-look={look}
        data-frame={frame}
        style={{
          width: widthMm * pxPerMm,
          height: heightMm * pxPerMm,
          ...(blurPx >= leastBlurPx && look !== 'wiring' ? { filter: `blur(${blurPx.toFixed(2)}px)` } : {}),
        }}
      >
        {width > 0 && look === 'glass' && (
          <Glass
            scene={scene}
            artwork={artwork?.image}
            opacity={opacity?.image}
            wireBytes={bytes}
            frameKey={frameKey}
            roomLight={roomLight}
            exposureStops={exposureStops}
            eye={eyeAdapts ? (playing ? 'moves' : 'stands') : undefined}
            label={label}
          />
        )}
        {width > 0 && look === 'bare' && (
          <BareLeds
            scene={scene}
            wireBytes={bytes}
            frameKey={frameKey}
            exposureStops={exposureStops}
            label={`${label}, LEDs without a sheet`}
          />
        )}
        {look === 'wiring' && <RoomWiring />}
      </div>
    </div>
  );
}

function Bar() {
  const workbench = useWorkbench();
  const commander = useCommander();
  const playing = usePlaybackPart('playing');
  const { look, metres, fills, eyeAdapts } = useScreen((state) => state.viewer);
  const exposureStops = useScreen((state) => state.exposureStops);
  const { widthMm, heightMm } = useProject((project) => project.panel);
  return (
    <div className={css['bar']} role="toolbar" aria-label="In front of the panel">
      <Button label={playing ? 'Pause' : 'Play'} onPress={() => commander.run('play')}>
        {playing ? <Pause size={14} aria-hidden="true" /> : <Play size={14} aria-hidden="true" />}
      </Button>
      <Segments
        label="Look at"
        value={look}
        choices={lookRows}
        onChange={(id) => setViewer(workbench, { look: id })}
      />
      <label className={css['distance']}>
        <span>Seen from</span>
        <input
          type="range"
          aria-label="Viewing distance"
          min={nearestMetres}
          max={farthestMetres}
          step={0.1}
          value={metres}
          aria-valuetext={`${metres.toFixed(1)} metres`}
          onChange={(event) => setViewer(workbench, { metres: event.currentTarget.valueAsNumber })}
        />
      </label>
      <NumberField
        isBare
        label="Viewing distance in metres"
        unit="m"
        value={metres}
        least={nearestMetres}
        most={farthestMetres}
        step={0.1}
        onChange={(typed) => setViewer(workbench, { metres: typed })}
      />
      <Segments
        label="Size"
        value={fills ? 'fills' : 'seen'}
        choices={sizes}
        onChange={(id) => setViewer(workbench, { fills: id === 'fills' })}
      />
      <div className={css['eye']}>
        <CheckField
          label="Eye adapts"
          value={eyeAdapts}
          onChange={(adapts) => setViewer(workbench, { eyeAdapts: adapts })}
        />
      </div>
      <span aria-hidden="true">Exposure</span>
      <NumberField
        isBare
        label="Exposure"
        unit="EV"
        value={exposureStops}
        least={-6}
        most={6}
        step={0.1}
        onChange={(stops) => workbench.set({ exposureStops: stops })}
      />
      <span className={css['words']}>{seenWords(widthMm, heightMm, metres)}</span>
      <Button onPress={() => commander.run('room-leave')}>Step back</Button>
    </div>
  );
}

export function Room() {
  const section = useRef<HTMLElement>(null);
  // Keys then reach the room, and a reader begins here; leaving gives the focus back.
  useEffect(() => {
    const before = document.activeElement;
    section.current?.focus();
    return () => {
      if (before instanceof HTMLElement) before.focus();
    };
  }, []);
  return (
    <section ref={section} className={css['room']} aria-label="In front of the panel" tabIndex={-1}>
      <Panel />
      <Bar />
    </section>
  );
}
