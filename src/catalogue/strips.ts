// Strip types: electrical and mechanical data of addressable LED strip with 800 kbit/s chips of 24 or 32 bits.
// Not here: strip a builder measured; those stand in the project file and take precedence.
// Sources stand beside each value group. Chips of other protocols are not listed: the player can't send to them.
import { type ColourOrder, whitePlace } from './colour-orders.ts';

/** Share of each channel that makes white look white, 0 to 1. */
export interface WhiteBalance {
  readonly red: number;
  readonly green: number;
  readonly blue: number;
}

export interface Strip {
  readonly id: string;
  readonly label: string;
  readonly chip: string;
  readonly supplyVolts: number;
  /** Below this the strip's colours are no longer characterised. */
  readonly floorVolts: number;
  readonly ledsPerMetre: number;
  readonly boardWidthMm: number;
  readonly colourOrder: ColourOrder;
  /** One colour channel at full level. */
  readonly channelMilliamps: number;
  /** The white die at full level, where the colour order has one; as a colour channel where absent. */
  readonly whiteMilliamps?: number | undefined;
  /** This strip's own; the project's where absent. */
  readonly whiteBalance?: WhiteBalance | undefined;
  /** One LED's chip with all channels dark. */
  readonly quiescentMilliamps: number;
  /** `sum`: channels add up. `largest`: the colours share one series string, so the largest one counts. A white die always adds. */
  readonly currentModel: 'sum' | 'largest';
  /** Resistance of one rail (+ or ground) for one metre at 20 C. */
  readonly railOhmPerMetre: number;
  /** Cut marks lie this many LEDs apart; 1 where absent. */
  readonly cutEveryLeds?: number | undefined;
  /** Length of the pieces that the maker solders into a reel; 500 where absent (5 m strips are 0.5 m boards: a seller's page). */
  readonly jointEveryMm?: number | undefined;
  readonly source: string;
}

/** Rail resistance: 0.20 ohm/m for both rails together, the middle of 0.10 to 0.50 (common practice, no source). */
const usualRailOhmPerMetre = 0.1;
/** 4.5 V: low end of the range for which the WS2812B data sheet gives its characteristics. */
const fiveVoltFloor = 4.5;
const fiveVolt = {
  supplyVolts: 5,
  floorVolts: fiveVoltFloor,
  railOhmPerMetre: usualRailOhmPerMetre,
} as const;
const ws2812bV5 = {
  ...fiveVolt,
  chip: 'WS2812B-V5',
  colourOrder: 'GRB',
  channelMilliamps: 12,
  quiescentMilliamps: 0.6,
  currentModel: 'sum',
  source: 'currents: a secondary page that quotes the WS2812B-V5 data sheet; order: the same',
} as const;

const sk6812White = {
  ...fiveVolt,
  chip: 'SK6812 RGBW',
  colourOrder: 'GRBW',
  channelMilliamps: 18,
  whiteMilliamps: 20,
  quiescentMilliamps: 1,
  currentModel: 'sum',
  source:
    '32 bits: read in a data sheet; 18 to 20 mA a colour, 20 mA white, 1 mA, order GRBW: from memory of the SK6812 RGBW data sheet; some reels have red and white exchanged (common practice, no source)',
} as const;

export const strips: readonly Strip[] = [
  { ...ws2812bV5, id: 'ws2812b-30', label: '5 V, 30 per m', ledsPerMetre: 30, boardWidthMm: 10 },
  { ...ws2812bV5, id: 'ws2812b-60', label: '5 V, 60 per m', ledsPerMetre: 60, boardWidthMm: 10 },
  { ...ws2812bV5, id: 'ws2812b-96', label: '5 V, 96 per m', ledsPerMetre: 96, boardWidthMm: 12 },
  { ...ws2812bV5, id: 'ws2812b-144', label: '5 V, 144 per m', ledsPerMetre: 144, boardWidthMm: 12 },
  {
    ...fiveVolt,
    id: 'ws2812b-v1-60',
    label: '5 V, 60 per m, first generation',
    chip: 'WS2812B',
    ledsPerMetre: 60,
    boardWidthMm: 10,
    colourOrder: 'GRB',
    channelMilliamps: 20,
    quiescentMilliamps: 1,
    currentModel: 'sum',
    source: '60 mA an LED: common practice, no source; quiescent 0.6 to 1 mA: from memory',
  },
  {
    ...fiveVolt,
    id: 'ws2813-60',
    label: '5 V, 60 per m, second data wire',
    chip: 'WS2813A',
    ledsPerMetre: 60,
    boardWidthMm: 10,
    colourOrder: 'GRB',
    channelMilliamps: 18,
    quiescentMilliamps: 0.6,
    currentModel: 'sum',
    source: 'WS2813 data sheet, versions A and B',
  },
  {
    ...fiveVolt,
    id: 'sk6812-60',
    label: '5 V, 60 per m, SK6812',
    chip: 'SK6812',
    ledsPerMetre: 60,
    boardWidthMm: 10,
    colourOrder: 'GRB',
    channelMilliamps: 18,
    quiescentMilliamps: 1,
    currentModel: 'sum',
    source: '12 or 18 to 20 mA a channel by version, 1 mA: from memory of the SK6812 data sheet',
  },
  {
    ...sk6812White,
    id: 'sk6812-white-30',
    label: '5 V, 30 per m, with white',
    ledsPerMetre: 30,
    boardWidthMm: 10,
  },
  {
    ...sk6812White,
    id: 'sk6812-white-60',
    label: '5 V, 60 per m, with white',
    ledsPerMetre: 60,
    boardWidthMm: 10,
  },
  {
    ...sk6812White,
    id: 'sk6812-white-144',
    label: '5 V, 144 per m, with white',
    ledsPerMetre: 144,
    boardWidthMm: 12,
  },
  {
    id: 'ws2815-60',
    label: '12 V, 60 per m',
    chip: 'WS2815',
    supplyVolts: 12,
    floorVolts: 9.5,
    railOhmPerMetre: usualRailOhmPerMetre,
    ledsPerMetre: 60,
    boardWidthMm: 10,
    colourOrder: 'RGB',
    channelMilliamps: 15,
    quiescentMilliamps: 2.1,
    currentModel: 'largest',
    source: 'WS2815 data sheet: 15 mA, 2.1 mA; that the three stages share one string: public hardware notes',
  },
];

/** Distance between neighbouring LEDs on the strip, mm. */
export const pitchMm = (strip: Pick<Strip, 'ledsPerMetre'>): number => 1000 / strip.ledsPerMetre;

type Currents = Pick<
  Strip,
  'channelMilliamps' | 'whiteMilliamps' | 'colourOrder' | 'quiescentMilliamps' | 'currentModel'
>;

/** What the white die draws at full level, mA; 0 where the colour order has none. */
export const whiteDieMilliamps = (
  strip: Pick<Strip, 'channelMilliamps' | 'whiteMilliamps' | 'colourOrder'>,
): number => (whitePlace(strip.colourOrder) < 0 ? 0 : (strip.whiteMilliamps ?? strip.channelMilliamps));

/** Current of one LED, mA, for levels 0..255 of red, green, blue and white as sent on the wire (PWM is linear in current). */
export function ledMilliamps(
  strip: Currents,
  levels: readonly [red: number, green: number, blue: number, white?: number],
): number {
  const [a, b, c, white = 0] = levels;
  const level = strip.currentModel === 'sum' ? a + b + c : Math.max(a, b, c);
  return strip.quiescentMilliamps + (strip.channelMilliamps * level + whiteDieMilliamps(strip) * white) / 255;
}

/**
 * Levels of the colour that draws most of all that the player can send. Without a white die that is white. With one, what the three colours
 * have in common goes to the white die, so never more than two of them are lit beside it: the most is either two colours alone
 * (one, where they share a string) or the white die alone.
 */
export function worstLevels(strip: Currents): readonly [number, number, number, number] {
  if (whitePlace(strip.colourOrder) < 0) return [255, 255, 255, 0];
  const twoColours = [255, 255, 0, 0] as const;
  const white = [0, 0, 0, 255] as const;
  return ledMilliamps(strip, white) > ledMilliamps(strip, twoColours) ? white : twoColours;
}
