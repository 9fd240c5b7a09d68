// LEDs by the colour of the artwork over them: which lie under a colour like the one that was pointed at. Pure; the pixels come from outside.
import chroma from 'chroma-js';
import type { Layout, PointMm } from '../../panel/index.ts';
import type { AreaMembers } from '../../project/index.ts';

/** The artwork's colour at a place, 0 to 255 each. */
export type ColourAt = (place: PointMm) => readonly [red: number, green: number, blue: number];

/** Distance in OKLab under which two colours of print count as one; by eye. */
const alike = 0.12;

/** Chained LEDs under that colour, as parts of runs; none where the colour lies over no LED. */
export function colourMembers(layout: Layout, colourAt: ColourAt, at: PointMm): AreaMembers[] {
  const wanted = chroma.rgb(...colourAt(at));
  const isAlike = (place: PointMm): boolean =>
    chroma.distance(wanted, chroma.rgb(...colourAt(place)), 'oklab') <= alike;
  const members: AreaMembers[] = [];
  let open: { run: string; from: number; to: number } | undefined;
  const close = (): void => {
    if (open) members.push({ kind: 'leds', ...open });
    open = undefined;
  };
  for (const led of layout.plannedLeds) {
    if (open && (led.run !== open.run || led.led !== open.to + 1)) close();
    if (!isAlike(led)) close();
    else if (open) open.to = led.led;
    else open = { run: led.run, from: led.led, to: led.led };
  }
  close();
  return withWholeRuns(layout, members);
}

/** Parts that are whole runs are told as runs: an area has room for more of them. */
function withWholeRuns(layout: Layout, members: readonly AreaMembers[]): AreaMembers[] {
  const isWhole = (one: AreaMembers): one is Extract<AreaMembers, { kind: 'leds' }> =>
    one.kind === 'leds' &&
    one.to - one.from + 1 === layout.runs.find(({ run }) => run.id === one.run)?.run.ledCount;
  const runs = members.filter(isWhole).map(({ run }) => run);
  const parts = members.filter((one) => !isWhole(one));
  return runs.length > 0 ? [{ kind: 'runs', runs }, ...parts] : parts;
}

/** Reads colours out of pixels that are stretched over the panel: the mean of the square so many pixels round the place. */
export function colourReader(
  { data, width, height }: Pick<ImageData, 'data' | 'width' | 'height'>,
  panel: { readonly widthMm: number; readonly heightMm: number },
  reachPx = 1,
): ColourAt {
  return ({ xMm, yMm }) => {
    const x = Math.min(width - 1, Math.max(0, Math.floor((xMm / panel.widthMm) * width)));
    const y = Math.min(height - 1, Math.max(0, Math.floor((yMm / panel.heightMm) * height)));
    const sum = [0, 0, 0];
    let count = 0;
    for (let row = Math.max(0, y - reachPx); row <= Math.min(height - 1, y + reachPx); row++)
      for (let column = Math.max(0, x - reachPx); column <= Math.min(width - 1, x + reachPx); column++) {
        const first = 4 * (row * width + column);
        for (let channel = 0; channel < 3; channel++) sum[channel]! += data[first + channel]!;
        count++;
      }
    return [sum[0]! / count, sum[1]! / count, sum[2]! / count];
  };
}
