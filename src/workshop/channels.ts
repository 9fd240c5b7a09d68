// Channels of the backing: one straight groove for each cut piece of strip, in true millimetres, turned with its run.
// Not here: the drawing (drawing.ts), and whether runs meet or stick out (findings of src/panel).
// Clearance, end room and depth: common practice, no source; strip is 10 to 12 mm wide and, with its LEDs, about 2 to 3 mm high.
import { channelClearanceMm, channelEndRoomMm, usualChannelDepthMm } from '../catalogue/index.ts';
import { arrowVector, type Layout, type PlacedRun, type PointMm, ringCircle } from '../panel/index.ts';
import type { Project } from '../project/index.ts';

/** Beside the strip, each side. */
export const clearanceMm = channelClearanceMm;
/** Beyond the cut edge, each end. */
export const endRoomMm = channelEndRoomMm;
/** Plywood that would break off while the groove round it is milled (common practice, no source). */
const leastIslandMm = 12;
/** A suggestion: how deep to engrave or mill. */
export const channelDepthMm = usualChannelDepthMm;

/** A run with the number that drawings and lists call it by: from 1 along the wire, line after line; runs outside every chain come last. */
export interface NumberedRun {
  readonly number: number;
  /** Data line, from 1; null outside every chain. */
  readonly line: number | null;
  readonly placed: PlacedRun;
}

export function numberedRuns(layout: Layout): NumberedRun[] {
  const chained = layout.lines.flatMap((line) =>
    line.runs.map((placed) => ({ line: line.index + 1, placed })),
  );
  const others = layout.unchained.map((placed) => ({ line: null, placed }));
  return [...chained, ...others].map((one, index) => ({ number: index + 1, ...one }));
}

export interface Channel {
  readonly run: string;
  readonly number: number;
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly depthMm: number;
  readonly middle: PointMm;
  /** In order around the channel; of a straight one four, the first two on the left of the arrow, DIN's end before DOUT's. */
  readonly corners: readonly PointMm[];
  /** What stays standing in the middle of a ring board's pocket; none elsewhere. */
  readonly island?: readonly PointMm[];
}

/** A ring board lies in a round groove, or in a round pocket where its hole is too small for an island. */
function ringPocket({ placed, number }: NumberedRun): Channel {
  const { run, strip } = placed;
  const half = strip.boardWidthMm / 2 + clearanceMm;
  const radiusMm = run.ring!.radiusMm;
  const hasIsland = radiusMm - half > leastIslandMm / 2;
  return {
    run: run.id,
    number,
    lengthMm: 2 * (radiusMm + half),
    widthMm: hasIsland ? 2 * half : 2 * (radiusMm + half),
    depthMm: channelDepthMm,
    middle: placed.leds[0]!,
    corners: ringCircle(placed, half),
    ...(hasIsland ? { island: ringCircle(placed, -half) } : {}),
  };
}

function channelOf({ placed, number, line }: NumberedRun): Channel {
  const { run, strip, cutLengthMm } = placed;
  if (run.ring) return ringPocket({ placed, number, line });
  // The channel is the plan's, whichever way the strip was laid in it.
  const [dinEnd, doutEnd] = placed.isTurned
    ? [placed.doutEnd, placed.dinEnd]
    : [placed.dinEnd, placed.doutEnd];
  const arrow = arrowVector(run.arrowDeg);
  const widthMm = strip.boardWidthMm + 2 * clearanceMm;
  const corner = (end: PointMm, along: number, left: number): PointMm => ({
    xMm: end.xMm + along * endRoomMm * arrow.x + (left * widthMm * arrow.y) / 2,
    yMm: end.yMm + along * endRoomMm * arrow.y - (left * widthMm * arrow.x) / 2,
  });
  return {
    run: run.id,
    number,
    lengthMm: cutLengthMm + 2 * endRoomMm,
    widthMm,
    depthMm: channelDepthMm,
    middle: { xMm: (dinEnd.xMm + doutEnd.xMm) / 2, yMm: (dinEnd.yMm + doutEnd.yMm) / 2 },
    corners: [corner(dinEnd, -1, 1), corner(doutEnd, 1, 1), corner(doutEnd, 1, -1), corner(dinEnd, -1, -1)],
  };
}

/** A channel for every run, by number. */
export const channels = (layout: Layout): Channel[] => numberedRuns(layout).map(channelOf);

/** Corners of a rectangle, clockwise from its top left. */
export function rectangle(
  xMm: number,
  yMm: number,
  widthMm: number,
  heightMm: number,
): readonly [PointMm, PointMm, PointMm, PointMm] {
  return [
    { xMm, yMm },
    { xMm: xMm + widthMm, yMm },
    { xMm: xMm + widthMm, yMm: yMm + heightMm },
    { xMm, yMm: yMm + heightMm },
  ];
}

/** Where the backing is cut through. */
export const panelOutline = ({ panel }: Pick<Project, 'panel'>): readonly PointMm[] =>
  rectangle(0, 0, panel.widthMm, panel.heightMm);

/** Whether two convex outlines overlap: they don't if some side of either has the whole of the other beyond it. */
export function overlaps(a: readonly PointMm[], b: readonly PointMm[]): boolean {
  const isApart = (sides: readonly PointMm[]): boolean =>
    sides.some((from, i) => {
      const to = sides[(i + 1) % sides.length]!;
      const nx = to.yMm - from.yMm;
      const ny = from.xMm - to.xMm;
      const along = (points: readonly PointMm[]): number[] => points.map((p) => p.xMm * nx + p.yMm * ny);
      return Math.max(...along(a)) < Math.min(...along(b)) || Math.max(...along(b)) < Math.min(...along(a));
    });
  return !isApart(a) && !isApart(b);
}
