// Geometry of the canvas: between the panel's millimetres and the screen, and the shapes that runs and jumpers are drawn with. Pure.
import {
  arrowVector,
  type Jumper,
  type PlacedRun,
  type PointMm,
  ringCentre,
  runPath,
} from '../../panel/index.ts';
import type { SideId } from '../workbench/workbench.ts';
import type { View } from './viewport.ts';

/** Between panel and screen, as seen from one side. Seen from the rear, left and right are exchanged. */
export interface Sight {
  readonly view: View;
  readonly side: SideId;
  readonly widthMm: number;
}

export interface PointPx {
  readonly x: number;
  readonly y: number;
}

const mirrored = ({ side, widthMm }: Sight, xMm: number): number => (side === 'rear' ? widthMm - xMm : xMm);

export const toScreen = (sight: Sight, { xMm, yMm }: PointMm): PointPx => ({
  x: sight.view.xPx + mirrored(sight, xMm) * sight.view.pxPerMm,
  y: sight.view.yPx + yMm * sight.view.pxPerMm,
});

export const toPanel = (sight: Sight, { x, y }: PointPx): PointMm => ({
  xMm: mirrored(sight, (x - sight.view.xPx) / sight.view.pxPerMm),
  yMm: (y - sight.view.yPx) / sight.view.pxPerMm,
});

/** SVG transform from millimetres to the screen. */
export const panelTransform = ({ view, side, widthMm }: Sight): string =>
  `translate(${view.xPx} ${view.yPx}) scale(${view.pxPerMm})${
    side === 'rear' ? ` translate(${widthMm} 0) scale(-1 1)` : ''
  }`;

/** SVG transform from a run's own axes (first LED at 0, data to the right) to the panel's. */
export const runTransform = ({ run }: PlacedRun): string =>
  `translate(${run.firstLed.xMm} ${run.firstLed.yMm}) rotate(${-run.arrowDeg})`;

export const pitchOf = ({ pitchMm }: PlacedRun): number => pitchMm;

/** The run's way in its own axes: first LED at 0, arrow to the right. */
export const ownPath = ({ run, pitchMm }: PlacedRun): ((pitches: number) => PointMm) =>
  runPath({ ...run, firstLed: { xMm: 0, yMm: 0 }, arrowDeg: 0 }, pitchMm).at;

/** Side of an LED's package; 5050 means 5.0 mm. */
export const packageMm = 5;

const square = ({ xMm, yMm }: PointMm, half: number): string =>
  `M${xMm - half} ${yMm - half}h${2 * half}v${2 * half}h${-2 * half}z`;

/** The LEDs' packages, in the run's own axes. */
export function packagesPath(placed: PlacedRun): string {
  const pitch = pitchOf(placed);
  const half = Math.min(packageMm, pitch * 0.62) / 2;
  const at = ownPath(placed);
  return placed.leds.map((_, led) => square(at(led), half)).join('');
}

/** Triangles between the LEDs that point the way the data goes; on dense strip only between every second pair. */
export function arrowsPath(placed: PlacedRun): string {
  const pitch = pitchOf(placed);
  const step = pitch < 9 ? 2 : 1;
  const half = Math.min(2.3, pitch * 0.16);
  const at = ownPath(placed);
  let path = '';
  for (let led = 0; led + 1 < placed.leds.length; led += step) {
    const { xMm: x, yMm: y } = at(led + 0.5);
    const ahead = at(led + 0.6);
    // The way the data goes as the strip was soldered.
    const step10 = (placed.isTurned ? -0.1 : 0.1) * pitch;
    const [dx, dy] = [(ahead.xMm - x) / step10, (ahead.yMm - y) / step10];
    const corner = (along: number, beside: number): string =>
      `${x + half * (along * dx - beside * dy)} ${y + half * (along * dy + beside * dx)}`;
    path += `M${corner(-1, -1)}L${corner(1, 0)}L${corner(-1, 1)}z`;
  }
  return path;
}

/** Where a point of the panel lies along a run, in pitches from its first LED (not rounded), and how far beside it (mm). */
export function alongRun(placed: PlacedRun, { xMm, yMm }: PointMm): { pitches: number; besideMm: number } {
  const arrow = arrowVector(placed.run.arrowDeg);
  const centre = ringCentre(placed.run);
  if (centre && placed.run.ring) {
    const { radiusMm, clockwise } = placed.run.ring;
    // Turns counter-clockwise from the first LED, 0 up to 1.
    const turns = (angleDeg(centre, { xMm, yMm }) - angleDeg(centre, placed.run.firstLed) + 360) / 360;
    const along = (clockwise ? 2 - turns : turns) % 1;
    return {
      pitches: along * placed.run.ledCount,
      besideMm: Math.hypot(xMm - centre.xMm, yMm - centre.yMm) - radiusMm,
    };
  }
  const dx = xMm - placed.run.firstLed.xMm;
  const dy = yMm - placed.run.firstLed.yMm;
  return {
    pitches: (dx * arrow.x + dy * arrow.y) / pitchOf(placed),
    besideMm: dx * arrow.y - dy * arrow.x,
  };
}

export const pointAlong = (placed: PlacedRun, pitches: number, besideMm = 0): PointMm => {
  const arrow = arrowVector(placed.run.arrowDeg);
  const centre = ringCentre(placed.run);
  if (centre && placed.run.ring) {
    const at = runPath(placed.run, placed.pitchMm).at(pitches);
    const out = 1 + besideMm / placed.run.ring.radiusMm;
    return { xMm: centre.xMm + (at.xMm - centre.xMm) * out, yMm: centre.yMm + (at.yMm - centre.yMm) * out };
  }
  const along = pitches * pitchOf(placed);
  return {
    xMm: placed.run.firstLed.xMm + arrow.x * along + arrow.y * besideMm,
    yMm: placed.run.firstLed.yMm + arrow.y * along - arrow.x * besideMm,
  };
};

/** Outline of the board in the run's own axes, wider by so much on each side; of a ring board, both circles. */
export function boardPath({ run, strip, pitchMm, cutLengthMm }: PlacedRun, widerMm = 0): string {
  const half = strip.boardWidthMm / 2 + widerMm;
  if (!run.ring)
    return `M${-pitchMm / 2 - widerMm} ${-half}h${cutLengthMm + 2 * widerMm}v${2 * half}h${-cutLengthMm - 2 * widerMm}z`;
  const { radiusMm, clockwise } = run.ring;
  const middle = clockwise ? radiusMm : -radiusMm;
  const circle = (radius: number): string =>
    radius <= 0
      ? ''
      : `M${-radius} ${middle}a${radius} ${radius} 0 1 0 ${2 * radius} 0a${radius} ${radius} 0 1 0 ${-2 * radius} 0z`;
  return circle(radiusMm + half) + circle(radiusMm - half);
}

interface Curve {
  readonly path: string;
  readonly middle: PointMm;
}

/** How far a jumper's bend reaches beyond the cut edges: a wire leaves a pad in the strip's own direction. */
const bendMm = 12;

/** The way the data goes at an end of a run as built: at its first or last planned LED. */
function dataVector(placed: PlacedRun, led: number): { readonly x: number; readonly y: number } {
  const at = runPath(placed.run, placed.pitchMm).at;
  const end = placed.isTurned ? placed.run.ledCount - 1 - led : led;
  const [a, b] = [at(end - 0.05), at(end + 0.05)];
  const sign = (placed.isTurned ? -1 : 1) / (0.1 * placed.pitchMm);
  return { x: (b.xMm - a.xMm) * sign, y: (b.yMm - a.yMm) * sign };
}

/** A jumper's line from DOUT to DIN; `outMm` pushes it outwards, for a second line beside the first. */
export function jumperCurve({ from, to }: Jumper, outMm = 0): Curve {
  const a = from.doutEnd;
  const d = to.dinEnd;
  const reach = bendMm + outMm;
  const out = dataVector(from, from.run.ledCount - 1);
  const into = dataVector(to, 0);
  const b = { xMm: a.xMm + out.x * reach, yMm: a.yMm + out.y * reach };
  const c = { xMm: d.xMm - into.x * reach, yMm: d.yMm - into.y * reach };
  const middle = (key: keyof PointMm) => (a[key] + 3 * b[key] + 3 * c[key] + d[key]) / 8;
  return {
    path: `M${a.xMm} ${a.yMm}C${b.xMm} ${b.yMm} ${c.xMm} ${c.yMm} ${d.xMm} ${d.yMm}`,
    middle: { xMm: middle('xMm'), yMm: middle('yMm') },
  };
}

/** An angle from one point to another, degrees counter-clockwise, from 0 up to 360. */
export function angleDeg(from: PointMm, to: PointMm): number {
  const degrees = (Math.atan2(from.yMm - to.yMm, to.xMm - from.xMm) * 180) / Math.PI;
  return (degrees + 360) % 360;
}

export const snapTo = (value: number, step: number): number => Math.round(value / step) * step;
