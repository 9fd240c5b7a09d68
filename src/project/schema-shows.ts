// Schema of gradients, effects, clips, lampshows and game events.
// Parameters are in plain units; src/lampshow turns them into the player's fixed-point numbers.
import { limits } from './limits.ts';
import { arrayOf, id, mm, object, positive, text } from './schema-parts.ts';

const share = { type: 'number', minimum: 0, maximum: 1 } as const;
/** Longer than ten minutes, the player's fixed-point rate would be over 4 % off. */
const seconds = { type: 'number', minimum: 0.05, maximum: 600 } as const;
const timeMs = { type: 'integer', minimum: 0, maximum: limits.showMs } as const;
const seed = {
  type: 'integer',
  minimum: 0,
  maximum: 255,
  description: 'Another seed, another throw of the dice',
} as const;
const point = object({ xMm: mm, yMm: mm }, ['xMm', 'yMm']);

export const gradientSchema = object(
  {
    id,
    name: text,
    stops: {
      ...arrayOf(
        object({ at: share, colour: { type: 'string', pattern: '^#[0-9a-fA-F]{6}$' } }, ['at', 'colour']),
        limits.stopsPerGradient,
      ),
      minItems: 1,
      description: 'Colours between stops are mixed in OKLab; two stops at one place make an edge',
    },
  },
  ['id', 'stops'],
);

const gradientPlace = { ...share, description: 'Where in the gradient, 0 to 1' } as const;
const gradientSpan = { ...share, description: 'How much of the gradient lies across the area' } as const;

const effect = {
  type: 'object',
  discriminator: { propertyName: 'kind' },
  required: ['kind'],
  oneOf: [
    object(
      { kind: { const: 'glow' }, breathSeconds: seconds, depth: share, gradientPlace, gradientSpan },
      ['kind', 'gradientPlace', 'gradientSpan'],
      'A steady glow; with breathSeconds and depth it dims and swells',
    ),
    object(
      {
        kind: { const: 'band' },
        passSeconds: { ...seconds, description: 'Time for one pass along the area' },
        width: { ...share, minimum: 0.02, description: 'Share of the way that the band covers' },
        bands: { type: 'integer', minimum: 1, maximum: 16, description: 'How many at once, evenly spaced' },
        travel: { enum: ['forward', 'backward', 'there-and-back'] },
        softness: { ...share, description: '0 hard edges, 1 a hump without a flat top' },
      },
      ['kind', 'passSeconds', 'width', 'bands', 'travel', 'softness'],
      'A moving band; the gradient lies across it from its front to its back',
    ),
    object(
      {
        kind: { const: 'stars' },
        lifeSeconds: { ...seconds, description: 'From dark to bright to dark' },
        density: { ...share, description: 'Share of the LEDs that are lit at a time' },
        seed,
      },
      ['kind', 'lifeSeconds', 'density', 'seed'],
      'Single lights that wake and fade by chance, each in a colour of the gradient',
    ),
    object(
      {
        kind: { const: 'rings' },
        centre: point,
        spacingMm: { ...positive, minimum: 10, maximum: 5000, description: 'From one ring to the next' },
        ringSeconds: { ...seconds, description: 'Time until a ring is where the next one was' },
        width: { ...share, minimum: 0.05, description: 'Share of the spacing that is lit' },
        inward: { type: 'boolean' },
      },
      ['kind', 'centre', 'spacingMm', 'ringSeconds', 'width'],
      'Rings spreading from a point; the gradient lies across each ring',
    ),
    object(
      {
        kind: { const: 'cloud' },
        patchMm: {
          ...positive,
          maximum: 3000,
          description: 'Typical size of a bright patch; at least a seventh of the panel’s diagonal',
        },
        driftMmPerSecond: { type: 'number', minimum: 0, maximum: 2000 },
        driftDeg: {
          type: 'number',
          minimum: -360,
          maximum: 360,
          description: 'Where it drifts: 0 right, 90 up',
        },
        seed,
      },
      ['kind', 'patchMm', 'driftMmPerSecond', 'driftDeg', 'seed'],
      'A slow cloud of the gradient’s colours drifting over the area',
    ),
  ],
} as const;

const clip = object(
  {
    id,
    startMs: timeMs,
    lengthMs: { ...timeMs, minimum: 1 },
    fadeInMs: { type: 'integer', minimum: 0, maximum: 60_000 },
    fadeOutMs: { type: 'integer', minimum: 0, maximum: 60_000 },
    area: id,
    gradient: id,
    blend: { enum: ['over', 'add', 'brighter-wins', 'tint'] },
    levelPercent: { type: 'integer', minimum: 1, maximum: 100, description: '100 where absent' },
    effect,
  },
  ['startMs', 'lengthMs', 'area', 'gradient', 'blend', 'effect'],
);

export const lampshowSchema = object(
  {
    id,
    name: text,
    lengthMs: { ...timeMs, minimum: 20 },
    rows: {
      ...arrayOf(
        object({ id, name: text, clips: arrayOf(clip, limits.clipsPerShow) }, ['id', 'clips']),
        limits.rowsPerShow,
      ),
      description: 'Drawn from the first to the last, each over the ones before',
    },
  },
  ['id', 'lengthMs', 'rows'],
);

export const gameEventSchema = object(
  { id, name: text, lampshow: id, pin: { type: 'integer', minimum: 0, maximum: 99 } },
  ['id', 'lampshow'],
);
