// Drawings of engraved channels whose answer is known: so many LEDs and so much slack, then the outline built round them, at any angle, with square,
// round or dogboned ends, as SVG and as DXF. Places are written to a tenth of a micrometre.
import fc from 'fast-check';

export type End = 'square' | 'round' | 'dogbone';

export interface KnownChannel {
  readonly pitchMm: number;
  readonly boardWidthMm: number;
  readonly ledCount: number;
  /** What the LEDs leave over of the usable length. */
  readonly slackMm: number;
  readonly widthMm: number;
  readonly ends: readonly [End, End];
  /** Middle of the usable piece, and the way along it, degrees with y down. */
  readonly xMm: number;
  readonly yMm: number;
  readonly turnDeg: number;
}

/** Radius of the cutter that left the dogbones: a 3.175 mm bit. */
const toolMm = 1.5875;

interface Corner {
  readonly s: number;
  readonly t: number;
  /** Half a turn round outside to the next corner. */
  readonly arc: boolean;
}

export const usableMm = ({ ledCount, pitchMm, slackMm }: KnownChannel): number =>
  ledCount * pitchMm + slackMm;

/** One end's corners, seen with the groove behind it: from the lower side to the upper, beginning at the usable piece's end. */
function endCorners(end: End, { widthMm, boardWidthMm }: KnownChannel): Corner[] {
  const half = widthMm / 2;
  const corner = (s: number, t: number, arc = false): Corner => ({ s, t, arc });
  if (end === 'square') return [corner(0, -half), corner(0, half)];
  // The board's corners touch the half circle: that far it reaches into the round end.
  if (end === 'round') {
    const s = -Math.sqrt(half ** 2 - (boardWidthMm / 2) ** 2);
    return [corner(s, -half, true), corner(s, half)];
  }
  // The cutter's circle goes through the corner, and through both sides sqrt(2) of its radius before it.
  const far = Math.SQRT2 * toolMm;
  return [corner(-far, -half, true), corner(0, -half + far), corner(0, half - far, true), corner(-far, half)];
}

/** The outline's corners on the panel; arcs bulge outwards. */
function cornersOf(channel: KnownChannel): { x: number; y: number; arc: boolean }[] {
  const length = usableMm(channel);
  const right = endCorners(channel.ends[1], channel).map(({ s, t, arc }) => ({ s: length / 2 + s, t, arc }));
  const left = endCorners(channel.ends[0], channel).map(({ s, t, arc }) => ({
    s: -length / 2 - s,
    t: -t,
    arc,
  }));
  const [cos, sin] = [
    Math.cos((channel.turnDeg * Math.PI) / 180),
    Math.sin((channel.turnDeg * Math.PI) / 180),
  ];
  return [...right, ...left].map(({ s, t, arc }) => ({
    x: channel.xMm + s * cos - t * sin,
    y: channel.yMm + s * sin + t * cos,
    arc,
  }));
}

const text = (value: number): string => value.toFixed(4);

export function channelsSvg(channels: readonly KnownChannel[], heightMm: number): string {
  const paths = channels.map((channel) => {
    const corners = cornersOf(channel);
    const legs = corners.map((from, i) => {
      const to = corners[(i + 1) % corners.length]!;
      // A little small, so that it is stretched to half a turn: a little large, rounding would move its centre.
      const radius = text(Math.hypot(to.x - from.x, to.y - from.y) / 2 - 0.001);
      return `${from.arc ? `A${radius} ${radius} 0 0 1` : 'L'}${text(to.x)} ${text(to.y)}`;
    });
    return `<path d="M${text(corners[0]!.x)} ${text(corners[0]!.y)}${legs.join('')}Z"/>`;
  });
  return `<svg xmlns="http://www.w3.org/2000/svg" width="900mm" height="${heightMm}mm" viewBox="0 0 900 ${heightMm}"><g id="channels">${paths.join('')}</g></svg>`;
}

type Pair = readonly [number, string | number];

/** As polylines with bulges, or as loose lines and arcs; y up from the panel's bottom, so that arcs turn the other way. */
export function channelsDxf(channels: readonly KnownChannel[], heightMm: number, loose: boolean): string {
  const entities = channels.flatMap((channel): Pair[] => {
    const corners = cornersOf(channel).map(({ x, y, arc }) => ({ x, y: heightMm - y, arc }));
    if (!loose)
      return [
        [0, 'LWPOLYLINE'],
        [8, 'CHANNELS'],
        [90, corners.length],
        [70, 1],
        ...corners.flatMap(({ x, y, arc }): Pair[] => [
          [10, text(x)],
          [20, text(y)],
          [42, arc ? -1 : 0],
        ]),
      ];
    return corners.flatMap((from, i): Pair[] => {
      const to = corners[(i + 1) % corners.length]!;
      if (!from.arc)
        return [
          [0, 'LINE'],
          [8, 'CHANNELS'],
          [10, text(from.x)],
          [20, text(from.y)],
          [11, text(to.x)],
          [21, text(to.y)],
        ];
      const [cx, cy] = [(from.x + to.x) / 2, (from.y + to.y) / 2];
      const deg = (x: number, y: number): string => text((Math.atan2(y - cy, x - cx) * 180) / Math.PI);
      const radius = text(Math.hypot(to.x - from.x, to.y - from.y) / 2);
      // Arcs of this format run counter-clockwise.
      return [
        [0, 'ARC'],
        [8, 'CHANNELS'],
        [10, text(cx)],
        [20, text(cy)],
        [40, radius],
        [50, deg(to.x, to.y)],
        [51, deg(from.x, from.y)],
      ];
    });
  });
  const all: Pair[] = [
    [0, 'SECTION'],
    [2, 'HEADER'],
    [9, '$ACADVER'],
    [1, 'AC1015'],
    [9, '$INSUNITS'],
    [70, 4],
    [0, 'ENDSEC'],
    [0, 'SECTION'],
    [2, 'ENTITIES'],
    ...entities,
    [0, 'ENDSEC'],
    [0, 'EOF'],
  ];
  return `${all.map(([code, value]) => `${code}\n${value}`).join('\n')}\n`;
}

/** Random channels for a strip, of at most 40 LEDs each. */
export const knownChannels = (pitchMm: number, boardWidthMm: number): fc.Arbitrary<KnownChannel[]> => {
  const end = fc.constantFrom<End>('square', 'round', 'dogbone');
  const double = (min: number, max: number) => fc.double({ min, max, noNaN: true });
  const any = fc.record({
    pitchMm: fc.constant(pitchMm),
    boardWidthMm: fc.constant(boardWidthMm),
    ledCount: fc.integer({ min: 2, max: 40 }),
    slackMm: fc.oneof(fc.constantFrom(0, 0.2, 0.5), double(0, pitchMm - 0.05)),
    widthMm: double(boardWidthMm + 0.1, boardWidthMm + 3),
    ends: fc.tuple(end, end),
    xMm: double(100, 800),
    yMm: double(100, 500),
    turnDeg: fc.oneof(fc.constantFrom(0, 90, 180, 270, 45), double(0, 360)),
  });
  // One about as wide as it is long doesn't say which way the strip lies.
  const one = any.filter((channel) => usableMm(channel) > 1.2 * channel.widthMm);
  return fc.array(one, { minLength: 1, maxLength: 5 });
};
