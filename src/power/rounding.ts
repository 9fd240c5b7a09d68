// How figures are rounded wherever they are written down in words or on paper: once, here, so that two places never differ by a digit.
import { settled } from './sizing.ts';

/** Amperes, two decimals: "12.40". */
export const ampsFigure = (amps: number): string => amps.toFixed(2);

/** Volts, two decimals, rounded down, so that a value under a limit never reads like the limit: "4.49" for 4.499. */
export const voltsFigure = (volts: number): string => (Math.floor(settled(volts * 100)) / 100).toFixed(2);

/** Volts that are lost, two decimals, rounded up, so that a loss never reads smaller than it is. */
export const lostVoltsFigure = (volts: number): string => (Math.ceil(settled(volts * 100)) / 100).toFixed(2);

/** Watts, one decimal. */
export const wattsFigure = (watts: number): string => watts.toFixed(1);
