// How an effect becomes slower or faster as a whole: its times grow by a factor, its rates shrink by it. Bounds are kept by whoever uses it.
import type { Effect } from './types.ts';

/** Parameters that are times, in seconds or milliseconds. */
const times: ReadonlySet<string> = new Set([
  'breathSeconds',
  'passSeconds',
  'stepSeconds',
  'turnSeconds',
  'fillSeconds',
  'pauseSeconds',
  'glowSeconds',
  'lifeSeconds',
  'ringSeconds',
]);
/** Parameters of so much in a time. */
const rates: ReadonlySet<string> = new Set([
  'flashesPerSecond',
  'strikesPerMinute',
  'driftMmPerSecond',
  'riseMmPerSecond',
]);

/** As fine as the fields show. */
const tidy = (value: number): number => Math.round(value * 1000) / 1000;

const stretchedParameter = (key: string, value: unknown, factor: number): unknown => {
  if (typeof value !== 'number') return value;
  if (times.has(key)) return tidy(value * factor);
  return rates.has(key) ? tidy(value / factor) : value;
};

/** The effect `factor` times as slow. Numbers may leave the schema's bounds. */
export function stretchedEffect(effect: Effect, factor: number): Effect {
  const stretched = Object.fromEntries(
    Object.entries(effect).map(([key, value]) => [key, stretchedParameter(key, value, factor)]),
  ) as Effect;
  if (stretched.kind !== 'painted') return stretched;
  const [first, ...others] = stretched.frames.map((frame) => ({
    ...frame,
    holdMs: Math.round(frame.holdMs * factor),
    ...(frame.fadeMs === undefined ? {} : { fadeMs: Math.round(frame.fadeMs * factor) }),
  }));
  return { ...stretched, frames: [first!, ...others] };
}
