// The project document's JSON Schema (draft-07): the one source of its shape. Types derive from it (types.ts); the validator is
// generated from it at build time (vite.config.ts). Not here: rules between parts, such as references (see references.ts).
// Lengths are millimetres from the panel's top left corner, x right, y down, seen from the front.
import { boards } from '../catalogue/index.ts';
import { limits } from './limits.ts';
import { areaSchema } from './schema-areas.ts';
import { gameEventSchema, inputsSchema, pressLogSchema } from './schema-events.ts';
import { panelSchema, sheetSchema } from './schema-panel.ts';
import { arrayOf, blankless, id, object, point, positive, text } from './schema-parts.ts';
import { powerSchema } from './schema-power.ts';
import { asBuiltSchema, channelSchema, runSchema, stripSchema, whiteBalance } from './schema-runs.ts';
import { gradientSchema, lampshowSchema } from './schema-shows.ts';

export const currentVersion = 1;

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
          description:
            'Real wire length; where absent: behind the backing round keep-outs, through it twice and 20 mm of slack, or without a backing the straight distance',
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
    resistorOhms: {
      type: 'number',
      minimum: 0,
      maximum: 10_000,
      description: 'In series at its beginning; none known of where absent',
    },
    hasShifter: {
      type: 'boolean',
      description:
        'A buffer of 5 V with a low threshold (74HCT125 or the like) stands between board and first LED',
    },
  },
  ['chain'],
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
      panel: panelSchema,
      sheets: arrayOf(sheetSchema, 64),
      strips: arrayOf(stripSchema, 64),
      channels: arrayOf(channelSchema, limits.runs),
      runs: arrayOf(runSchema, limits.runs),
      dataLines: arrayOf(dataLine, limits.dataLines),
      asBuilt: asBuiltSchema,
      areas: arrayOf(areaSchema, limits.areas),
      gradients: arrayOf(gradientSchema, limits.gradients),
      lampshows: { ...arrayOf(lampshowSchema, limits.lampshows), minItems: 1 },
      attractMode: { ...id, description: 'The lampshow that loops while nobody plays' },
      gameEvents: arrayOf(gameEventSchema, 64),
      inputs: inputsSchema,
      pressLogs: arrayOf(pressLogSchema, limits.pressLogs),
      power: powerSchema,
      output,
      board: object(
        {
          id: { enum: boards.map((board) => board.id) },
          outputVolts: {
            enum: [3.3, 5],
            description: 'What its pins give; 5 where absent',
          },
          place: { ...point, description: 'Where it sits behind the panel; chains are planned from there' },
        },
        ['id'],
      ),
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
