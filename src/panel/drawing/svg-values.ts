// Values as SVG writes them: lengths, the viewBox, transforms.
import { type Affine, compose, identity, rotation, scaling, translation } from './affine.ts';

/** 1 in = 25.4 mm = 96 px = 72 pt = 6 pc (CSS Values 3, section 5.2). */
const mmPerUnit: ReadonlyMap<string, number> = new Map([
  ['mm', 1],
  ['cm', 10],
  ['q', 0.25],
  ['in', 25.4],
  ['pt', 25.4 / 72],
  ['pc', 25.4 / 6],
  ['px', 25.4 / 96],
]);
export const mmPerPixel = 25.4 / 96;

const number = String.raw`[-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?`;
const lengthPattern = new RegExp(`^(${number})\\s*([a-z%]*)$`, 'i');

export interface Length {
  readonly value: number;
  /** In small letters, '' where there is none. */
  readonly unit: string;
}

export function lengthOf(text: string | undefined): Length | undefined {
  const match = lengthPattern.exec((text ?? '').trim());
  return match ? { value: Number(match[1]), unit: match[2]!.toLowerCase() } : undefined;
}

/** A length in mm where it has a unit that says so. */
export const lengthMm = (length: Length | undefined): number | undefined => {
  const factor = length && mmPerUnit.get(length.unit);
  return factor === undefined ? undefined : length!.value * factor;
};

/** A length inside the drawing, in its own units (1 px each); per cent of `whole`. Undefined for units that depend on letters. */
export function userLength(text: string | undefined, whole: number): number | undefined {
  const length = lengthOf(text);
  if (!length) return undefined;
  if (length.unit === '') return length.value;
  if (length.unit === '%') return (length.value / 100) * whole;
  const mm = lengthMm(length);
  return mm === undefined ? undefined : mm / mmPerPixel;
}

export const numbersOf = (text: string): number[] => (text.match(new RegExp(number, 'gi')) ?? []).map(Number);

export interface ViewBox {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export function viewBoxOf(text: string | undefined): ViewBox | undefined {
  const [x, y, width, height, ...more] = numbersOf(text ?? '');
  if (x === undefined || y === undefined || width === undefined || height === undefined) return undefined;
  return more.length === 0 && width > 0 && height > 0 ? { x, y, width, height } : undefined;
}

/** Share of the room left over that lies before the picture. */
const shareBefore = (align: string | undefined): number => (align === 'Min' ? 0 : align === 'Max' ? 1 : 0.5);

/** The map from a viewBox into a field of this size at the origin (SVG 1.1, section 7.8). */
export function fitBox(box: ViewBox, width: number, height: number, aspect: string | undefined): Affine {
  let [sx, sy] = [width / box.width, height / box.height];
  const match = /x(Min|Mid|Max)Y(Min|Mid|Max)(?:\s+(meet|slice))?/.exec(aspect ?? 'xMidYMid');
  let [left, top] = [0, 0];
  if (match && !/^\s*none/.test(aspect ?? '')) {
    sx = match[3] === 'slice' ? Math.max(sx, sy) : Math.min(sx, sy);
    sy = sx;
    left = (width - box.width * sx) * shareBefore(match[1]);
    top = (height - box.height * sy) * shareBefore(match[2]);
  }
  return compose(translation(left, top), compose(scaling(sx, sy), translation(-box.x, -box.y)));
}

const degrees = (value: number | undefined): number => Math.tan(((value ?? 0) * Math.PI) / 180);

const transforms: Readonly<Record<string, (n: readonly number[]) => Affine>> = {
  matrix: ([a = 1, b = 0, c = 0, d = 1, e = 0, f = 0]) => ({ a, b, c, d, e, f }),
  translate: ([x = 0, y = 0]) => translation(x, y),
  scale: ([x = 1, y = x]) => scaling(x, y),
  rotate: ([turn = 0, x = 0, y = 0]) =>
    compose(translation(x, y), compose(rotation(turn), translation(-x, -y))),
  skewx: ([turn]) => ({ ...identity, c: degrees(turn) }),
  skewy: ([turn]) => ({ ...identity, b: degrees(turn) }),
};

/** A list of transforms, the last one applied first. */
export function transformOf(text: string | undefined): Affine {
  let map = identity;
  for (const [, name, values] of (text ?? '').matchAll(/\b([a-zA-Z]+)\s*\(([^()]*)\)/g)) {
    const known = name!.toLowerCase();
    if (Object.hasOwn(transforms, known)) map = compose(map, transforms[known]!(numbersOf(values!)));
  }
  return map;
}
