// LEDs of a run as a builder writes them: `3, 7-9`. Counted from 0 at DIN, as everywhere. Pure.

const partPattern = /^(\d+)(?:\s*[-\u2013]\s*(\d+))?$/;

type LedList = { readonly leds: number[] } | { readonly refusal: string };

function readLedList(text: string, ledCount: number): LedList {
  const leds = new Set<number>();
  if (text.trim() === '') return { leds: [] };
  for (const part of text.split(/[,;]/).map((one) => one.trim())) {
    const [, first, second = first] = partPattern.exec(part) ?? [];
    if (first === undefined)
      return {
        refusal:
          part === ''
            ? 'A number is missing beside a comma'
            : `"${part}" is no LED: write numbers such as 3, 7-9`,
      };
    const ends = [Number(first), Number(second)];
    const last = Math.max(...ends);
    if (last >= ledCount)
      return {
        refusal:
          ledCount === 1
            ? `There is no LED ${last}: the only one of this run is 0`
            : `There is no LED ${last}: this run has 0 to ${ledCount - 1}`,
      };
    for (let led = Math.min(...ends); led <= last; led++) leds.add(led);
  }
  return { leds: [...leds].sort((a, b) => a - b) };
}

/** The numbers in order, each once; undefined where the text can't be read or names an LED that the run hasn't. No text: no LEDs. */
export function parseLedList(text: string, ledCount: number): number[] | undefined {
  const list = readLedList(text, ledCount);
  return 'leds' in list ? list.leds : undefined;
}

/** Why a text is not taken, without a full stop; undefined where it is. */
export function ledListRefusal(text: string, ledCount: number): string | undefined {
  const list = readLedList(text, ledCount);
  return 'refusal' in list ? list.refusal : undefined;
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
