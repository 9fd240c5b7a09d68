// A rail's resistance from what a builder reads with the far end shorted. Pure.

/** Both rails in series, shorted at the far end: half of volts by amperes, over the length, is one rail's. */
export const railOhmPerMetre = (volts: number, amps: number, lengthMm: number): number =>
  volts / amps / 2 / (lengthMm / 1000);
