// How cells are painted just now: tool, brush, colour, which frame, where the cell cursor stands. No part of the document: never saved or undone.
// Not here: what a press or a key paints (canvas/drags-paint.ts).
import {
  type Cell,
  type Clip,
  type ClipPlace,
  type Lampshow,
  type Mirroring,
  type PaintedEffect,
  type PaintedFrame,
  paintedLimits,
} from '../../project/index.ts';
import type { WorkbenchState } from './workbench.ts';

/** `artwork` takes a colour of the print into the palette. */
export type PaintTool = 'brush' | 'line' | 'fill' | 'erase' | 'pick' | 'artwork';

export interface Painting {
  readonly tool: PaintTool;
  /** Side of the brush, cells. */
  readonly brushCells: number;
  /** Number in the palette. */
  readonly colour: number;
  /** The frame that is painted, and all that are chosen, it among them; beyond the last they mean the last. */
  readonly frame: number;
  readonly frames: readonly number[];
  readonly mirroring: Mirroring;
  /** Whether the frame before shows faintly. */
  readonly hasGhost: boolean;
  readonly cursor: Cell;
  /** Where a line that is drawn by keys begins. */
  readonly lineFrom: Cell | undefined;
  /** The frame that was copied last, with its grid. */
  readonly copied: (Pick<PaintedEffect, 'columns' | 'rows'> & { readonly cells: string }) | undefined;
}

export const mostBrushCells = 16;

export const firstStrokes: Painting = {
  tool: 'brush',
  brushCells: 1,
  colour: 1,
  frame: 0,
  frames: [0],
  mirroring: { leftRight: false, upDown: false },
  hasGhost: true,
  cursor: { column: 0, row: 0 },
  lineFrom: undefined,
  copied: undefined,
};

export interface PaintedPlace {
  readonly place: ClipPlace;
  readonly show: Lampshow;
  readonly clip: Clip;
  readonly effect: PaintedEffect;
  /** Which frame is painted, and which are chosen; all exist. */
  readonly frame: number;
  readonly frames: readonly number[];
  /** The number of a colour that the palette has. */
  readonly colour: number;
  readonly cursor: Cell;
}

/** The chosen clip where it has painted frames, with what of `painting` holds for it; undefined for any other selection. */
export function paintedPlaceOf(
  state: Pick<WorkbenchState, 'selection' | 'history' | 'painting'>,
): PaintedPlace | undefined {
  const { selection, history, painting } = state;
  if (selection.kind !== 'clip') return undefined;
  const show = history.project.lampshows.find(({ id }) => id === selection.show);
  const clip = show?.rows[selection.row]?.clips[selection.clip];
  if (!show || clip?.effect.kind !== 'painted') return undefined;
  const { effect } = clip;
  const last = effect.frames.length - 1;
  const frame = Math.min(last, painting.frame);
  const frames = painting.frames.filter((one) => one <= last);
  const { column, row } = painting.cursor;
  return {
    place: { show: selection.show, row: selection.row, clip: selection.clip },
    show,
    clip,
    effect,
    frame,
    frames: frames.includes(frame) ? frames : [frame],
    colour: Math.min(effect.palette.length - 1, painting.colour),
    cursor: { column: Math.min(effect.columns - 1, column), row: Math.min(effect.rows - 1, row) },
  };
}

/** Whether cells are painted on the canvas now. */
export const isPainting = (
  state: Pick<WorkbenchState, 'selection' | 'history' | 'painting' | 'tool' | 'stage'>,
): boolean => state.tool === 'paint' && state.stage === 'lampshows' && paintedPlaceOf(state) !== undefined;

const startsOf = (frames: readonly PaintedFrame[]): number[] => {
  let atMs = 0;
  return frames.map(({ holdMs }) => {
    const startMs = atMs;
    atMs += holdMs;
    return startMs;
  });
};

/**
 * The number of a player's frame at which the clip shows this painted frame and nothing of the next: where the clip is neither fading in nor out, if it
 * is shown there at all. Undefined where the clip ends before it, or it is held for less than the player's frame time and never hit.
 */
export function playerFrameOf(
  { startMs, lengthMs, fadeInMs = 0, fadeOutMs = 0, effect }: Clip,
  frame: number,
  showMs: number,
  frameMs: number,
): number | undefined {
  if (effect.kind !== 'painted') return undefined;
  const { frames } = effect;
  const from = startsOf(frames)[frame]!;
  const { holdMs, fadeMs = 0 } = frames[frame]!;
  const wholeMs = frames.reduce((sum, one) => sum + one.holdMs, 0);
  const isAlone = frames.length === 1;
  // All of a fade shows something of the next frame; its first moment hardly any.
  const shownMs = isAlone ? holdMs : Math.max(1, holdMs - fadeMs);
  const endMs = Math.min(lengthMs, showMs - startMs);
  let fallback: number | undefined;
  for (let pass = from; pass < endMs; pass += wholeMs) {
    const least = Math.max(pass, Math.min(fadeInMs, pass + shownMs - 1));
    const number = Math.ceil((startMs + least) / frameMs);
    const inClip = number * frameMs - startMs;
    if (inClip >= pass + shownMs || inClip >= endMs) continue;
    fallback ??= number;
    if (inClip >= fadeInMs && inClip < lengthMs - fadeOutMs) return number;
  }
  return fallback;
}

/** The painted frame that the clip shows at a moment of its show; undefined where the clip doesn't play. */
export function paintedFrameAt({ startMs, lengthMs, effect }: Clip, atMs: number): number | undefined {
  if (effect.kind !== 'painted' || atMs < startMs || atMs >= startMs + lengthMs) return undefined;
  const wholeMs = effect.frames.reduce((sum, { holdMs }) => sum + holdMs, 0);
  const inPass = (atMs - startMs) % wholeMs;
  return startsOf(effect.frames).findLastIndex((start) => start <= inPass);
}

/** Adds, copies and pastes are left out where there is no room. */
export const roomForFrames = ({ frames }: PaintedEffect): number => paintedLimits.frames - frames.length;
