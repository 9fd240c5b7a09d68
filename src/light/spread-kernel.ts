// One LED's light behind the sheet: its light on the face, spread by the sheet, as a correction that depends on the angle only. With it the
// fast renderers need no blur pass, whatever their cells' size.
// Not here: the spread of a whole map (spread.ts), which is the reference for this one.
// How: the Gaussian average of the face's light around a place, summed over a fine square lattice. Such sums converge faster than any power
// of the step, because both functions are smooth.
import { fluxPerMm2 } from './diffuser.ts';

/** Steps of the table; between them straight lines. It bends little: checked against the map spread by brute force. */
export const spreadSteps = 64;

const stepsPerSigma = 3;
const reachInSigmas = 5;

/**
 * Light behind the sheet over light on the face, from the far away (index 0) to right above the LED (index `spreadSteps`). The index runs
 * with z^2 / (r^2 + z^2), the square of the angle's cosine.
 */
export function spreadTable(airGapMm: number, spreadMm: number): Float32Array<ArrayBuffer> {
  const table = new Float32Array(spreadSteps + 1).fill(1);
  if (spreadMm <= 0) return table;
  const reach = stepsPerSigma * reachInSigmas;
  const weights = Float64Array.from({ length: 2 * reach + 1 }, (_, i) =>
    Math.exp(-0.5 * ((i - reach) / stepsPerSigma) ** 2),
  );
  const sum = weights.reduce((total, weight) => total + weight, 0);
  const offsetMm = (i: number): number => ((i - reach) / stepsPerSigma) * spreadMm;
  // Index 0 is at endless distance, where a spread changes nothing.
  for (let step = 1; step <= spreadSteps; step++) {
    const atMm2 = airGapMm * airGapMm * (spreadSteps / step - 1);
    const atMm = Math.sqrt(atMm2);
    let light = 0;
    for (let i = 0; i < weights.length; i++) {
      const xMm2 = (atMm + offsetMm(i)) ** 2;
      for (let j = 0; j < weights.length; j++)
        light += weights[i]! * weights[j]! * fluxPerMm2(xMm2 + offsetMm(j) ** 2, airGapMm);
    }
    table[step] = light / (sum * sum) / fluxPerMm2(atMm2, airGapMm);
  }
  return table;
}

/** Light per mm2 behind the sheet for 1 unit of flux, before the sheet's transmission. */
export function spreadFluxPerMm2(acrossMm2: number, airGapMm: number, table: Float32Array): number {
  const place = (spreadSteps * airGapMm * airGapMm) / (acrossMm2 + airGapMm * airGapMm);
  const step = Math.min(spreadSteps - 1, Math.floor(place));
  const low = table[step]!;
  return fluxPerMm2(acrossMm2, airGapMm) * (low + (place - step) * (table[step + 1]! - low));
}
