// Figures as the screens write them: thousands set apart by a space that doesn't break, seconds to the millisecond.
const space = '\u00a0';

export const figure = (value: number): string => String(Math.round(value)).replace(/\B(?=(\d{3})+$)/g, space);

export const seconds = (ms: number): string => (ms / 1000).toFixed(3);
