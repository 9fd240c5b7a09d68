// Schema of a show pack (draft-07): lampshows with what they need to be played on another builder's panel. Areas are told by what they are and where
// they lay, never by LEDs; there is no panel, no artwork and no wiring in it, and game events come without pins, which belong to a board.
// Lengths are millimetres of the panel that the pack was made from, as in a project.
import { limits } from './limits.ts';
import { areaSchema } from './schema-areas.ts';
import { gameEventSchema } from './schema-events.ts';
import { arrayOf, mm, object, text } from './schema-parts.ts';
import { gradientSchema, lampshowSchema } from './schema-shows.ts';

export const packVersion = 1;
export const packFormat = 'lamploom-shows';

/** A project's panel may be smaller, but nothing on it could be told apart; and lengths would grow beyond all numbers. */
const leastSideMm = 1;
const side = { type: 'number', minimum: leastSideMm, maximum: limits.panelMm } as const;
/** LEDs may lie off the panel, as far as a project holds: that is a finding of its project, not a fault of the pack. */
const ofPanel = {
  type: 'number',
  minimum: mm.minimum / leastSideMm,
  maximum: mm.maximum / leastSideMm,
} as const;
const sizeOfPanel = { type: 'number', minimum: 0, maximum: (mm.maximum - mm.minimum) / leastSideMm } as const;

const { id, name, role, order } = areaSchema.properties;
const packAreaSchema = object(
  {
    id,
    name,
    role,
    order,
    box: {
      ...object({ x: ofPanel, y: ofPanel, width: sizeOfPanel, height: sizeOfPanel }, [
        'x',
        'y',
        'width',
        'height',
      ]),
      description: 'Where its LEDs lay, in widths and heights of that panel from its top left corner',
    },
  },
  ['id', 'order', 'box'],
);

const { pin: _, ...eventProperties } = gameEventSchema.properties;

export const packSchema = {
  $schema: 'http://json-schema.org/draft-07/schema#',
  title: 'Lamploom show pack',
  description: 'Lampshows of one panel, to be played on another.',
  ...object(
    {
      format: { const: packFormat },
      version: { const: packVersion },
      name: { ...text, minLength: 1 },
      panelSize: {
        ...object({ widthMm: side, heightMm: side }, ['widthMm', 'heightMm']),
        description:
          'Of the panel that it was made from: places and sizes in the shows are millimetres of it',
      },
      areas: arrayOf(packAreaSchema, limits.areas),
      gradients: arrayOf(gradientSchema, limits.gradients),
      lampshows: { ...arrayOf(lampshowSchema, limits.lampshows), minItems: 1 },
      gameEvents: arrayOf(object(eventProperties, ['id', 'lampshow']), 64),
    },
    ['format', 'version', 'name', 'panelSize', 'areas', 'gradients', 'lampshows'],
  ),
} as const;
