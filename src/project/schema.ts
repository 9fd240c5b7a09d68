// The project document's JSON Schema (draft-07): the one source of its shape. Types derive from it (types.ts); the validator is
// generated from it at build time (vite.config.ts). Not here: rules between parts, such as references (see references.ts).
// Lengths are millimetres from the panel's top left corner, x right, y down, seen from the front.
import { boards, colourOrders } from '../catalogue/index.ts';
import { limits } from './limits.ts';
import { areaSchema } from './schema-areas.ts';
import { gameEventSchema, inputsSchema } from './schema-events.ts';
import { arrayOf, blankless, id, mm, object, positive, text } from './schema-parts.ts';
import { gradientSchema, lampshowSchema } from './schema-shows.ts';

export const currentVersion = 1;

const point = object({ xMm: mm, yMm: mm }, ['xMm', 'yMm']);
const colourOrder = {
  enum: [...colourOrders],
  description:
    "Order of an LED's bytes on the wire, with W where it has a white die of its own; the strip's own where absent",
} as const;

const panel = object(
  {
    widthMm: { ...positive, maximum: limits.panelMm },
    heightMm: { ...positive, maximum: limits.panelMm },
    opening: object({ xMm: mm, yMm: mm, widthMm: positive, heightMm: positive }, [
      'xMm',
      'yMm',
      'widthMm',
      'heightMm',
    ]),
    airGapMm: { ...positive, maximum: 500, description: "From the LEDs' faces to the diffuser" },
    sheet: { type: 'string', description: 'Diffuser sheet of the catalogue' },
    artwork: object(
      {
        mediaType: { enum: ['image/svg+xml', 'image/png', 'image/jpeg'] },
        base64: {
          type: 'string',
          contentEncoding: 'base64',
          maxLength: Math.ceil(limits.imageBytes / 3) * 4,
        },
      },
      ['mediaType', 'base64'],
    ),
  },
  ['widthMm', 'heightMm', 'airGapMm', 'sheet'],
);

const share = { type: 'number', minimum: 0, maximum: 1 } as const;
const whiteBalance = object(
  { red: share, green: share, blue: share },
  ['red', 'green', 'blue'],
  'Share of each channel that makes white look white',
);

const strip = object(
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

const run = object(
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
  },
  ['id', 'firstLed', 'arrowDeg', 'ledCount', 'strip'],
);

const link = object(
  {
    run: { ...id, description: 'The next run of the chain' },
    jumper: object(
      {
        power: {
          enum: ['carried', 'cut'],
          description: 'Whether the jumper carries the supply (+5 V); carried where absent',
        },
        lengthMm: {
          ...positive,
          maximum: 5000,
          description: 'Real wire length; straight distance where absent',
        },
        wire: {
          ...blankless,
          description: 'A wire of the catalogue, such as "AWG 20" or "0.75 mm2"; AWG 20 where absent',
        },
      },
      [],
      'Link from the previous run, or from the board for the first one',
    ),
  },
  ['run'],
);

const dataLine = object(
  {
    pin: { type: 'integer', minimum: 0, maximum: 99, description: 'Arduino pin number (A0 = 14)' },
    chain: {
      ...arrayOf(link, limits.runs),
      minItems: 1,
      description: 'Runs in the order the data passes them',
    },
  },
  ['chain'],
);

const feed = object(
  {
    run: id,
    led: {
      type: 'integer',
      minimum: 0,
      maximum: limits.ledsPerRun - 1,
      description: 'Injection point, from 0 at DIN',
    },
    wire: { ...blankless, description: 'A wire of the catalogue, used for + and ground' },
    lengthMm: { ...positive, maximum: 20_000, description: 'From the supply, one way' },
    fuseAmps: { ...positive, maximum: 30, description: 'Chosen from the load where absent' },
  },
  ['run', 'led', 'wire', 'lengthMm'],
);

const power = object(
  {
    supply: object(
      {
        volts: { type: 'number', minimum: 3, maximum: 14 },
        amps: { ...positive, maximum: 200 },
        outputMilliohms: { type: 'number', minimum: 0, maximum: 1000, description: '0 where absent' },
      },
      ['volts', 'amps'],
    ),
    limitAmps: {
      ...positive,
      maximum: 200,
      description: "The player's current limit for the strips; none where absent",
    },
    feeds: arrayOf(feed, limits.runs),
  },
  ['supply', 'feeds'],
);

const gamma = { type: 'number', minimum: 1, maximum: 4 } as const;
const output = object(
  {
    gamma: object({ red: gamma, green: gamma, blue: gamma }, ['red', 'green', 'blue']),
    whiteBalance,
    brightnessPercent: { type: 'integer', minimum: 1, maximum: 100 },
  },
  ['gamma', 'brightnessPercent'],
);

export const projectSchema = {
  $schema: 'http://json-schema.org/draft-07/schema#',
  title: 'Lamploom project',
  description:
    'One animated back panel: layout, wiring, lampshows, power and board. Everything else is derived from it.',
  ...object(
    {
      format: { const: 'lamploom' },
      version: { const: currentVersion },
      name: { ...text, minLength: 1 },
      sketchName: {
        type: 'string',
        pattern: '^[A-Za-z0-9_]{1,40}$',
        description: 'From the name where absent',
      },
      savedOn: {
        type: 'string',
        pattern: '^\\d{4}-\\d{2}-\\d{2}(T\\d{2}:\\d{2}(:\\d{2}(\\.\\d{1,3})?)?Z)?$',
      },
      panel,
      strips: { ...arrayOf(strip, 64) },
      runs: arrayOf(run, limits.runs),
      dataLines: arrayOf(dataLine, limits.dataLines),
      areas: arrayOf(areaSchema, limits.areas),
      gradients: arrayOf(gradientSchema, limits.gradients),
      lampshows: { ...arrayOf(lampshowSchema, limits.lampshows), minItems: 1 },
      attractMode: { ...id, description: 'The lampshow that loops while nobody plays' },
      gameEvents: arrayOf(gameEventSchema, 64),
      inputs: inputsSchema,
      power,
      output,
      board: object({ id: { enum: boards.map((board) => board.id) } }, ['id']),
    },
    [
      'format',
      'version',
      'name',
      'savedOn',
      'panel',
      'runs',
      'dataLines',
      'areas',
      'gradients',
      'lampshows',
      'attractMode',
      'power',
      'output',
      'board',
    ],
  ),
} as const;
