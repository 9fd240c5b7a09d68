// Schema of an area: which LEDs belong to it, and the order along which effects travel through them.
import { limits } from './limits.ts';
import { arrayOf, id, mm, object, point, positive, text } from './schema-parts.ts';

const ledNumber = { type: 'integer', minimum: 0, maximum: limits.ledsPerRun - 1 } as const;

const members = {
  type: 'object',
  discriminator: { propertyName: 'kind' },
  required: ['kind'],
  oneOf: [
    object({ kind: { const: 'all' } }, ['kind'], 'Every LED of the panel'),
    object({ kind: { const: 'runs' }, runs: arrayOf(id, limits.runs) }, ['kind', 'runs'], 'Whole runs'),
    object(
      { kind: { const: 'leds' }, run: id, from: ledNumber, to: ledNumber },
      ['kind', 'run', 'from', 'to'],
      'Part of a run, both ends included',
    ),
    object(
      { kind: { const: 'rectangle' }, xMm: mm, yMm: mm, widthMm: positive, heightMm: positive },
      ['kind', 'xMm', 'yMm', 'widthMm', 'heightMm'],
      'LEDs whose centre lies in it',
    ),
    object(
      { kind: { const: 'outline' }, points: { ...arrayOf(point, limits.outlinePoints), minItems: 3 } },
      ['kind', 'points'],
      'LEDs whose centre lies inside a closed line (even-odd rule)',
    ),
    object(
      {
        kind: { const: 'stroke' },
        points: { ...arrayOf(point, limits.outlinePoints), minItems: 1 },
        radiusMm: { ...positive, maximum: limits.panelMm },
      },
      ['kind', 'points', 'radiusMm'],
      'LEDs whose centre lies within the radius of a drawn line',
    ),
  ],
} as const;

/** More than anyone sets by hand; one clip reads them all. */
export const mostPathPoints = 200;

const reversed = { type: 'boolean', description: 'Travel the other way' } as const;
const order = {
  type: 'object',
  discriminator: { propertyName: 'kind' },
  required: ['kind'],
  oneOf: [
    object({ kind: { const: 'across' }, reversed }, ['kind'], 'From left to right'),
    object({ kind: { const: 'up' }, reversed }, ['kind'], 'From bottom to top'),
    object({ kind: { const: 'outward' }, reversed, centre: point }, ['kind', 'centre'], 'Away from a point'),
    object(
      {
        kind: { const: 'around' },
        reversed,
        centre: point,
        startDeg: {
          type: 'number',
          minimum: -360,
          maximum: 360,
          description: '0 right, 90 up; 0 where absent',
        },
      },
      ['kind', 'centre'],
      'Clockwise around a point, one turn being the whole way',
    ),
    object({ kind: { const: 'wiring' }, reversed }, ['kind'], 'As the data passes the LEDs'),
    object(
      { kind: { const: 'path' }, reversed, points: { ...arrayOf(point, mostPathPoints), minItems: 2 } },
      ['kind', 'points'],
      'Along a drawn line: each LED at the nearest place on it',
    ),
  ],
} as const;

export const areaSchema = object(
  {
    id,
    name: text,
    role: {
      ...id,
      description:
        'What it is on any panel, such as "sky": shows of other panels find it by this; its id where absent',
    },
    members: { ...arrayOf(members, limits.runs), minItems: 1 },
    order,
  },
  ['id', 'members', 'order'],
);
