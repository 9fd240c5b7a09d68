// Schema of the panel: its size and what lies on it, the artwork and how it was measured, the sandwich of sheet, air gap and backing, what strip must
// keep out of, and the grid that drawing snaps to.
import { limits } from './limits.ts';
import { arrayOf, id, mm, object, point, positive, text } from './schema-parts.ts';

const image = object(
  {
    mediaType: { enum: ['image/svg+xml', 'image/png', 'image/jpeg'] },
    base64: {
      type: 'string',
      contentEncoding: 'base64',
      maxLength: Math.ceil(limits.imageBytes / 3) * 4,
    },
  },
  ['mediaType', 'base64'],
  'Stretched over the whole panel',
);

const measure = object(
  { from: point, to: point, measuredMm: { ...positive, maximum: limits.panelMm } },
  ['from', 'to', 'measuredMm'],
  'A distance measured on the real artwork, and where it lies on the panel',
);

const shape = {
  type: 'object',
  discriminator: { propertyName: 'kind' },
  required: ['kind'],
  oneOf: [
    object(
      { kind: { const: 'circle' }, centre: point, diameterMm: { ...positive, maximum: limits.panelMm } },
      ['kind', 'centre', 'diameterMm'],
    ),
    object(
      {
        kind: { const: 'rectangle' },
        xMm: mm,
        yMm: mm,
        widthMm: { ...positive, maximum: limits.panelMm },
        heightMm: { ...positive, maximum: limits.panelMm },
      },
      ['kind', 'xMm', 'yMm', 'widthMm', 'heightMm'],
    ),
  ],
} as const;

export const keepOutSchema = object(
  {
    id,
    name: text,
    purpose: { enum: ['screw', 'speaker', 'display', 'cable', 'coil-wiring', 'other'] },
    shape,
  },
  ['id', 'purpose', 'shape'],
  'Where no strip may lie',
);

export const gridSchema = object(
  {
    origin: point,
    rowMm: { ...positive, maximum: limits.panelMm },
    strip: {
      ...id,
      description: 'Columns follow the pitch of this strip; as far apart as rows where absent',
    },
    everyLeds: {
      type: 'integer',
      minimum: 1,
      maximum: 100,
      description: 'Columns lie this many pitches apart; 1 where absent',
    },
  },
  ['origin', 'rowMm'],
);

export const panelSchema = object(
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
    sheet: { ...id, description: 'Diffuser sheet of this project or of the catalogue' },
    artwork: image,
    opacity: {
      ...image,
      description: 'Where the print lets light through: white as the artwork does, black not at all',
    },
    measures: {
      ...arrayOf(measure, limits.measures),
      description: 'The first one sets the scale, the others check it',
    },
    glassMm: {
      ...positive,
      maximum: 50,
      description: 'Clear pane in front of the artwork; none where absent',
    },
    backing: object(
      {
        material: text,
        thicknessMm: { ...positive, maximum: 100 },
        channelDepthMm: { ...positive, maximum: 100, description: '3 where absent' },
        bitMm: {
          ...positive,
          maximum: 50,
          description: 'Diameter of the router bit that cuts the channels; a laser where absent',
        },
      },
      ['thicknessMm'],
      'The board that holds the strips; where given, jumpers are measured through it',
    ),
    baffles: object(
      {
        thicknessMm: { ...positive, maximum: 50 },
        belowSheetMm: {
          type: 'number',
          minimum: 0,
          maximum: 500,
          description: 'From their upper edge to the diffuser; 0 where absent',
        },
        finish: {
          enum: ['raw-wood', 'white-paint', 'black'],
          description: 'What their faces send back; raw wood where absent',
        },
        walls: arrayOf(object({ from: point, to: point }, ['from', 'to']), limits.baffles),
      },
      ['thicknessMm', 'walls'],
      'Straight walls on the backing that keep the light of neighbours apart',
    ),
    keepOuts: arrayOf(keepOutSchema, limits.keepOuts),
    grid: gridSchema,
    guides: arrayOf(object({ axis: { enum: ['x', 'y'] }, atMm: mm }, ['axis', 'atMm']), limits.guides),
  },
  ['widthMm', 'heightMm', 'airGapMm', 'sheet'],
);

/** A diffuser the builder has the data of. */
export const sheetSchema = object(
  {
    id,
    label: text,
    transmission: { ...positive, maximum: 1 },
    thicknessMm: { ...positive, maximum: 50 },
    spreadMm: {
      type: 'number',
      minimum: 0,
      maximum: 100,
      description: 'Standard deviation of the spot that a point of light makes',
    },
    source: text,
  },
  ['id', 'transmission', 'thicknessMm', 'spreadMm'],
  "The builder's own sheet; an id equal to a catalogue sheet's takes its place",
);
