// Effects and the colour table once more, written from SPEC.md alone, in exact integers. Rule ids stand beside each part. Slow and plain on purpose:
// nothing is shared with the player's sources. Not here: clips, blends, output (spec-player.ts).
import { placeOf, type SpecReader, sizeOf } from './spec-tables.ts';

const { floor, min, max } = Math;
export const mod = (value: number, bits: 8 | 16 | 32): number => value - floor(value / 2 ** bits) * 2 ** bits;
const hi = (word: number): number => floor(word / 256);
const lo = (word: number): number => word % 256;

// ---- A: arithmetic ----

export const scale8 = (a: number, k: number): number => floor((a * (k + 1)) / 256);
export const square8 = (a: number): number => floor((a * a) / 256);
export const triangle8 = (a: number): number => (a < 128 ? 2 * a : 2 * (255 - a) + 1);
export const ease8 = (a: number): number =>
  a < 128 ? floor(square8(2 * a) / 2) : 255 - floor(square8(2 * (255 - a)) / 2);
const square16 = (w: number): number => floor((w * w) / 65_536);
export function ease16(easing: number, w: number): number {
  if (easing === 1) return square16(w);
  if (easing === 2) return 65_535 - square16(65_535 - w);
  if (easing === 3)
    return w < 32_768 ? floor(square16(2 * w) / 2) : 65_535 - floor(square16(2 * (65_535 - w)) / 2);
  return w;
}
export const fold8 = (a: number, factor: number): number => hi(a * factor) ^ lo(a * factor);
export function chance8(a: number, b: number): number {
  const first = fold8(a ^ 0x6d, 0xc5);
  const second = fold8(mod((first ^ b) + 0x2b, 8), 0xa7);
  return fold8(second ^ a, 0x8d);
}

/** T-3. */
export class Turns {
  readonly #turns: bigint;
  constructor(timeMs: number, rate: number) {
    this.#turns = BigInt.asUintN(32, BigInt(timeMs) * BigInt(rate));
  }
  readonly #bits = (from: number, count: number): number =>
    Number(BigInt.asUintN(count, this.#turns >> BigInt(from)));
  get phase16(): number {
    return this.#bits(8, 16);
  }
  get phase8(): number {
    return this.#bits(16, 8);
  }
  get whole(): number {
    return this.#bits(24, 8);
  }
}

// ---- what an effect gives ----

/** How the level runs along the colour table. */
export interface Table {
  readonly entries: number;
  readonly shift: number;
  readonly level: number;
  readonly shares: 'even' | 'levelled' | 'edges' | 'fours';
  readonly width?: number;
  readonly front?: number;
  readonly back?: number;
  readonly four?: readonly number[];
}
/** An LED's entry and, for stars, its level; nothing where it is left alone. */
export type Lit = { readonly entry: number; readonly level?: number } | undefined;
export interface Look {
  readonly table: Table;
  /** Bytes an LED in the clip's map (M-1). */
  readonly mapBytes: number;
  readonly led: (map: readonly number[]) => Lit;
}

const wholeTable: Table = { entries: 64, shift: 0, level: 255, shares: 'even' };

/** E-1. */
const along =
  (flip: number, whole: number, lastStep: number, stretch: number) =>
  ([u]: readonly number[]): Lit => {
    const s = mod((u! ^ flip) + whole, 8);
    return s > lastStep ? undefined : { entry: floor(lo(s * stretch) / 4) };
  };
const wholeWay = (table: Table): Look => ({ table, mapBytes: 1, led: along(0, 0, 255, 1) });

/** E-2. */
const glow = (data: SpecReader, at: number, t: number): Look => {
  const swing = ease8(triangle8(new Turns(t, data.u32(at)).phase8));
  return wholeWay({ ...wholeTable, level: 255 - scale8(data.u8(at + 4), swing) });
};

/** E-3: the centre, and whether the gradient begins at the low end. */
function bandCentre(data: SpecReader, at: number, t: number): { readonly c: number; readonly low: boolean } {
  const flags = data.u8(at + 12);
  const travel = flags & 3;
  const easing = (flags >> 2) & 3;
  const low = (flags & 64) !== 0;
  const w = new Turns(t, data.u32(at)).phase16;
  if (travel === 0) return { c: ease16(easing, w), low };
  if (travel === 1) return { c: -ease16(easing, w), low: true };
  const isBack = w >= 32_768;
  const there = ease16(easing, mod(2 * w, 16));
  const turned = isBack ? 65_535 - there : there;
  const bands = data.u8(at + 13);
  return { c: bands > 1 ? mod(turned * bands, 16) : floor(turned / 2), low: low || isBack };
}

/** E-4. */
function bands(data: SpecReader, at: number, t: number): Look {
  const { c, low } = bandCentre(data, at, t);
  const [width, offset] = [data.u16(at + 4), data.u16(at + 6)];
  const [front, back] = [data.u16(at + 8), data.u16(at + 10)];
  const steps = 2 ** ((data.u8(at + 12) >> 4) & 3);
  const phase = mod(low ? offset - c : offset + c, 16);
  const tableWidth = floor(width / steps);
  const isRound = width === 65_535;
  const hasEdges = front > 0 || back > 0 || (lo(width) !== 0 && !isRound);
  return {
    table: {
      entries: hi(tableWidth - 1) + 1,
      shift: floor((phase % (256 * steps)) / steps),
      level: 255,
      shares: hasEdges ? 'edges' : 'even',
      width: tableWidth,
      front,
      back,
    },
    mapBytes: 1,
    led: along(low ? 0 : 255, hi(phase) - (hi(phase) % steps) + (low ? 0 : 1), hi(width - 1), 4 / steps),
  };
}

/** E-5. */
function column(data: SpecReader, at: number, t: number, value: number): Look {
  const flags = data.u8(at + 7);
  const w = new Turns(t, data.u32(at)).phase16;
  const ways = [w, 65_535 - w, w < 32_768 ? 2 * w : 65_535 - mod(2 * w, 16)];
  const full = flags & 16 ? value * 257 : ease16((flags >> 2) & 3, ways[flags & 3]!);
  return wholeWay({
    ...wholeTable,
    shares: 'edges',
    width: floor((full * data.u8(at + 6)) / 256),
    front: 0,
    back: data.u16(at + 4),
  });
}

/** E-6. */
function bursts(data: SpecReader, at: number, t: number): Look {
  const f = floor((new Turns(t, data.u32(at)).phase16 * data.u8(at + 5)) / 256);
  const q = lo(f);
  const lit = data.u8(at + 6);
  const isLit = hi(f) < data.u8(at + 4) && q < lit;
  const level = isLit ? min(255, floor(((min(q, lit - q) + 1) * data.u8(at + 7)) / 4)) : 0;
  return wholeWay({ ...wholeTable, level });
}

/** E-8. */
function strike(a: number, halfLife: number): number {
  if (a < 170) return a >= 60 && a < 110 ? 40 : 255;
  if (halfLife === 0) return 0;
  const f = a - 170;
  const level = floor(150 / 2 ** min(20, floor(f / halfLife)));
  return level - scale8(floor(level / 2), floor(((f % halfLife) * 255) / halfLife));
}

/** E-7. */
function lightning(data: SpecReader, at: number, t: number): Look {
  const slot = data.u16(at);
  const number = floor(t / slot);
  let level = 0;
  const halfLife = data.u16(at + 4);
  for (let n = number; ; n--) {
    const c = chance8(mod(n, 8), data.u8(at + 3));
    const s = floor((floor(slot / 2) * chance8(c, mod(n, 8))) / 256);
    const age = t - n * slot;
    if (c < data.u8(at + 2) && age >= s) {
      level = strike(age - s, halfLife);
      break;
    }
    if (n === 0 || age + slot > 65_535 || floor(age / 8) > halfLife) break;
  }
  return wholeWay({ ...wholeTable, level });
}

/** E-9. */
function stars(data: SpecReader, at: number, t: number): Look {
  const turns = new Turns(t, data.u32(at));
  const [density, seed, dies] = [data.u8(at + 4), data.u8(at + 5), data.u8(at + 6)];
  return {
    table: { ...wholeTable, shares: 'levelled' },
    mapBytes: 1,
    led: ([u]) => {
      const own = u! ^ seed;
      const age = mod(turns.phase8 + own, 8);
      const slot = mod(age < own ? turns.whole + 1 : turns.whole, 8);
      const thrown = fold8(chance8(slot, seed) ^ own, 0x5b);
      const level = thrown < density ? square8(dies ? 255 - age : triangle8(age)) : 0;
      return { entry: floor(mod(thrown + own, 8) / 4), level };
    },
  };
}

/** E-10, E-11: the value at a place. */
function latticeValue(data: SpecReader, at: number, t: number): (mapX: number, mapY: number) => number {
  const [x, y] = [new Turns(t, data.u32(at)), new Turns(t, data.u32(at + 4))];
  const seed = data.u8(at + 8);
  const corner = (i: number, j: number): number =>
    floor(fold8(fold8(mod(x.whole + i, 8), 0xb5) ^ chance8(mod(y.whole + j, 8), seed), 0x9b) / 2);
  const mix = (a: number, b: number, s: number): number => a + floor(((b - a) * s) / 256);
  return (mapX, mapY) => {
    const [X, Y] = [8 * mapX + x.phase8, 8 * mapY + y.phase8];
    const [i, j] = [hi(X), hi(Y)];
    return mix(
      mix(corner(i, j), corner(i, j + 1), lo(Y)),
      mix(corner(i + 1, j), corner(i + 1, j + 1), lo(Y)),
      lo(X),
    );
  };
}
function cloud(data: SpecReader, at: number, t: number): Look {
  const value = latticeValue(data, at, t);
  return { table: wholeTable, mapBytes: 2, led: ([x, y]) => ({ entry: floor(value(x!, y!) / 2) }) };
}

/** E-12. */
function fire(data: SpecReader, at: number, t: number): Look {
  const value = latticeValue(data, at, t);
  const [base, cooling] = [data.u8(at + 10), data.u8(at + 11)];
  return {
    table: wholeTable,
    mapBytes: 3,
    led: ([x, y, height]) => {
      const heat = min(255, 2 * value(x!, y!) + base);
      const lost = 4 * min(63, floor((height! * cooling) / 256));
      return { entry: floor(max(0, heat - lost) / 4) };
    },
  };
}

/** L-6 to L-8. */
function letters(data: SpecReader, at: number, t: number): Look {
  const text = data.u16(at + 9);
  const passed = floor((new Turns(t, data.u32(at)).phase16 * data.u16(at + 4)) / 256);
  const s = lo(passed);
  const isLit = (column: number, rowBit: number): number =>
    data.u8(text + placeOf('lettersColumns') + column) & rowBit ? 1 : 0;
  return {
    table: { ...wholeTable, shares: 'fours', four: [0, 255 - s, s, 255] },
    mapBytes: 2,
    led: ([column, rowBit]) => {
      const here = column! + data.u16(at + 6) + hi(passed);
      const colour = floor(lo(column! * data.u8(at + 8)) / 16);
      return { entry: 4 * colour + isLit(here, rowBit!) + 2 * isLit(here + 1, rowBit!) };
    },
  };
}

/** Effects by their number; painted frames (8) have no colour table of this kind. */
export const looks: readonly (
  | ((data: SpecReader, at: number, timeMs: number, value: number) => Look)
  | undefined
)[] = [glow, bands, column, bursts, lightning, stars, cloud, fire, undefined, letters];

// ---- G: the colour table ----

export interface Entry {
  readonly rest: number;
  readonly colours: readonly number[];
}
export type BlendName = 'over' | 'add' | 'brighter wins' | 'tint';

/** G-6. */
export function blended(blend: BlendName, colours: readonly number[], share: number): Entry {
  return {
    rest: 255 - share,
    colours: colours.map((c) => (blend === 'tint' ? 255 - scale8(255 - c, share) : scale8(c, share))),
  };
}

/** G-2: all colours of a gradient, looked at b / 256 of a step further. */
function gradientColours(data: SpecReader, gradient: number, b: number): number[][] {
  return Array.from({ length: data.u8(gradient) }, (_, p) => gradient + 1 + p * sizeOf('pieceSize')).flatMap(
    (piece) =>
      Array.from({ length: data.field(piece, 'pieceEntries') }, (_unused, k) =>
        [0, 2, 4].map((byte) => {
          const step = data.i16(piece + placeOf('pieceStep') + byte);
          return hi(
            mod(data.u16(piece + placeOf('pieceStart') + byte) + k * step + floor((step * b) / 256), 16),
          );
        }),
      ),
  );
}

/** G-4: levels from one end on, into shares that hold more. */
function edge(
  shares: number[],
  order: readonly number[],
  firstLevel: number,
  gain: number,
  held: number,
): void {
  for (const [i, entry] of order.entries()) {
    const level = hi(min(65_535, firstLevel + i * gain));
    if (level >= 255) return;
    shares[entry] = min(shares[entry]!, scale8(level, held));
  }
}
function sharesOf(table: Table, held: number): number[] {
  const { entries, shift, width = 0, front = 0, back = 0, four = [] } = table;
  if (table.shares === 'fours') return Array.from({ length: entries }, (_, i) => scale8(four[i % 4]!, held));
  const shares = Array.from({ length: entries }, () => held);
  if (table.shares !== 'edges') return shares;
  const all = [...shares.keys()];
  if (front > 0) edge(shares, all, floor((front * shift) / 256), front, held);
  const at = (i: number): number => 256 * i + shift;
  for (const i of all) if (at(i) >= width) shares[i] = 0;
  const inside = all.filter((i) => at(i) < width).reverse();
  if (inside.length > 0 && back > 0)
    edge(shares, inside, min(65_535, floor(((width - at(inside[0]!)) * back) / 256)), back, held);
  return shares;
}

/** G-1, G-3. */
export function colourTable(
  data: SpecReader,
  gradient: number,
  table: Table,
  cycle: { readonly timeMs: number; readonly rate: number },
  blend: BlendName,
  fade: number,
): Entry[] {
  const turned =
    cycle.rate === 0 ? 0 : floor((new Turns(cycle.timeMs, cycle.rate).phase16 * table.entries) / 256);
  const start = turned + table.shift;
  const colours = gradientColours(data, gradient, lo(start));
  const held = table.shares === 'levelled' && blend === 'over' ? 255 : scale8(table.level, fade);
  return sharesOf(table, held).map((share, i) =>
    blended(blend, colours[(hi(start) + i) % colours.length]!, share),
  );
}
