// What an effect knows of each LED of an area, worked out once by the show compiler: one to three bytes an LED, in wire order. They stand in the
// show data, so that on the board a coordinate (a place on the way, a distance, an angle) costs one look-up whatever it took to find.
// Pure functions of places on the panel: the wiring decides only the order of the bytes.
import { type AreaLed, type PointMm, plannedLeds } from '../panel/index.ts';

/** An LED of an area, with its place along the area's order (0 to 1) and on the panel. */
export interface MappedLed extends PointMm {
  readonly place: number;
}

/** All planned LEDs of an area whose list leaves some out, by that list. */
const wholeOf = new WeakMap<readonly PointMm[], readonly PointMm[]>();

/** The LEDs of an area, for a list that areaLeds gave. */
export function mappedLeds(leds: readonly AreaLed[]): readonly MappedLed[] {
  const { lit, all } = plannedLeds(leds);
  if (lit !== all) wholeOf.set(lit, all);
  return lit;
}

/** The area's planned LEDs, dark ones too: what is dealt, measured or laid out over an area doesn't shift when one of them dies. */
export const wholeArea = <T extends PointMm>(leds: readonly T[]): readonly T[] =>
  (wholeOf.get(leds) as readonly T[] | undefined) ?? leds;

/** Something for each LED that depends on all of the area, worked out for the whole area. */
export function overWholeArea<T extends PointMm, R>(
  leds: readonly T[],
  make: (all: readonly T[]) => readonly R[],
): readonly R[] {
  const all = wholeArea(leds);
  const made = make(all);
  if (all === leds) return made;
  const places = new Map(all.map((led, i) => [led, i]));
  return leds.map((led) => made[places.get(led)!]!);
}

const part = (turns: number): number => turns - Math.floor(turns);

/** The last step of a way belongs to its end, so that the two ends of an open way don't meet. */
const mostPlace = 1 - 1 / 1024;
const stepOf = (turns: number): number => Math.floor(256 * part(turns));
/** From both ends to the middle at once. */
const mirrored = (place: number): number => 1 - Math.abs(2 * place - 1);

/** Steps along the area's order, 256 a turn, so many turns on the whole way; a closed way of whole turns closes. */
export const wayMap = (leds: readonly MappedLed[], turns: number, mirror = false): Uint8Array =>
  Uint8Array.from(leds, ({ place }) => stepOf(Math.min(mostPlace, mirror ? mirrored(place) : place) * turns));

/** Steps of a gradient, 256 from its beginning to its end: where on it each LED is when part of it lies along the area's order. */
export const gradientMap = (leds: readonly MappedLed[], from: number, span: number): Uint8Array =>
  Uint8Array.from(leds, ({ place }) => stepOf(from + Math.min(mostPlace, place) * Math.min(mostPlace, span)));

/** Steps outwards from a point, 256 a ring. */
export const distanceMap = (leds: readonly MappedLed[], centre: PointMm, spacingMm: number): Uint8Array =>
  Uint8Array.from(leds, (led) => stepOf(Math.hypot(led.xMm - centre.xMm, led.yMm - centre.yMm) / spacingMm));

/** Steps around a point, clockwise from the right, 256 from spoke to spoke; a spoke turns by `twistTurns` on the way to the farthest LED. */
export function angleMap(
  leds: readonly MappedLed[],
  centre: PointMm,
  spokes: number,
  twistTurns: number,
): Uint8Array {
  const far = (led: PointMm): number => Math.hypot(led.xMm - centre.xMm, led.yMm - centre.yMm);
  const distances = leds.map(far);
  const reach = Math.max(1, ...wholeArea(leds).map(far));
  return Uint8Array.from(leds, (led, i) => {
    const turns = Math.atan2(led.yMm - centre.yMm, led.xMm - centre.xMm) / (2 * Math.PI);
    return stepOf((turns - (twistTurns * distances[i]!) / reach) * spokes);
  });
}

/** Places that differ by less are one: rows that begin at one height need not agree to the last bit. */
const samePlace = 1e-6;

/** An LED's turn in a chase of every n-th lamp along the area's order, in 256ths of the chase. LEDs at one place have one turn. */
export const chaseMap = (leds: readonly MappedLed[], every: number): Uint8Array =>
  Uint8Array.from(overWholeArea(leds, (all) => chaseTurns(all, every)));

function chaseTurns(leds: readonly MappedLed[], every: number): number[] {
  const map = leds.map(() => 0);
  const along = leds.map((led, index) => ({ index, place: led.place }));
  along.sort((a, b) => a.place - b.place);
  let turn = 0;
  for (const [i, { index, place }] of along.entries()) {
    if (i > 0 && place - along[i - 1]!.place >= samePlace) turn = (turn + 1) % every;
    map[index] = Math.floor((256 * turn) / every);
  }
  return map;
}

/** Thirty-two bits of chance from a place: steps of a hundredth of a millimetre, mixed by multiplying and folding. */
function chanceOf({ xMm, yMm }: PointMm): number {
  let hash = 0x2545f491;
  for (const value of [hundredths(xMm), hundredths(yMm)]) {
    hash = Math.imul(hash ^ value, 0x9e3779b1);
    hash = Math.imul(hash ^ (hash >>> 15), 0x85ebca77);
    hash ^= hash >>> 13;
  }
  return hash >>> 0;
}

/** LEDs in an order thrown by dice, which depends on their places alone: for each its number in that order. */
function chanceRanks(leds: readonly MappedLed[]): number[] {
  const thrown = leds.map((led, index) => ({ index, chance: chanceOf(led) }));
  thrown.sort((a, b) => a.chance - b.chance || a.index - b.index);
  const ranks = leds.map(() => 0);
  for (const [rank, { index }] of thrown.entries()) ranks[index] = rank;
  return ranks;
}

/** All bytes, shuffled once for good: Fisher and Yates's shuffle, its dice a multiplicative congruence. */
const shuffledBytes: readonly number[] = (() => {
  const bytes = Array.from({ length: 256 }, (_, byte) => byte);
  let dice = 12_345;
  for (let last = 255; last > 0; last--) {
    dice = (dice * 48_271) % 2_147_483_647;
    const other = dice % (last + 1);
    [bytes[last], bytes[other]] = [bytes[other]!, bytes[last]!];
  }
  return bytes;
})();

const hundredths = (mm: number): number => Math.round(mm * 100);

/**
 * A byte of chance an LED, dealt row by row from the top left: up to 256 LEDs have each their own, and on a larger area those that share one
 * are far apart.
 */
export const chanceMap = (leds: readonly MappedLed[]): Uint8Array =>
  Uint8Array.from(overWholeArea(leds, chanceBytes));

function chanceBytes(leds: readonly MappedLed[]): number[] {
  const map = leds.map(() => 0);
  const inRows = leds.map((led, index) => ({ index, x: hundredths(led.xMm), y: hundredths(led.yMm) }));
  inRows.sort((a, b) => a.y - b.y || a.x - b.x || a.index - b.index);
  for (const [place, { index }] of inRows.entries()) map[index] = shuffledBytes[place & 255]!;
  return map;
}

/** A place on a way through all LEDs that was thrown by dice, a byte an LED. */
export const chanceOrderMap = (leds: readonly MappedLed[]): Uint8Array =>
  Uint8Array.from(overWholeArea(leds, chanceRanks), (rank) =>
    Math.floor((256 * rank) / wholeArea(leds).length),
  );

/** The area's box: its corner and the larger of its sides, at least 1 mm. */
export function boxOf(leds: readonly PointMm[]): {
  readonly xMm: number;
  readonly yMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
} {
  const all = wholeArea(leds);
  const xs = all.map((led) => led.xMm);
  const ys = all.map((led) => led.yMm);
  const [xMm, yMm] = [Math.min(...xs), Math.min(...ys)];
  return { xMm, yMm, widthMm: Math.max(...xs) - xMm, heightMm: Math.max(...ys) - yMm };
}

/** The lattice has 9 x 9 corners: seven cells across the area, and one more for the drift. */
export const mostCells = 7;
const cellSteps = 32;

/** The smallest patch that the lattice can draw on an area, mm. */
export function leastPatchMm(leds: readonly PointMm[]): number {
  const box = boxOf(leds);
  return Math.max(box.widthMm, box.heightMm) / mostCells;
}

const patchHeld = (leds: readonly PointMm[], patchMm: number): number =>
  Math.max(patchMm, leastPatchMm(leds), 1e-3);

/** Cells a millimetre, held to what the lattice can draw. */
export const cellsPerMm = (leds: readonly PointMm[], patchMm: number): number => 1 / patchHeld(leds, patchMm);

/** Place in the lattice, two bytes an LED: 32nds of a cell from the area's corner. */
export function latticeMap(leds: readonly MappedLed[], patchMm: number): Uint8Array {
  const { xMm, yMm } = boxOf(leds);
  const steps = cellSteps / patchHeld(leds, patchMm);
  const byte = (mm: number): number => Math.min(mostCells * cellSteps, Math.round(mm * steps));
  return Uint8Array.from(leds.flatMap((led) => [byte(led.xMm - xMm), byte(led.yMm - yMm)]));
}

/** The same and the height over the area's foot (0 to 255): three bytes an LED. */
export function fireMap(leds: readonly MappedLed[], patchMm: number): Uint8Array {
  const { yMm, heightMm } = boxOf(leds);
  const lattice = latticeMap(leds, patchMm);
  return Uint8Array.from(
    leds.flatMap((led, i) => [
      lattice[2 * i]!,
      lattice[2 * i + 1]!,
      Math.round(heightMm === 0 ? 0 : 255 * (1 - (led.yMm - yMm) / heightMm)),
    ]),
  );
}
