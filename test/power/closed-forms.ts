// The textbook's closed forms for a strip that is fed at certain places, with their sources; nothing here comes from our solver.
// N LEDs, i amperes each, r ohm of loop (both rails) per pitch.

/** Textbook formula; derived. Fed at the first LED. */
export const fedAtFirst = (N: number, i: number, r: number): number => (i * r * N * (N - 1)) / 2;

/** Textbook formula; derived. Fed one pitch before the first LED. */
export const fedOnePitchBefore = (N: number, i: number, r: number): number => (i * r * N * (N + 1)) / 2;

/** Textbook formula; derived. Between two feeds M pitches apart, an LED at each pitch. */
export const betweenFeeds = (M: number, i: number, r: number): number =>
  (i * r * (M % 2 === 0 ? M * M : M * M - 1)) / 8;

/**
 * Derived: + fed at the first LED, ground at the last, equal rails of r/2. Drop on + at LED k is the sum of the currents in the
 * k segments before it, (N - 1) + (N - 2) + ...; on ground the same from the other end.
 */
export function diagonal(N: number, i: number, r: number, k: number): number {
  const steps = (s: number) => s * N - (s * (s + 1)) / 2;
  return i * (r / 2) * (steps(k) + steps(N - 1 - k));
}
