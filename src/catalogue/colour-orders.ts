// Colour orders: in which order an LED of a strip expects its bytes on the wire; four letters where it has a white die of its own.
// All of them are offered because sellers' reels differ from the chip's data sheet (common practice, no source).
export const threeByteOrders = ['RGB', 'RBG', 'GRB', 'GBR', 'BRG', 'BGR'] as const;
export const colourOrders = [
  ...threeByteOrders,
  ...(['GRBW', 'GRWB', 'GBRW', 'GBWR', 'GWRB', 'GWBR'] as const),
  ...(['RGBW', 'RGWB', 'RBGW', 'RBWG', 'RWGB', 'RWBG'] as const),
  ...(['BRGW', 'BRWG', 'BGRW', 'BGWR', 'BWRG', 'BWGR'] as const),
  ...(['WRGB', 'WRBG', 'WGRB', 'WGBR', 'WBRG', 'WBGR'] as const),
] as const;
/** 0 red, 1 green, 2 blue. */
export type Channel = 0 | 1 | 2;
export type ColourOrder = (typeof colourOrders)[number];
export type ThreeByteOrder = (typeof threeByteOrders)[number];

/** The order of the colours alone, as the player keeps them: `'GRWB'` gives `'GRB'`. */
export const withoutWhite = (order: ColourOrder): ThreeByteOrder => order.replace('W', '') as ThreeByteOrder;

/** Which channel the first, second and third colour byte carries, white left out. `'GRB'` and `'GRWB'` give `[1, 0, 2]`. */
export function wireChannels(order: ColourOrder): readonly [Channel, Channel, Channel] {
  const colours = withoutWhite(order);
  const channel = (place: number) => 'RGB'.indexOf(colours.charAt(place)) as Channel;
  return [channel(0), channel(1), channel(2)];
}

/** Place of the white byte, from 0; -1 where there is none. */
export const whitePlace = (order: ColourOrder): number => order.indexOf('W');

export const bytesPerLed = (order: ColourOrder): 3 | 4 => (whitePlace(order) < 0 ? 3 : 4);

/** For each order the number of its letters: red 0, green 1, blue 2, white 3. Looked up often: once an LED and frame. */
const letterNumbers: ReadonlyMap<ColourOrder, readonly number[]> = new Map(
  colourOrders.map((order) => [order, [...order].map((letter) => 'RGBW'.indexOf(letter))]),
);

/** An LED's bytes on the wire as red, green, blue, white; white is 0 where it has none. `first` is its first byte's index. */
export function channelLevels(
  order: ColourOrder,
  bytes: ArrayLike<number>,
  first = 0,
): readonly [number, number, number, number] {
  const levels: [number, number, number, number] = [0, 0, 0, 0];
  const letters = letterNumbers.get(order)!;
  for (let place = 0; place < letters.length; place++) levels[letters[place]!] = bytes[first + place]!;
  return levels;
}
