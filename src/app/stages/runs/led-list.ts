// LEDs of a run as a builder writes them: `3, 7-9`. Counted from 0 at DIN, as everywhere. Pure.

const partPattern = /^(\d+)(?:\s*[-\u2013]\s*(\d+))?$/;

/** The numbers in order, each once; undefined where the text can't be read or names an LED that the run hasn't. No text: no LEDs. */
export function parseLedList(text: string, ledCount: number): number[] | undefined {
  const leds = new Set<number>();
  if (text.trim() === '') return [];
  for (const part of text.split(/[,;]/)) {
    const [, first, second = first] = partPattern.exec(part.trim()) ?? [];
    if (first === undefined) return undefined;
    const ends = [Number(first), Number(second)];
    if (Math.max(...ends) >= ledCount) return undefined;
    for (let led = Math.min(...ends); led <= Math.max(...ends); led++) leds.add(led);
  }
  return [...leds].sort((a, b) => a - b);
}

/** Three or more in a row are written as a stretch. */
export function ledListText(leds: readonly number[]): string {
  const stretches: [number, number][] = [];
  for (const led of [...leds].sort((a, b) => a - b)) {
    const last = stretches.at(-1);
    if (last && led <= last[1] + 1) last[1] = led;
    else stretches.push([led, led]);
  }
  return stretches
    .map(([from, to]) => (from === to ? `${from}` : to === from + 1 ? `${from}, ${to}` : `${from}-${to}`))
    .join(', ');
}
