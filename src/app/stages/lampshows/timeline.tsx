// The rows of the show with their clips over one ruler of time. The first row is drawn first, so it lies under all the others.
import { memo, useEffect, useMemo, useRef } from 'react';
import { areaLeds, type Layout } from '../../../panel/index.ts';
import type { Clip, Project, ShowRow } from '../../../project/index.ts';
import { frameInPass } from '../../playback/playback.ts';
import { timelineView } from '../../playback/timeline-view.ts';
import { usePlaybackState, useProject, useSettled, useWorkbench } from '../../workbench/context.ts';
import { nothing } from '../../workbench/selection.ts';
import { ClipBox } from './clip-box.tsx';
import { clipEndMs, extentMs, lanesOf } from './clip-times.ts';
import { useAddClip } from './dock.tsx';
import { chooseRow, useChosenRow } from './row-choice.ts';
import { Ruler } from './ruler.tsx';
import { SoundStrip, useSoundGuide } from './sound-strip.tsx';
import css from './timeline.module.css';
import { MarkLines, Marks } from './timeline-marks.tsx';
import { type ChoiceBox, useClipDrag } from './use-clip-drag.ts';
import { useShow } from './use-show.ts';
import { type TimelineInView, useTimelineInView, useTimelineScroll } from './use-timeline-view.ts';
import { rowName } from './words.ts';

/** LEDs that some clip of the row plays on, each counted once. */
function ledCountOf(row: ShowRow, areas: Project['areas'], layout: Layout): number {
  const wires = new Set<number>();
  for (const id of new Set(row.clips.map((clip) => clip.area))) {
    const area = areas.find((one) => one.id === id);
    if (area) for (const { wire } of areaLeds(layout, area)) wires.add(wire);
  }
  return wires.size;
}

interface RowProps {
  readonly show: string;
  readonly row: ShowRow;
  readonly index: number;
  readonly extent: number;
  readonly showMs: number;
  readonly inView: TimelineInView;
  readonly isChosen: boolean;
  /** Of a place that is pressed twice. */
  readonly onAdd: (row: number, ms: number) => void;
}

/** Whether a clip is in view, or so near that it will be after a short scroll. */
function isNear(clip: Clip, extent: number, { trackPx, fromPx, toPx }: TimelineInView): boolean {
  const marginPx = toPx - fromPx;
  const pxPerMs = trackPx / extent;
  return clipEndMs(clip) * pxPerMs >= fromPx - marginPx && clip.startMs * pxPerMs <= toPx + marginPx;
}

const Row = memo(function Row({ show, row, index, extent, showMs, inView, isChosen, onAdd }: RowProps) {
  const workbench = useWorkbench();
  const { layout } = useSettled();
  const areas = useProject((project) => project.areas);
  const { laneOfClip, laneCount } = useMemo(() => lanesOf(row), [row]);
  const ledCount = useMemo(() => ledCountOf(row, areas, layout), [row, areas, layout]);
  return (
    <li
      className={css['row']}
      data-row={index}
      data-tight={laneCount > 1}
      data-muted={row.muted === true}
      style={{ '--lanes': laneCount } as React.CSSProperties}
    >
      <button
        type="button"
        className={css['head']}
        aria-pressed={isChosen}
        onClick={() => {
          workbench.select(nothing);
          chooseRow(show, row.id);
        }}
      >
        <span className={css['name']}>{rowName(row)}</span>
        <span className={css['leds']}>
          {ledCount}
          <span className="visually-hidden"> LEDs{row.muted && ', muted'}</span>
        </span>
      </button>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: a short cut; "Add a clip" does the same from the keyboard */}
      <div
        className={css['track']}
        data-track
        onDoubleClick={(event) => {
          if (event.target !== event.currentTarget) return;
          const { left, width } = event.currentTarget.getBoundingClientRect();
          onAdd(index, ((event.clientX - left) / width) * extent);
        }}
        onPointerDown={(event) => {
          if (event.target !== event.currentTarget) return;
          if (!event.shiftKey) workbench.select(nothing);
          chooseRow(show, row.id);
        }}
      >
        {showMs < extent && (
          <span
            className={css['beyond']}
            style={{ left: `${(100 * showMs) / extent}%` }}
            aria-hidden="true"
          />
        )}
        {row.clips.map(
          (clip, place) =>
            isNear(clip, extent, inView) && (
              <ClipBox
                // biome-ignore lint/suspicious/noArrayIndexKey: a clip is known by its place
                key={place}
                show={show}
                row={index}
                index={place}
                clip={clip}
                lane={laneOfClip[place]!}
                extent={extent}
                inView={inView}
              />
            ),
        )}
      </div>
    </li>
  );
});

/** Its own component: it alone is drawn again with every frame. While the show plays, what is in view goes along with it. */
function Playhead({ extent, showMs }: { readonly extent: number; readonly showMs: number }) {
  const { frame, playing } = usePlaybackState();
  const { frameMs } = useSettled();
  const atMs = frameInPass(frame, frameMs, showMs) * frameMs;
  useEffect(() => {
    if (playing) timelineView.show(atMs);
  }, [playing, atMs]);
  return (
    <div className={css['playhead-track']} aria-hidden="true">
      <div className={css['playhead']} style={{ left: `${(100 * atMs) / extent}%` }} />
    </div>
  );
}

/** The box that is drawn round clips, on the screen's own scale. */
const Choice = ({ box: { from, to } }: { readonly box: ChoiceBox }) => (
  <div
    className={css['choice']}
    aria-hidden="true"
    style={{
      left: Math.min(from.x, to.x),
      top: Math.min(from.y, to.y),
      width: Math.abs(to.x - from.x),
      height: Math.abs(to.y - from.y),
    }}
  />
);

export function Timeline() {
  const show = useShow();
  const chosenRow = useChosenRow(show);
  const rows = useRef<HTMLOListElement>(null);
  const scroller = useRef<HTMLDivElement>(null);
  const addClip = useAddClip();
  const latestAdd = useRef(addClip);
  latestAdd.current = addClip;
  const onAdd = useMemo(() => (row: number, ms: number) => latestAdd.current(row, ms), []);
  const extent = extentMs(show);
  const inView = useTimelineInView(show.id, extent);
  useTimelineScroll(scroller);
  useSoundGuide(show);
  const { onPointerDown, box } = useClipDrag(rows);
  return (
    <div ref={scroller} className={css['scroll']} data-timeline>
      <div
        className={css['wide']}
        data-fitted={inView.isFitted}
        style={{ '--track': `${inView.trackPx}px` } as React.CSSProperties}
      >
        <Ruler show={show} extent={extent} inView={inView} />
        <Marks show={show} extent={extent} />
        <SoundStrip show={show} extent={extent} inView={inView} />
        <div className={css['body']}>
          <MarkLines show={show} extent={extent} />
          <ol
            ref={rows}
            className={css['rows']}
            aria-label="Rows, the first drawn first"
            onPointerDown={onPointerDown}
          >
            {show.rows.map((row, index) => (
              <Row
                key={row.id}
                show={show.id}
                row={row}
                index={index}
                extent={extent}
                showMs={show.lengthMs}
                inView={inView}
                isChosen={index === chosenRow}
                onAdd={onAdd}
              />
            ))}
          </ol>
          <Playhead extent={extent} showMs={show.lengthMs} />
        </div>
        <p className={css['hint']}>
          {show.rows.length === 0
            ? 'No rows yet: “Add a clip” makes the first one.'
            : 'The first row is drawn first; the rows below it go over it.'}
        </p>
      </div>
      {box && <Choice box={box} />}
    </div>
  );
}
