// Schema of what is laid: strips (the builder's own reels), runs, engraved channels, and what was built otherwise than planned.
import { colourOrders } from '../catalogue/index.ts';
import { limits } from './limits.ts';
import { arrayOf, id, object, point, positive, text } from './schema-parts.ts';

const colourOrder = {
  enum: [...colourOrders],
  description:
    "Order of an LED's bytes on the wire, with W where it has a white die of its own; the strip's own where absent",
} as const;

const share = { type: 'number', minimum: 0, maximum: 1 } as const;
export const whiteBalance = object(
  { red: share, green: share, blue: share },
  ['red', 'green', 'blue'],
  'Share of each channel that makes white look white',
);

export const stripSchema = object(
  {
    id,
    label: text,
    chip: text,
    supplyVolts: { enum: [5, 12] },
    floorVolts: { ...positive, maximum: 12 },
    ledsPerMetre: { type: 'number', minimum: 5, maximum: 400 },
    boardWidthMm: { ...positive, maximum: 50 },
    colourOrder,
    channelMilliamps: { ...positive, maximum: 100, description: 'One colour channel at full level' },
    whiteMilliamps: {
      ...positive,
      maximum: 100,
      description:
        'The white die at full level, where the colour order has one; as a colour channel where absent',
    },
    whiteBalance,
    quiescentMilliamps: {
      type: 'number',
      minimum: 0,
      maximum: 50,
      description: 'One LED, all channels dark',
    },
    currentModel: {
      enum: ['sum', 'largest'],
      description: 'largest: the colours share one series string; a white die always adds',
    },
    railOhmPerMetre: {
      type: 'number',
      minimum: 0.001,
      maximum: 10,
      description: 'One rail, + or ground, at 20 C',
    },
    cutEveryLeds: {
      type: 'integer',
      minimum: 1,
      maximum: 100,
      description: 'Cut marks lie this many LEDs apart; 1 where absent',
    },
    jointEveryMm: {
      ...positive,
      maximum: 20_000,
      description: 'Length of the pieces that the maker solders into a reel; 500 where absent',
    },
    source: text,
  },
  [
    'id',
    'supplyVolts',
    'floorVolts',
    'ledsPerMetre',
    'boardWidthMm',
    'colourOrder',
    'channelMilliamps',
    'quiescentMilliamps',
    'currentModel',
    'railOhmPerMetre',
  ],
  "The builder's own reel; an id equal to a catalogue strip's takes its place",
);

export const runSchema = object(
  {
    id,
    name: text,
    firstLed: { ...point, description: 'Centre of the first LED, at DIN' },
    arrowDeg: {
      type: 'number',
      minimum: -360,
      maximum: 360,
      description: 'Where the arrow points, counter-clockwise: 0 right, 90 up, 180 left, 270 down',
    },
    ledCount: { type: 'integer', minimum: 1, maximum: limits.ledsPerRun },
    strip: { ...id, description: 'A strip of this project or of the catalogue' },
    colourOrder,
    spareLeds: {
      ...arrayOf({ type: 'integer', minimum: 0, maximum: limits.ledsPerRun - 1 } as const, limits.ledsPerRun),
      description: 'LEDs kept dark, counted from 0 at DIN',
    },
    deadLeds: {
      ...arrayOf({ type: 'integer', minimum: 0, maximum: limits.ledsPerRun - 1 } as const, limits.ledsPerRun),
      description:
        'LEDs found broken that still pass data on: kept dark like spare ones, counted from 0 at DIN',
    },
    bypassedLeds: {
      ...arrayOf({ type: 'integer', minimum: 0, maximum: limits.ledsPerRun - 1 } as const, limits.ledsPerRun),
      description: 'LEDs that a wire leads the data past: dark, and not on the wire, counted from 0 at DIN',
    },
    ring: object(
      {
        radiusMm: { ...positive, maximum: limits.panelMm },
        clockwise: {
          type: 'boolean',
          description: 'The way the data goes round; counter-clockwise where absent',
        },
      },
      ['radiusMm'],
      'A ring board: its LEDs evenly round a full circle through the first one, where the arrow touches the circle',
    ),
  },
  ['id', 'firstLed', 'arrowDeg', 'ledCount', 'strip'],
);

export const channelSchema = object(
  { id, points: { ...arrayOf(point, limits.channelPoints), minItems: 2 } },
  ['id', 'points'],
  'A channel that is engraved already, locked: a closed outline, or from two points its middle line',
);

const builtRun = object(
  {
    run: id,
    laidReversed: {
      type: 'boolean',
      description:
        'Laid the other way round, the data wire at its DIN: its last planned LED is the first on the wire',
    },
    fedAtDout: { type: 'boolean', description: 'The data wire is at its DOUT: dark from there on' },
    skipped: { type: 'boolean', description: 'The chain goes past it: dark, and not on the wire' },
    strip: { ...id, description: 'The reel it was really cut from' },
    colourOrder,
  },
  ['run'],
);

export const asBuiltSchema = object(
  {
    runs: arrayOf(builtRun, limits.runs),
    swaps: {
      ...arrayOf(object({ first: id, second: id }, ['first', 'second']), limits.runs),
      description: "Runs that took each other's place on the wire, one exchange after the other",
    },
  },
  ['runs', 'swaps'],
  'What was really soldered, where it differs from the plan',
);
