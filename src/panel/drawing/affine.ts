// Affine maps of the plane as SVG writes them: x' = ax + cy + e, y' = bx + dy + f.
export interface Affine {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly f: number;
}

export const identity: Affine = { a: 1, b: 0, c: 0, d: 1, e: 0, f: 0 };
export const translation = (e: number, f: number): Affine => ({ ...identity, e, f });
export const scaling = (a: number, d: number): Affine => ({ ...identity, a, d });

/** Counter-clockwise where y points up, clockwise where it points down. */
export function rotation(degrees: number): Affine {
  const radians = (degrees * Math.PI) / 180;
  const cos = Math.cos(radians);
  const sin = Math.sin(radians);
  return { a: cos, b: sin, c: -sin, d: cos, e: 0, f: 0 };
}

/** First `inner`, then `outer`. */
export const compose = (outer: Affine, inner: Affine): Affine => ({
  a: outer.a * inner.a + outer.c * inner.b,
  b: outer.b * inner.a + outer.d * inner.b,
  c: outer.a * inner.c + outer.c * inner.d,
  d: outer.b * inner.c + outer.d * inner.d,
  e: outer.a * inner.e + outer.c * inner.f + outer.e,
  f: outer.b * inner.e + outer.d * inner.f + outer.f,
});

/** Most that the map stretches any length: its larger singular value. */
export function stretchOf({ a, b, c, d }: Affine): number {
  const sum = a * a + b * b + c * c + d * d;
  const determinant = a * d - b * c;
  return Math.sqrt((sum + Math.sqrt(Math.max(0, sum * sum - 4 * determinant * determinant))) / 2);
}
