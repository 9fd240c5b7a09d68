// Where the chart's words stand, so that none covers another: each takes the first of its places that is still free. Pure, px.

export interface WordsPlace {
  /** Left edge and base line. */
  readonly x: number;
  readonly y: number;
}

export interface Words {
  readonly width: number;
  /** From the best to the last resort. */
  readonly places: readonly WordsPlace[];
}

/** Of one character on average, a little more than the type measures. */
export const wordWidth = (text: string): number => text.length * 6.7;

/** From the base line up and down, with a little air. */
const up = 12;
const down = 4;
const air = 6;

const doCover = (a: WordsPlace & { width: number }, b: WordsPlace & { width: number }): boolean =>
  a.x < b.x + b.width + air && b.x < a.x + a.width + air && a.y - up < b.y + down && b.y - up < a.y + down;

/** A place for each, in the order of the list; its last resort where every other is taken. */
export function placeWords(list: readonly Words[]): WordsPlace[] {
  const taken: (WordsPlace & { width: number })[] = [];
  for (const { width, places } of list) {
    const free = places.find((place) => taken.every((one) => !doCover({ ...place, width }, one)));
    taken.push({ ...(free ?? places.at(-1)!), width });
  }
  return taken.map(({ x, y }) => ({ x, y }));
}

/** Beside a point, under it first, then over it, then further off, inside a frame. */
export function placesBeside(
  { x, y }: WordsPlace,
  width: number,
  frame: { readonly left: number; readonly right: number; readonly top: number; readonly bottom: number },
): WordsPlace[] {
  const away = 9;
  const isLeft = x + away + width > frame.right;
  const sidesX = isLeft ? [x - away - width, x + away] : [x + away, x - away - width];
  const within = sidesX
    .map((one) => Math.max(frame.left, Math.min(one, frame.right - width)))
    .filter((one, i, all) => all.indexOf(one) === i);
  return [16, -10, 30, -26, 46, -42, 62, -58].flatMap((off) =>
    within.map((left) => ({ x: left, y: Math.min(frame.bottom, Math.max(frame.top, y + off)) })),
  );
}
