// Wires for feeds and jumpers: resistance and the current to design for inside a closed backbox.
// Sources: AWG resistance is rho / area with the diameter of ASTM B258, d = 0.127 mm x 92^((36 - n) / 39) (from memory),
// rho = 1.7241e-8 ohm m at 20 C (IEC 60028); metric: IEC 60228, class 5 flexible plain copper, greatest ohm/km at 20 C.
// Design currents: common practice, no source; always at or below the fuse that protects the wire.

export interface Wire {
  readonly id: string;
  readonly ohmPerKm: number;
  readonly designAmps: number;
}

const copperOhmMetres = 1.7241e-8;

/** Area of one conductor of solid copper, mm2, from its American wire gauge number. */
export function awgAreaMm2(gauge: number): number {
  const diameterMm = 0.127 * 92 ** ((36 - gauge) / 39);
  return (Math.PI / 4) * diameterMm ** 2;
}

/** Its resistance at 20 C, ohm/km. */
export const awgOhmPerKm = (gauge: number): number => (copperOhmMetres / (awgAreaMm2(gauge) / 1e6)) * 1000;

const awgDesignAmps: readonly (readonly [gauge: number, amps: number])[] = [
  [10, 30],
  [12, 20],
  [14, 15],
  [16, 10],
  [18, 7],
  [20, 5],
  [22, 3],
  [24, 2],
  [26, 1],
  [28, 0.7],
  [30, 0.4],
];

/** Area in mm2, ohm/km (IEC 60228 class 5), design amperes (that of the AWG wire with the next smaller area). */
const metric: readonly (readonly [areaMm2: string, ohmPerKm: number, amps: number])[] = [
  ['0.5', 39.0, 3],
  ['0.75', 26.0, 5],
  ['1', 19.5, 7],
  ['1.5', 13.3, 10],
  ['2.5', 7.98, 15],
  ['4', 4.95, 20],
  ['6', 3.3, 30],
];

export const wires: readonly Wire[] = [
  ...awgDesignAmps.map(([gauge, designAmps]) => ({
    id: `AWG ${gauge}`,
    ohmPerKm: awgOhmPerKm(gauge),
    designAmps,
  })),
  ...metric.map(([area, ohmPerKm, designAmps]) => ({ id: `${area} mm2`, ohmPerKm, designAmps })),
];

/** Copper's resistance against 20 C: 1 + 0.00393 (T - 20) (IEC 60028, from memory). */
export const copperFactor = (celsius: number): number => 1 + 0.00393 * (celsius - 20);
