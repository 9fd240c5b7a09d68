// Strip types: electrical and mechanical data of addressable LED strip with 24-bit, 800 kbit/s chips.
// Not here: strip a builder measured; those stand in the project file and take precedence.
// Sources stand beside each value group. Chips of other protocols or 32 bits are not listed: the player can't send to them.
import type { ColourOrder } from './colour-orders.ts';

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
  /** One LED's chip with all channels dark. */
  readonly quiescentMilliamps: number;
  /** `sum`: channels add up. `largest`: the channels share one series string, so the largest one counts. */
  readonly currentModel: 'sum' | 'largest';
  /** Resistance of one rail (+ or ground) for one metre at 20 C. */
  readonly railOhmPerMetre: number;
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

/** Current of one LED, mA, for channel levels 0..255 as sent on the wire (PWM is linear in current). */
export function ledMilliamps(
  strip: Pick<Strip, 'channelMilliamps' | 'quiescentMilliamps' | 'currentModel'>,
  levels: readonly [number, number, number],
): number {
  const [a, b, c] = levels;
  const level = strip.currentModel === 'sum' ? a + b + c : Math.max(a, b, c);
  return strip.quiescentMilliamps + (strip.channelMilliamps * level) / 255;
}
