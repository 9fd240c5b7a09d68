// Beats by tempo. Times in the document are whole milliseconds; each beat is rounded by itself, so that they don't drift.

export const secondsOfBpm = (beatsAMinute: number): number => 60 / beatsAMinute;
export const bpmOf = (everySeconds: number): number => 60 / everySeconds;

/** From the first one up to the show's end, ms. */
export function beatsEvery(everySeconds: number, fromSeconds: number, lengthMs: number): number[] {
  const everyMs = everySeconds * 1000;
  const fromMs = fromSeconds * 1000;
  const count = Math.max(0, Math.ceil((lengthMs - fromMs) / everyMs));
  return Array.from({ length: count }, (_, i) => Math.round(fromMs + i * everyMs)).filter(
    (ms) => ms < lengthMs,
  );
}
