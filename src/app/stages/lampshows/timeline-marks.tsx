// The show's markers and beats above its rows, and their lines behind the clips. A marker is a button: a press brings the playhead to it, dragging and
// arrow keys move it, Delete takes it away; the show pane has its name and its time in figures.
import { type KeyboardEvent, memo, type PointerEvent, useEffect, useRef } from 'react';
import { changeMarker, deleteMarker, type Lampshow, type Marker } from '../../../project/index.ts';
import { seconds } from '../../format.ts';
import { useCommander, useEdit, useWorkbench } from '../../workbench/context.ts';
import { attractingMs, draggedMoment } from './clip-times.ts';
import { FlashMarks } from './flash-marks.tsx';
import { followPointer } from './pointer-follow.ts';
import css from './timeline.module.css';

const thresholdPx = 3;
const snapPx = 6;
let dragCount = 0;

export const markerName = ({ name }: Marker, index: number): string => name ?? `Marker ${index + 1}`;

interface MarksProps {
  readonly show: Lampshow;
  readonly extent: number;
}

function MarkerButton({
  show,
  extent,
  marker,
  index,
}: MarksProps & { readonly marker: Marker; readonly index: number }) {
  const workbench = useWorkbench();
  const edit = useEdit();
  const stop = useRef<() => void>(undefined);
  useEffect(() => () => stop.current?.(), []);
  const moveTo = (atMs: number, gesture: string) =>
    edit('Move marker', changeMarker(show.id, index, { atMs: Math.min(show.lengthMs, atMs) }), gesture);
  const onKeyDown = (event: KeyboardEvent) => {
    const { key, shiftKey } = event;
    const step = key === 'ArrowLeft' ? -1 : key === 'ArrowRight' ? 1 : undefined;
    const { frameMs } = workbench.state.settled;
    if (step !== undefined)
      moveTo(marker.atMs + step * frameMs * (shiftKey ? 10 : 1), `nudge marker ${index}`);
    else if (key === 'Delete' || key === 'Backspace') edit('Delete marker', deleteMarker(show.id, index));
    else return;
    event.preventDefault();
    event.stopPropagation();
  };
  const onPointerDown = (event: PointerEvent<HTMLButtonElement>) => {
    if (event.button !== 0) return;
    const msPerPx = extent / event.currentTarget.parentElement!.getBoundingClientRect().width;
    const gesture = `drag marker ${++dragCount}`;
    const { frameMs } = workbench.state.settled;
    const others = (show.markers ?? []).filter((one) => one !== marker);
    const attractMs = attractingMs({ ...show, markers: others }, []);
    let moved = false;
    const onMove = ({ clientX, altKey }: globalThis.PointerEvent) => {
      moved ||= Math.abs(clientX - event.clientX) >= thresholdPx;
      if (!moved) return;
      const snapping = altKey
        ? { stepMs: 1, attractMs: [], withinMs: 0 }
        : { stepMs: frameMs, attractMs, withinMs: snapPx * msPerPx };
      moveTo(draggedMoment(marker.atMs + (clientX - event.clientX) * msPerPx, snapping), gesture);
    };
    stop.current?.();
    stop.current = followPointer({
      move: onMove,
      letGo: () => {
        workbench.endGesture();
        if (!moved) workbench.playback.scrubTo(Math.round(marker.atMs / frameMs));
      },
      callOff: () => workbench.cancelGesture(gesture),
    });
  };
  return (
    <button
      type="button"
      className={css['marker']}
      data-marker={index}
      style={{ left: `${(100 * marker.atMs) / extent}%` }}
      aria-label={`${markerName(marker, index)}, ${seconds(marker.atMs)} s`}
      title={`${markerName(marker, index)}, ${seconds(marker.atMs)} s`}
      onPointerDown={onPointerDown}
      onKeyDown={onKeyDown}
      onClick={({ detail }) => {
        if (detail === 0)
          workbench.playback.scrubTo(Math.round(marker.atMs / workbench.state.settled.frameMs));
      }}
    >
      {markerName(marker, index)}
    </button>
  );
}

/** One path, however many there are. */
function Lines({ timesMs, extent, kind }: { timesMs: readonly number[]; extent: number; kind: string }) {
  if (timesMs.length === 0) return null;
  return (
    <svg
      className={css['lines']}
      data-lines={kind}
      viewBox={`0 0 ${extent} 1`}
      preserveAspectRatio="none"
      aria-hidden="true"
      focusable="false"
    >
      <path d={timesMs.map((ms) => `M${ms} 0V1`).join('')} vectorEffect="non-scaling-stroke" />
    </svg>
  );
}

/** Behind the clips. */
export const MarkLines = memo(function MarkLines({ show, extent }: MarksProps) {
  return (
    <div className={css['line-track']} aria-hidden="true">
      <Lines timesMs={show.beatsMs ?? []} extent={extent} kind="beats" />
      <Lines timesMs={(show.markers ?? []).map(({ atMs }) => atMs)} extent={extent} kind="markers" />
    </div>
  );
});

export const Marks = memo(function Marks({ show, extent }: MarksProps) {
  const commander = useCommander();
  return (
    <div className={css['marks-row']}>
      <div className={css['corner']}>
        <span className={css['corner-label']}>Markers</span>
        <button
          type="button"
          className={css['small-button']}
          aria-label="Add a marker at the playhead"
          aria-keyshortcuts="M"
          title="Add a marker at the playhead (M)"
          onClick={() => commander.run('marker-add')}
        >
          +
        </button>
      </div>
      <div className={css['marks-track']}>
        <FlashMarks show={show} extent={extent} />
        <Lines timesMs={show.beatsMs ?? []} extent={extent} kind="beats" />
        {show.markers?.map((marker, index) => (
          <MarkerButton
            // biome-ignore lint/suspicious/noArrayIndexKey: a marker is known by its place
            key={index}
            show={show}
            extent={extent}
            marker={marker}
            index={index}
          />
        ))}
      </div>
    </div>
  );
});
