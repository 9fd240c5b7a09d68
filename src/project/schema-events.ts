// Schema of game events and of the inputs by which the board hears them. What they mean is told by the rules of the director and of the inputs
// in firmware-templates/player/SPEC.md. Not here: lampshows (schema-shows.ts).
import { limits } from './limits.ts';
import { arrayOf, id, object, text } from './schema-parts.ts';

const pin = {
  type: 'integer',
  minimum: 0,
  maximum: 99,
  description: 'Arduino pin number (A0 = 14)',
} as const;
const roomPercent = { type: 'integer', minimum: 1, maximum: 100 } as const;

export const gameEventSchema = object(
  {
    id,
    name: text,
    lampshow: id,
    pin: { ...pin, description: 'Arduino pin that starts it when held low for 60 ms' },
    priority: {
      type: 'integer',
      minimum: 0,
      maximum: 255,
      description: '100 where absent; an event interrupts what has the same priority or a lower one',
    },
    when: {
      enum: ['interrupt', 'queue'],
      description: 'queue: waits until what plays is over; interrupt where absent',
    },
    plays: {
      anyOf: [{ type: 'integer', minimum: 1, maximum: 255 }, { const: 'until-next' }],
      description: 'How often its show plays: 1 to 255 times, or "until-next"; once where absent',
    },
    crossfadeMs: {
      type: 'integer',
      minimum: 0,
      maximum: 10_000,
      description: 'From what plays into its show, and back again; 0 where absent',
    },
    resume: {
      type: 'boolean',
      description: 'What it interrupts later goes on where it was, instead of from its beginning',
    },
    delayMs: {
      type: 'integer',
      minimum: 0,
      maximum: 500,
      description: 'Its show starts so much later, for a sound that comes late; 0 where absent',
    },
    retriggerMs: {
      type: 'integer',
      minimum: 0,
      maximum: 60_000,
      description: 'The same event again within this time is not heard; 0 where absent',
    },
    hasValue: {
      type: 'boolean',
      description:
        'A value from 0 to 255, such as a score, comes with it and sets what the column effect shows',
    },
  },
  ['id', 'lampshow'],
);

/** A game played at the buttons, to be played again: what was pressed when, and, as a test, what the director then did. */
export const pressLogSchema = object(
  {
    id,
    name: text,
    lampshow: { ...id, description: 'What plays from power-up on; the attract mode where absent' },
    lengthMs: { type: 'integer', minimum: 20, maximum: limits.showMs },
    presses: arrayOf(
      object(
        {
          atMs: { type: 'integer', minimum: 0, maximum: limits.showMs },
          event: id,
          value: { type: 'integer', minimum: 0, maximum: 255 },
        },
        ['atMs', 'event'],
      ),
      limits.pressesPerLog,
    ),
    expected: {
      ...arrayOf(
        object({ atMs: { type: 'integer', minimum: 0, maximum: limits.showMs }, lampshow: id }, [
          'atMs',
          'lampshow',
        ]),
        limits.pressesPerLog,
      ),
      description: 'Which lampshow has the panel from then on; told where it is another one now',
    },
  },
  ['id', 'lengthMs', 'presses'],
);

export const inputsSchema = object(
  {
    serial: { type: 'boolean', description: 'Events over the serial port, 115,200 baud' },
    i2cAddress: {
      type: 'integer',
      minimum: 8,
      maximum: 119,
      description: 'Events over I2C, with the board at this 7-bit address',
    },
    roomPin: { ...pin, description: 'Button to ground that steps through the room brightness' },
    roomPercents: {
      type: 'array',
      items: roomPercent,
      minItems: 3,
      maxItems: 3,
      description: 'The three steps, brightest first, in percent of the brightness; 100, 60, 30 where absent',
    },
  },
  [],
  'How the board hears of game events, beside their pins',
);
