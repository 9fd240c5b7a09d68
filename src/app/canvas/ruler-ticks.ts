// Where a ruler in millimetres has its ticks and figures, for any zoom. No drawing here.

/** Steps between figures that read well, mm. */
const stepsMm = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000] as const;
const leastFigurePx = 80;
const leastTickPx = 5;

export interface Tick {
  readonly mm: number;
  readonly isFigure: boolean;
}

/** Ticks from one place to another; `fromMm` is the smaller. */
export function rulerTicks(fromMm: number, toMm: number, pxPerMm: number): Tick[] {
  const figureMm = stepsMm.find((step) => step * pxPerMm >= leastFigurePx) ?? stepsMm.at(-1)!;
  const tickMm = [figureMm / 10, figureMm / 5, figureMm / 2].find((step) => step * pxPerMm >= leastTickPx);
  const step = tickMm ?? figureMm;
  const perFigure = Math.round(figureMm / step);
  const first = Math.ceil(fromMm / step);
  const last = Math.floor(toMm / step);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => ({
    mm: Number(((first + i) * step).toFixed(3)),
    isFigure: (first + i) % perFigure === 0,
  }));
}
