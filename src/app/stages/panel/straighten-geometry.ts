// Where corners stand on a photo and on the screen, and the size that a straightened piece is taken to have at first. Pure.
// Not here: straightening (src/panel/photo.ts).
import type { Corners, PointPx } from '../../../panel/index.ts';

export interface SizePx {
  readonly width: number;
  readonly height: number;
}

export const cornerNames = ['Top left', 'Top right', 'Bottom right', 'Bottom left'] as const;

/** A photo is taken with some room around the artwork: corners begin a little inside its edges, where hands find them. */
const insetOfPhoto = 0.08;

/** @param fillsPanel whether the picture is the artwork already: its own corners are then those of the panel, and taking them changes nothing */
export function firstCorners({ width, height }: SizePx, fillsPanel: boolean): Corners {
  const inset = fillsPanel ? 0 : insetOfPhoto;
  const [left, right] = [Math.round(width * inset), Math.round(width * (1 - inset))];
  const [top, bottom] = [Math.round(height * inset), Math.round(height * (1 - inset))];
  return [
    { x: left, y: top },
    { x: right, y: top },
    { x: right, y: bottom },
    { x: left, y: bottom },
  ];
}

/** Tenths of a pixel are finer than any print's edge on a photo. */
const tenths = (value: number): number => Math.round(value * 10) / 10;

const within = (value: number, most: number): number => Math.min(most, Math.max(0, value));

/** The corners with one of them somewhere else, kept on the photo. */
export function withCorner(corners: Corners, index: number, { x, y }: PointPx, photo: SizePx): Corners {
  const moved = { x: tenths(within(x, photo.width)), y: tenths(within(y, photo.height)) };
  const [a, b, c, d] = corners.map((corner, i) => (i === index ? moved : corner));
  return [a!, b!, c!, d!];
}

/** Pixels of the screen for one of the photo, so that the whole of it fits into a box; never larger than it is. */
export const fitScale = (photo: SizePx, box: SizePx): number =>
  Math.min(1, box.width / photo.width, box.height / photo.height);

/** Width by height that the piece seems to have: its opposite edges' mean lengths. What perspective shortens, it can't tell. */
export function seenAspect(corners: Corners): number {
  const edge = (from: number, to: number): number =>
    Math.hypot(corners[to]!.x - corners[from]!.x, corners[to]!.y - corners[from]!.y);
  return (edge(0, 1) + edge(3, 2)) / Math.max(1e-6, edge(1, 2) + edge(0, 3));
}

/** How far an arrow key moves a corner, in pixels of the photo; undefined for any other key. */
export function keyStep(key: string, isShift: boolean): PointPx | undefined {
  const step = isShift ? 10 : 1;
  const ways: Readonly<Record<string, PointPx>> = {
    ArrowLeft: { x: -step, y: 0 },
    ArrowRight: { x: step, y: 0 },
    ArrowUp: { x: 0, y: -step },
    ArrowDown: { x: 0, y: step },
  };
  return ways[key];
}
