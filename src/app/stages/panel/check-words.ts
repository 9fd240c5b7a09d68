// What a check of the scale comes to, in words.

/** "agrees, -0.4": found less measured; with a true minus. */
export function checkWords(foundMm: number, measuredMm: number, isOff: boolean): string {
  const offMm = Math.round((foundMm - measuredMm) * 10) / 10;
  const sign = offMm === 0 ? '' : offMm < 0 ? '\u2212' : '+';
  return `${isOff ? 'off by' : 'agrees,'} ${sign}${Math.abs(offMm).toFixed(1)}`;
}
