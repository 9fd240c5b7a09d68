// Schema of the power: supplies, the player's current limit, feeds with their fuses and plugs, and what planning them may do.
import { plugs } from '../catalogue/index.ts';
import { limits } from './limits.ts';
import { arrayOf, blankless, id, object, point, positive } from './schema-parts.ts';

const ledPlace = {
  run: id,
  led: {
    type: 'integer',
    minimum: 0,
    maximum: limits.ledsPerRun - 1,
    description: 'Injection point, from 0 at DIN',
  },
} as const;

const wire = { ...blankless, description: 'A wire of the catalogue, used for + and ground' } as const;
const wireLengthMm = { ...positive, maximum: 20_000 } as const;
const fuseKind = {
  enum: ['blade', 'tube'],
  description: 'Which fuse sits in the + wire; its cold resistance counts where this is given',
} as const;
const plug = {
  enum: plugs.map((row) => row.id),
  description: 'What joins the feed to the strip, in both wires; soldered where absent',
} as const;
const volts = {
  type: 'number',
  minimum: 3,
  maximum: 14,
  description: 'As its trimmer is set, without load',
} as const;
const amps = { ...positive, maximum: 200 } as const;
const outputMilliohms = {
  type: 'number',
  minimum: 0,
  maximum: 1000,
  description: 'How much its output gives way under load; 0 where absent',
} as const;
const supplyPlace = {
  ...point,
  description: 'Where it sits behind the panel; feeds are measured from there',
};

const feed = object(
  {
    ...ledPlace,
    wire,
    lengthMm: { ...wireLengthMm, description: 'From the supply, one way' },
    fuseAmps: { ...positive, maximum: 30, description: 'Chosen from the load where absent' },
    fuseKind,
    plug,
    supply: { ...id, description: 'One of the further supplies; the first supply where absent' },
    isKept: { type: 'boolean', description: 'Planning leaves it where it is' },
  },
  ['run', 'led', 'wire', 'lengthMm'],
);

const planning = object(
  {
    places: {
      enum: ['ends', 'anywhere'],
      description: "Where feeds may enter: at runs' ends (where absent) or at every LED",
    },
    forbidden: {
      ...arrayOf(object(ledPlace, ['run', 'led']), limits.leds),
      description: 'Where none may enter',
    },
    mostDropVolts: {
      ...positive,
      maximum: 5,
      description:
        'No LED may lie further below its supply, so that colours are even; only the floor counts where absent',
    },
    wire: { ...wire, description: 'The thickest wire for feeds; AWG 18 where absent' },
    fuseKind: { ...fuseKind, description: 'Blade where absent' },
    plug,
    jumpersStay: {
      type: 'boolean',
      description: 'Planning cuts and joins no + jumper; it may where absent',
    },
  },
  [],
  'What planning feeds may do',
);

export const powerSchema = object(
  {
    supply: object({ volts, amps, outputMilliohms, place: supplyPlace }, ['volts', 'amps']),
    moreSupplies: {
      ...arrayOf(
        object(
          {
            id,
            volts,
            amps,
            outputMilliohms,
            place: supplyPlace,
            ground: object(
              { wire, lengthMm: wireLengthMm },
              ['wire', 'lengthMm'],
              "The wire that joins its ground to the first supply's; joined at the terminals where absent",
            ),
          },
          ['id', 'volts', 'amps'],
        ),
        limits.moreSupplies,
      ),
      description: 'Further supplies: grounds are joined, + never',
    },
    limitAmps: {
      ...positive,
      maximum: 200,
      description: "The player's current limit for the strips; none where absent",
    },
    feeds: arrayOf(feed, limits.runs),
    planning,
    controller: object(
      {
        from: {
          enum: ['supply', 'usb'],
          description: 'What the board runs from: the first supply where absent',
        },
        milliamps: { type: 'number', minimum: 0, maximum: 2000, description: '50 where absent' },
        wire: { ...wire, description: 'AWG 20 where absent' },
        lengthMm: { ...wireLengthMm, description: 'One way; 500 where absent' },
      },
      [],
      "The board's own supply",
    ),
    hotCelsius: {
      type: 'number',
      minimum: 20,
      maximum: 90,
      description: 'Copper in the closed backbox after hours of play; 50 where absent',
    },
    eveningHours: { ...positive, maximum: 24, description: 'Play in one evening; 4 where absent' },
  },
  ['supply', 'feeds'],
);
