// Axes of the power chart: round steps of volts, amperes and LED numbers. Pure.
const steps = [0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100];
const ledSteps = [1, 2, 5, 10, 20, 50, 100, 200, 500];

export interface Axis {
  readonly from: number;
  readonly to: number;
  readonly ticks: readonly number[];
}

/** Round numbers along the wire, counted from 0 as everywhere, and the last LED. */
export function ledTicks(count: number): number[] {
  const step = ledSteps.find((leds) => count / leds <= 8) ?? 500;
  const round = Array.from({ length: Math.ceil(count / step) }, (_, i) => i * step);
  return [...round.filter((led) => led <= count - 1 - step / 3), count - 1];
}

/** From a little under the least that matters up to the most, in at most so many steps that read well. */
export function axisOf(low: number, high: number, mostSteps: number): Axis {
  const span = Math.max(high - low, 1e-6);
  const step = steps.find((one) => span / one <= mostSteps) ?? 200;
  const from = Math.floor(low / step + 1e-9) * step;
  const count = Math.max(1, Math.ceil((high - from) / step - 1e-9));
  return {
    from,
    to: from + count * step,
    ticks: Array.from({ length: count + 1 }, (_, i) => from + i * step),
  };
}
