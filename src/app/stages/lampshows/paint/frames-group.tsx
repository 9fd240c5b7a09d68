// The painted frames as a strip of small pictures: choosing one or several, adding, copying, deleting, moving them, and how long they are held.
import { type KeyboardEvent, type MouseEvent, memo, useEffect, useRef } from 'react';
import {
  addFrames,
  cellsOfOne,
  changeFrameTimes,
  deleteFrames,
  movedFrames,
  moveFrames,
  type PaintedEffect,
  paintedLimits,
} from '../../../../project/index.ts';
import { changePainting, choosePaintedFrames } from '../../../canvas/drags-paint.ts';
import { Button, Buttons, CheckField, Group, NumberField } from '../../../fields/index.ts';
import { playheadOf } from '../../../playback/playhead.ts';
import {
  canPasteCells,
  copyCells,
  copyFrameOn,
  pasteCells,
} from '../../../workbench/commands/paint-commands.ts';
import {
  useEdit,
  usePlaybackState,
  useScreen,
  useSettled,
  useWorkbench,
} from '../../../workbench/context.ts';
import { type PaintedPlace, paintedFrameAt, roomForFrames } from '../../../workbench/painting.ts';
import inspector from '../inspector.module.css';
import { typedMs } from '../units.ts';
import { FramePicture } from './frame-picture.tsx';
import css from './paint.module.css';
import { Price } from './price.tsx';

/** The painted frame that plays, where the clip is playing. */
function usePlayingFrame({ clip, place }: Pick<PaintedPlace, 'clip' | 'place'>): number | undefined {
  const workbench = useWorkbench();
  const { show } = usePlaybackState();
  if (show !== place.show) return undefined;
  const { atMs } = playheadOf(workbench.playback, workbench.project, workbench.state.settled.frameMs);
  return paintedFrameAt(clip, atMs);
}

interface FrameOptionProps {
  readonly index: number;
  readonly effect: Pick<PaintedEffect, 'columns' | 'rows' | 'palette'>;
  readonly cells: string;
  readonly holdMs: number;
  readonly isPainted: boolean;
  readonly isChosen: boolean;
  readonly isPlaying: boolean;
}

const FrameOption = memo(
  function FrameOption({ index, effect, cells, holdMs, isPainted, isChosen, isPlaying }: FrameOptionProps) {
    const { columns, rows, palette } = effect;
    return (
      <div
        role="option"
        tabIndex={-1}
        id={`painted-frame-${index}`}
        className={css['frame']}
        aria-selected={isChosen}
        aria-label={`Frame ${index + 1}, held for ${holdMs / 1000} s`}
        data-painted={isPainted}
        data-playing={isPlaying}
        data-frame-option={index}
      >
        <FramePicture columns={columns} rows={rows} palette={palette} cells={cells} />
        <span aria-hidden="true">{index + 1}</span>
      </div>
    );
  },
  (a, b) =>
    a.index === b.index &&
    a.cells === b.cells &&
    a.holdMs === b.holdMs &&
    a.isPainted === b.isPainted &&
    a.isChosen === b.isChosen &&
    a.isPlaying === b.isPlaying &&
    a.effect.palette === b.effect.palette &&
    a.effect.columns === b.effect.columns &&
    a.effect.rows === b.effect.rows,
);

/** All from one frame to another. */
const range = (from: number, to: number): number[] =>
  Array.from({ length: Math.abs(to - from) + 1 }, (_, i) => Math.min(from, to) + i);

const steps: Readonly<Record<string, number>> = { ArrowLeft: -1, ArrowRight: 1 };

type StripProps = Pick<PaintedPlace, 'place' | 'clip' | 'effect' | 'frame' | 'frames'>;

const sameStrip = (a: StripProps, b: StripProps): boolean =>
  a.effect === b.effect &&
  a.frame === b.frame &&
  a.frames.join() === b.frames.join() &&
  a.clip.startMs === b.clip.startMs &&
  a.clip.lengthMs === b.clip.lengthMs &&
  a.place.show === b.place.show &&
  a.place.row === b.place.row &&
  a.place.clip === b.place.clip;

const Strip = memo(function Strip(painted: StripProps) {
  const workbench = useWorkbench();
  const edit = useEdit();
  const playing = usePlayingFrame(painted);
  const list = useRef<HTMLDivElement>(null);
  const { effect, frame, frames, place } = painted;
  useEffect(() => {
    list.current?.querySelector(`[data-frame-option="${frame}"]`)?.scrollIntoView({ block: 'nearest' });
  }, [frame]);

  /** From the other end of what is chosen to here. */
  const extend = (to: number) => {
    const anchor = frame === frames.at(-1) ? frames[0]! : frames.at(-1)!;
    choosePaintedFrames(workbench, to, range(anchor, to));
  };
  const onClick = (event: MouseEvent<HTMLElement>) => {
    const option = (event.target as Element).closest('[data-frame-option]');
    if (!option) return;
    const index = Number(option.getAttribute('data-frame-option'));
    if (event.shiftKey) extend(index);
    else if (event.ctrlKey || event.metaKey) {
      const others = frames.filter((one) => one !== index);
      if (others.length === frames.length)
        choosePaintedFrames(
          workbench,
          index,
          [...frames, index].sort((a, b) => a - b),
        );
      else if (others.length > 0) choosePaintedFrames(workbench, others.at(-1)!, others);
    } else choosePaintedFrames(workbench, index);
  };
  const onKeyDown = (event: KeyboardEvent) => {
    const by = steps[event.key];
    const done = () => {
      event.preventDefault();
      event.stopPropagation();
    };
    if (event.key === 'Delete' || event.key === 'Backspace') {
      done();
      edit('Delete frames', deleteFrames(place, frames));
    }
    if (event.key === 'a' && (event.ctrlKey || event.metaKey)) {
      done();
      changePainting(workbench, { frames: range(0, effect.frames.length - 1) });
    }
    if (by === undefined || event.ctrlKey || event.metaKey) return;
    done();
    const to = Math.min(effect.frames.length - 1, Math.max(0, frame + by));
    if (event.altKey) moveChosen(by);
    else if (event.shiftKey) extend(to);
    else choosePaintedFrames(workbench, to);
  };
  const moveChosen = (by: number) => {
    edit('Move frames', moveFrames(place, frames, by));
    const moved = movedFrames(effect.frames.length, frames, by);
    choosePaintedFrames(workbench, moved[frames.indexOf(frame)]!, moved);
  };
  return (
    <div
      ref={list}
      role="listbox"
      aria-label="Painted frames"
      aria-multiselectable="true"
      aria-activedescendant={`painted-frame-${frame}`}
      tabIndex={0}
      className={css['strip']}
      onClick={onClick}
      onKeyDown={onKeyDown}
    >
      {effect.frames.map(({ cells, holdMs }, index) => (
        <FrameOption
          // Frames have no id of their own.
          // biome-ignore lint/suspicious/noArrayIndexKey: see above
          key={index}
          index={index}
          effect={effect}
          cells={cells}
          holdMs={holdMs}
          isPainted={index === frame}
          isChosen={frames.includes(index)}
          isPlaying={index === playing}
        />
      ))}
    </div>
  );
}, sameStrip);

const sameOf = (values: readonly number[]): boolean => values.every((value) => value === values[0]);

function Times({ painted }: { readonly painted: PaintedPlace }) {
  const edit = useEdit();
  const { effect, frames, place } = painted;
  const holds = frames.map((index) => effect.frames[index]!.holdMs);
  const fades = frames.map((index) => effect.frames[index]!.fadeMs ?? 0);
  return (
    <>
      <NumberField
        label="Held for"
        unit="s"
        digits={3}
        step={0.05}
        least={0.02}
        most={60}
        value={holds[0]! / 1000}
        isSeveral={!sameOf(holds)}
        onChange={(typed, gesture) =>
          edit('Change hold', changeFrameTimes(place, frames, { holdMs: typedMs(typed) }), gesture)
        }
      />
      <NumberField
        label="Next fades in over"
        unit="s"
        digits={3}
        step={0.05}
        least={0}
        most={Math.max(...holds) / 1000}
        value={fades[0]! / 1000}
        isSeveral={!sameOf(fades)}
        onChange={(typed, gesture) =>
          edit('Change fade', changeFrameTimes(place, frames, { fadeMs: typedMs(typed) }), gesture)
        }
      />
    </>
  );
}

export function FramesGroup({ painted }: { readonly painted: PaintedPlace }) {
  const workbench = useWorkbench();
  const edit = useEdit();
  const hasGhost = useScreen(({ painting }) => painting.hasGhost);
  const canPaste = useScreen((state) => state.painting.copied !== undefined && canPasteCells(state));
  const { effect, frame, frames, place } = painted;
  const hasRoom = roomForFrames(effect) > 0;
  // A stroke changes one picture of up to 250: the strip follows when the hand rests.
  const settled = useSettled().project.lampshows.find(({ id }) => id === place.show)?.rows[place.row]?.clips[
    place.clip
  ];
  const move = (by: number) => {
    const moved = movedFrames(effect.frames.length, frames, by);
    edit('Move frames', moveFrames(place, frames, by));
    choosePaintedFrames(workbench, moved[frames.indexOf(frame)]!, moved);
  };
  const { holdMs, fadeMs } = effect.frames[frame]!;
  const dark = { holdMs, ...(fadeMs === undefined ? {} : { fadeMs }), cells: cellsOfOne(effect) };
  return (
    <Group title={frames.length === 1 ? 'Frames' : `Frames, ${frames.length} chosen`}>
      <Strip
        place={place}
        clip={painted.clip}
        effect={settled?.effect.kind === 'painted' ? settled.effect : effect}
        frame={frame}
        frames={frames}
      />
      <div className={css['tight']}>
        <Buttons>
          <Button
            isDisabled={!hasRoom}
            label="Add an empty frame behind this one"
            onPress={() => {
              edit('Add frame', addFrames(place, frame + 1, [dark]));
              choosePaintedFrames(workbench, frame + 1);
            }}
          >
            Add
          </Button>
          <Button
            isDisabled={!hasRoom}
            label="Add a copy of this frame behind it"
            onPress={() => copyFrameOn(workbench)}
          >
            Copy on
          </Button>
          <Button
            isDisabled={effect.frames.length === frames.length}
            label="Delete the chosen frames"
            onPress={() => {
              edit('Delete frames', deleteFrames(place, frames));
              choosePaintedFrames(workbench, Math.max(0, Math.min(...frames) - 1));
            }}
          >
            Delete
          </Button>
          <Button isDisabled={frames.includes(0)} label="Move frames earlier" onPress={() => move(-1)}>
            Earlier
          </Button>
          <Button
            isDisabled={frames.includes(effect.frames.length - 1)}
            label="Move frames later"
            onPress={() => move(1)}
          >
            Later
          </Button>
          <Button label="Remember this frame’s cells" onPress={() => copyCells(workbench)}>
            Take cells
          </Button>
          <Button
            isDisabled={!canPaste}
            label="Put the remembered cells into the chosen frames"
            onPress={() => pasteCells(workbench)}
          >
            Put cells in
          </Button>
        </Buttons>
      </div>
      <Times painted={painted} />
      <Price painted={painted} />
      <CheckField
        label="Show the frame before faintly"
        value={hasGhost}
        onChange={(value) => changePainting(workbench, { hasGhost: value })}
      />
      {!hasRoom && (
        <p className={inspector['note']}>A clip holds {paintedLimits.frames} frames; no more can be added.</p>
      )}
    </Group>
  );
}
