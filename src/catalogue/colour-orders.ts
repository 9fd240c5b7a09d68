// Colour orders: in which order an LED of a strip expects its three bytes on the wire.
// All six are offered because sellers' reels differ from the chip's data sheet (common practice, no source).
export const colourOrders = ['RGB', 'RBG', 'GRB', 'GBR', 'BRG', 'BGR'] as const;
/** 0 red, 1 green, 2 blue. */
export type Channel = 0 | 1 | 2;
export type ColourOrder = (typeof colourOrders)[number];

/** For wire byte 0, 1, 2: which channel it carries (0 red, 1 green, 2 blue). `'GRB'` gives `[1, 0, 2]`. */
export function wireChannels(order: ColourOrder): readonly [Channel, Channel, Channel] {
  const channel = (place: number) => 'RGB'.indexOf(order.charAt(place)) as Channel;
  return [channel(0), channel(1), channel(2)];
}
