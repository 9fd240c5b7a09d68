// The ways that an LED's light takes to the sheet inside the box: straight on, unless a wall or the lip of its channel is in the way, and once by
// way of a wall's face. Worked out for each LED when places change; frames only look up which part of the sheet each way reaches.
// How: a wall's shadow and a lip's are a few half planes (regions.ts). What a face sends back is light from the LED's mirror image, as far as it
// comes through the face like through a window; so every ray that meets the face goes on once, with the face's reflectance as its share, and
// no more light comes out than went in. Wood and paint scatter instead of mirroring: the sum is right, its place is smoother in truth.
// Left out: light that meets a second face, the ends of walls as mirrors, the backing between the channels, the LEDs' own size (shadows' edges
// are soft by about that in truth).
// Assumed: a wall that crosses a channel reaches down into it; a ring board's channel is straight near each LED.
import {
  channelClearanceMm,
  channelEndRoomMm,
  finishOf,
  ledFaceHeightMm,
  usualChannelDepthMm,
} from '../catalogue/index.ts';
import {
  arrowVector,
  distanceToLineMm,
  type Layout,
  type Led,
  type PlacedRun,
  type PointMm,
  ringCentre,
} from '../panel/index.ts';
import type { Project } from '../project/index.ts';
import { reachMm } from './diffuser.ts';
import { coverOf, depthIn, type Region, shadowOf, throughWindow } from './regions.ts';

/** Light from a place, or from the mirror image of one. */
export interface LightWay extends PointMm {
  /** Of the LED's flux: 1 straight, a face's reflectance by way of that. */
  readonly share: number;
  /** It reaches what lies in all of these, and in none of `shadows`. */
  readonly within: readonly Region[];
  readonly shadows: readonly Region[];
}

/** By LED: its own way first, then those by way of a wall. */
export type LightWays = readonly (readonly LightWay[])[];

type Panel = Project['panel'];
type Outline = readonly PointMm[];

interface Wall {
  readonly from: PointMm;
  readonly to: PointMm;
  readonly outline: Outline;
}

/** What stands in the box. */
export interface LightBox {
  readonly walls: readonly Wall[];
  readonly thicknessMm: number;
  /** See shadowOf; endless where walls are lower than the LEDs' faces. */
  readonly reach: number;
  readonly reflectance: number;
  /** From the LEDs' faces up to the backing's surface, and how far the sheet is from there; 0 or less where the faces stand above it. */
  readonly lipMm: number;
  readonly airGapMm: number;
}

/** A stretch of wall with its thickness to both sides; undefined without length. */
function wallOf(from: PointMm, to: PointMm, thicknessMm: number): Wall | undefined {
  const lengthMm = Math.hypot(to.xMm - from.xMm, to.yMm - from.yMm);
  if (lengthMm === 0) return undefined;
  const x = (-(to.yMm - from.yMm) / lengthMm) * (thicknessMm / 2);
  const y = ((to.xMm - from.xMm) / lengthMm) * (thicknessMm / 2);
  const beside = (point: PointMm, side: number): PointMm => ({
    xMm: point.xMm + side * x,
    yMm: point.yMm + side * y,
  });
  return { from, to, outline: [beside(from, 1), beside(to, 1), beside(to, -1), beside(from, -1)] };
}

/** Undefined where nothing is in the light's way. */
export function lightBox({ airGapMm, baffles, backing }: Panel): LightBox | undefined {
  const thicknessMm = baffles?.thicknessMm ?? 0;
  const heightMm = airGapMm - (baffles?.belowSheetMm ?? 0);
  const standing = heightMm > 0 ? (baffles?.walls ?? []) : [];
  const walls = standing.flatMap(({ from, to }) => wallOf(from, to, thicknessMm) ?? []);
  const lipMm = backing ? (backing.channelDepthMm ?? usualChannelDepthMm) - ledFaceHeightMm : 0;
  if (walls.length === 0 && lipMm <= 0) return undefined;
  return {
    walls,
    thicknessMm,
    reach: airGapMm / heightMm,
    reflectance: finishOf(baffles?.finish).reflectance,
    lipMm,
    airGapMm,
  };
}

/**
 * What lies between the lips of an LED's channel, seen from above: as the channel is cut, round its run.
 * @param led of the run's LEDs
 */
export function channelRound({ run, strip, leds, cutLengthMm, pitchMm }: PlacedRun, led: number): Outline {
  const half = strip.boardWidthMm / 2 + channelClearanceMm;
  const { xMm, yMm } = leds[led]!;
  const rectangle = (x: number, y: number, ahead: number, behind: number, left: number, right: number) =>
    (
      [
        [ahead, left],
        [ahead, -right],
        [-behind, -right],
        [-behind, left],
      ] as const
    ).map(([along, aside]) => ({ xMm: xMm + along * x - aside * y, yMm: yMm + along * y + aside * x }));
  const centre = ringCentre(run);
  if (run.ring && centre) {
    // Straight near the LED: as long as the chord that fits under the groove's outer rim, on both sides of the LED.
    const { radiusMm } = run.ring;
    const alongMm = Math.sqrt((radiusMm + half) ** 2 - radiusMm ** 2);
    const [x, y] = [(centre.xMm - xMm) / radiusMm, (centre.yMm - yMm) / radiusMm];
    return rectangle(x, y, half, half, alongMm, alongMm);
  }
  const { x, y } = arrowVector(run.arrowDeg);
  const behind = (led + 0.5) * pitchMm + channelEndRoomMm;
  return rectangle(x, y, cutLengthMm + 2 * channelEndRoomMm - behind, behind, half, half);
}

/** Where light comes out between upright lips: their outline, moved away from the LED. */
function betweenLips(led: PointMm, outline: Outline, reach: number): Region {
  const planes = outline.flatMap((from, i) => {
    const to = outline[(i + 1) % outline.length]!;
    const length = Math.hypot(to.xMm - from.xMm, to.yMm - from.yMm);
    const away = [(to.yMm - from.yMm) / length, (from.xMm - to.xMm) / length] as const;
    const toLip = away[0] * (from.xMm - led.xMm) + away[1] * (from.yMm - led.yMm);
    const side = toLip < 0 ? -1 : 1;
    const atLed = away[0] * led.xMm + away[1] * led.yMm;
    return [-side * away[0], -side * away[1], -side * (atLed + reach * toLip)];
  });
  return Float64Array.from(planes);
}

const distanceMm = (light: PointMm, outline: Outline): number =>
  Math.min(
    ...outline.map((corner, i) => distanceToLineMm(corner, outline[(i + 1) % outline.length]!, light)),
  );

/** The directions from a light in which something stands in its way. */
class Directions {
  /** From one angle to another, radians, the second larger. */
  private readonly spans: (readonly [number, number])[] = [];
  /** Farthest corner of all that stands there. */
  farthestMm = 0;

  add(light: PointMm, outline: Outline): void {
    const first = Math.atan2(outline[0]!.yMm - light.yMm, outline[0]!.xMm - light.xMm);
    let [least, most] = [0, 0];
    for (const { xMm, yMm } of outline) {
      this.farthestMm = Math.max(this.farthestMm, Math.hypot(xMm - light.xMm, yMm - light.yMm));
      // From the first corner the short way round: a wall that the light doesn't stand in takes less than half of all directions.
      const turn = Math.atan2(yMm - light.yMm, xMm - light.xMm) - first;
      const short = turn - 2 * Math.PI * Math.round(turn / (2 * Math.PI));
      least = Math.min(least, short);
      most = Math.max(most, short);
    }
    this.spans.push([first + least, first + most]);
  }

  areAll(): boolean {
    if (this.spans.length < 2) return false;
    const begin = this.spans[0]![0];
    const round = this.spans
      .map(([from, to]) => {
        const at = from - begin - 2 * Math.PI * Math.floor((from - begin) / (2 * Math.PI));
        return [at, at + to - from] as const;
      })
      .sort(([a], [b]) => a - b);
    let reached = 0;
    for (const [from, to] of round) {
      if (from > reached) return false;
      reached = Math.max(reached, to);
    }
    return reached >= 2 * Math.PI;
  }
}

interface Shade {
  readonly outline: Outline;
  readonly region: Region;
  /** The same on the level of the wall itself: what of the box the wall hides. */
  readonly hides: Region;
}

const hides = (shades: readonly Shade[], points: Outline): boolean =>
  shades.some((shade) => points.every(({ xMm, yMm }) => depthIn(shade.hides, xMm, yMm) >= 0));

/**
 * Shadows of these outlines, without those that lie wholly behind another one, or behind several: once all directions are taken by nearer outlines,
 * what begins beyond the farthest of them is never met.
 */
function shadesOf(light: PointMm, outlines: readonly Outline[], reach: number): Shade[] {
  const near = outlines
    .map((outline) => ({ outline, mm: distanceMm(light, outline) }))
    .sort((a, b) => a.mm - b.mm);
  const shades: Shade[] = [];
  const taken = new Directions();
  for (const { outline, mm } of near) {
    if (mm >= taken.farthestMm && taken.areAll()) break;
    if (hides(shades, outline)) continue;
    taken.add(light, outline);
    const own = shadowOf(light, outline, 1);
    const shade = { outline, region: shadowOf(light, outline, reach), hides: own };
    // A long wall may begin far away and still hide a short one that begins nearer.
    for (let i = shades.length - 1; i >= 0; i--) if (hides([shade], shades[i]!.outline)) shades.splice(i, 1);
    shades.push(shade);
  }
  return shades;
}

/** A face of a wall and the plane it lies in: unit normal out of the wall, and the normal's n . p there. */
interface Face {
  readonly from: PointMm;
  readonly to: PointMm;
  readonly x: number;
  readonly y: number;
  readonly at: number;
}

function facesOf({ outline }: Wall): Face[] {
  const [a, b, c, d] = outline as readonly [PointMm, PointMm, PointMm, PointMm];
  const inner = { xMm: (a.xMm + c.xMm) / 2, yMm: (a.yMm + c.yMm) / 2 };
  return [
    [a, b],
    [c, d],
  ].map(([from, to]) => {
    const lengthMm = Math.hypot(to!.xMm - from!.xMm, to!.yMm - from!.yMm);
    let x = (from!.yMm - to!.yMm) / lengthMm;
    let y = (to!.xMm - from!.xMm) / lengthMm;
    if (x * (inner.xMm - from!.xMm) + y * (inner.yMm - from!.yMm) > 0) [x, y] = [-x, -y];
    return { from: from!, to: to!, x, y, at: x * from!.xMm + y * from!.yMm };
  });
}

/** Light that a face sends back is left out where it is under this share of an LED's peak: the reference would else know ways by the thousand. */
const faintestShare = 1 / 2000;

/** How near a face comes, seen from above. */
const toFaceMm = (led: PointMm, { from, to }: Face): number => distanceToLineMm(from, to, led);

const inFront = ({ x, y, at }: Face, point: PointMm): number => x * point.xMm + y * point.yMm - at;

const mirrored = (face: Face, point: PointMm): PointMm => {
  const twice = 2 * inFront(face, point);
  return { xMm: point.xMm - twice * face.x, yMm: point.yMm - twice * face.y };
};

/** Nearer to a face than this, nothing of a wall stands in front of it. */
const inFrontMm = 1e-6;

/**
 * The part of a wall in front of a face, cut square to the wall and long enough to hold all of it, so that no light is counted twice; undefined
 * where there is none.
 */
function partInFront(wall: Wall, face: Face, thicknessMm: number): Outline | undefined {
  const from = inFront(face, wall.from);
  const to = inFront(face, wall.to);
  const least = Math.min(...wall.outline.map((corner) => inFront(face, corner)));
  const most = Math.max(...wall.outline.map((corner) => inFront(face, corner)));
  if (most <= inFrontMm) return undefined;
  if (least >= 0) return wall.outline;
  if (from === to) return wall.outline;
  // The outline's corners lie so far before and behind the middle line's ends.
  const aside = most - Math.max(from, to);
  const share = Math.max(0, Math.min(1, (from + aside) / (from - to)));
  const cut = {
    xMm: wall.from.xMm + share * (wall.to.xMm - wall.from.xMm),
    yMm: wall.from.yMm + share * (wall.to.yMm - wall.from.yMm),
  };
  return (from > to ? wallOf(wall.from, cut, thicknessMm) : wallOf(cut, wall.to, thicknessMm))?.outline;
}

/** Whether an outline lies wholly on the dark side of one of the first two half planes: those that begin at the light and bound it sideways. */
const isBeside = (region: Region, outline: Outline): boolean =>
  [0, 3].some((at) =>
    outline.every(({ xMm, yMm }) => region[at]! * xMm + region[at + 1]! * yMm < region[at + 2]!),
  );

/** The way by a face; undefined where the LED doesn't see it. */
function wayByFace(
  led: PointMm,
  own: readonly Shade[],
  wall: Wall,
  face: Face,
  lips: Outline | undefined,
  box: LightBox,
): LightWay | undefined {
  const before = own.filter(({ outline }) => outline !== wall.outline);
  if (inFront(face, led) <= inFrontMm || hides(before, [face.from, face.to])) return undefined;
  if (toFaceMm(led, face) * box.reach > reachMm(faintestShare, box.airGapMm)) return undefined;
  const image = mirrored(face, led);
  // In front they cut the way on from the face; mirrored, the way to it.
  const outlines = box.walls
    .flatMap((other) => (other === wall ? [] : [partInFront(other, face, box.thicknessMm)]))
    .filter((outline) => outline !== undefined);
  const both = [...outlines, ...outlines.map((outline) => outline.map((point) => mirrored(face, point)))];
  const beyond = throughWindow(image, face.from, face.to, box.reach);
  const met = both.filter((outline) => !isBeside(beyond, outline));
  const between = lips?.map((point) => mirrored(face, point));
  return {
    ...image,
    share: box.reflectance,
    within: between ? [beyond, betweenLips(image, between, box.airGapMm / box.lipMm)] : [beyond],
    shadows: shadesOf(image, met, box.reach).map(({ region }) => region),
  };
}

/** All ways of an LED's light. `lips`: what lies between those of its channel; undefined without a channel. */
export function waysOf(led: PointMm, box: LightBox, lips: Outline | undefined): readonly LightWay[] {
  const channel = box.lipMm > 0 ? lips : undefined;
  const own = shadesOf(
    led,
    box.walls.map(({ outline }) => outline),
    box.reach,
  );
  const straight: LightWay = {
    xMm: led.xMm,
    yMm: led.yMm,
    share: 1,
    within: channel ? [betweenLips(led, channel, box.airGapMm / box.lipMm)] : [],
    shadows: own.map(({ region }) => region),
  };
  if (box.reflectance === 0) return [straight];
  // Inside a wall there is nothing to see.
  if (own.some(({ region }) => region.length === 0)) return [straight];
  return [
    straight,
    ...box.walls.flatMap((wall) =>
      facesOf(wall).flatMap((face) => wayByFace(led, own, wall, face, channel, box) ?? []),
    ),
  ];
}

/** Ways of these LEDs of a layout; undefined where nothing is in the light's way. */
export function lightWays(panel: Panel, layout: Layout, leds: readonly Led[]): LightWays | undefined {
  const box = lightBox(panel);
  if (!box) return undefined;
  const runs = new Map(layout.runs.map((placed) => [placed.run.id, placed]));
  return leds.map((led) => waysOf(led, box, channelRound(runs.get(led.run)!, led.led)));
}

/**
 * How much of a way's light reaches a place, 0 to 1. Edges are drawn over `softMm`, so that a cell gets the share that lies on either side. Shadows
 * that share an edge add up to a whole one there: between walls that meet no light leaks out.
 */
export function openShare({ within, shadows }: LightWay, xMm: number, yMm: number, softMm: number): number {
  let open = 1;
  for (let i = 0; i < within.length; i++) {
    open -= 1 - coverOf(within[i]!, xMm, yMm, softMm);
    if (open <= 0) return 0;
  }
  for (let i = 0; i < shadows.length; i++) {
    open -= coverOf(shadows[i]!, xMm, yMm, softMm);
    if (open <= 0) return 0;
  }
  return open;
}
