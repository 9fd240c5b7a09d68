// Schema of gradients, effects, clips and lampshows. Not here: game events (schema-events.ts).
// Parameters are in plain units; src/lampshow turns them into the player's fixed-point numbers.
import { limits } from './limits.ts';
import { lettersEffect, paintedEffect } from './schema-painted.ts';
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

const easing = {
  enum: ['none', 'in', 'out', 'both'],
  description: 'Begins slowly (in), ends slowly (out), or both; none where absent',
} as const;
const softness = { ...share, description: '0 hard edges, 1 a hump without a flat top' } as const;
const patchMm = {
  ...positive,
  maximum: 3000,
  description: 'Typical size of a bright patch; at least a seventh of the area’s larger side',
} as const;

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
        softness,
        tail: { ...share, description: 'Share of the band that dies away behind its head; 0 where absent' },
        easing,
        mirror: { type: 'boolean', description: 'From both ends to the middle at once' },
      },
      ['kind', 'passSeconds', 'width', 'bands', 'travel', 'softness'],
      'A moving band; the gradient lies across it from its front to its back',
    ),
    object(
      {
        kind: { const: 'chase' },
        every: { type: 'integer', minimum: 2, maximum: 16, description: 'Of so many neighbours one is lit' },
        stepSeconds: { ...seconds, description: 'Until the next lamp has its turn' },
        travel: { enum: ['forward', 'backward'] },
        softness: { ...share, description: '0 from lamp to lamp at once, 1 each fades into the next' },
      },
      ['kind', 'every', 'stepSeconds', 'travel', 'softness'],
      'Every n-th lamp is lit, and the light steps on from lamp to lamp',
    ),
    object(
      {
        kind: { const: 'spokes' },
        centre: point,
        spokes: { type: 'integer', minimum: 1, maximum: 16 },
        turnSeconds: { ...seconds, description: 'Time for one whole turn' },
        width: { ...share, minimum: 0.05, description: 'Share of the circle between two spokes that is lit' },
        softness,
        counterClockwise: { type: 'boolean' },
        twistDeg: {
          type: 'number',
          minimum: -720,
          maximum: 720,
          description: 'How far a spoke is bent from the centre to the farthest LED; 0 straight',
        },
      },
      ['kind', 'centre', 'spokes', 'turnSeconds', 'width', 'softness'],
      'Spokes of light turning around a point',
    ),
    object(
      {
        kind: { const: 'stream' },
        passSeconds: { ...seconds, description: 'Time for a colour to travel along the whole area' },
        repeats: {
          type: 'integer',
          minimum: 1,
          maximum: 16,
          description: 'How often the gradient lies along the area',
        },
        travel: { enum: ['forward', 'backward'] },
      },
      ['kind', 'passSeconds', 'repeats', 'travel'],
      'The gradient itself travels along the area',
    ),
    object(
      {
        kind: { const: 'column' },
        fillSeconds: { ...seconds, description: 'From empty to full' },
        travel: { enum: ['fills', 'empties', 'fills-and-empties'] },
        byValue: {
          type: 'boolean',
          description: 'As full as the value byte of the last game event says, instead of by time',
        },
        order: { enum: ['along', 'by-chance'], description: 'Which LED is next; along where absent' },
        softness: { ...share, description: 'Share of the way over which its end fades' },
        easing,
      },
      ['kind', 'fillSeconds', 'travel', 'softness'],
      'A column of light that fills and empties; the gradient lies along it',
    ),
    object(
      {
        kind: { const: 'bursts' },
        flashes: { type: 'integer', minimum: 1, maximum: 10, description: 'Flashes in a burst' },
        flashesPerSecond: {
          type: 'number',
          minimum: 0.2,
          maximum: 3,
          description: 'Never more than three in a second: WCAG 2.x, success criterion 2.3.1',
        },
        pauseSeconds: { type: 'number', minimum: 0, maximum: 60, description: 'Between two bursts' },
        litShare: {
          ...share,
          minimum: 0.05,
          maximum: 0.95,
          description: 'Share of a flash’s time that is lit',
        },
        softness,
        gradientPlace,
        gradientSpan,
      },
      [
        'kind',
        'flashes',
        'flashesPerSecond',
        'pauseSeconds',
        'litShare',
        'softness',
        'gradientPlace',
        'gradientSpan',
      ],
      'Bursts of a few flashes with a pause between them',
    ),
    object(
      {
        kind: { const: 'lightning' },
        strikesPerMinute: {
          type: 'number',
          minimum: 1,
          maximum: 30,
          description: 'On average; two strikes are at least a second apart',
        },
        glowSeconds: {
          type: 'number',
          minimum: 0.05,
          maximum: 10,
          description: 'Half life of the after-glow',
        },
        gradientPlace,
        gradientSpan,
        seed,
      },
      ['kind', 'strikesPerMinute', 'glowSeconds', 'gradientPlace', 'gradientSpan', 'seed'],
      'Lightning: a strike by chance, a second one close behind, and an after-glow',
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
        kind: { const: 'glints' },
        lifeSeconds: { ...seconds, description: 'From bright to dark' },
        density: { ...share, description: 'Share of the LEDs that glint at a time' },
        seed,
      },
      ['kind', 'lifeSeconds', 'density', 'seed'],
      'Single lights that begin at their brightest and die out, each in a colour of the gradient',
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
        patchMm,
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
    object(
      {
        kind: { const: 'fire' },
        patchMm,
        riseMmPerSecond: { type: 'number', minimum: 0, maximum: 2000 },
        height: { ...share, minimum: 0.2, description: 'How far up the area the flames reach' },
        seed,
      },
      ['kind', 'patchMm', 'riseMmPerSecond', 'height', 'seed'],
      'A licking glow as of a fire pit: the gradient’s end at its foot, its beginning where it dies',
    ),
    paintedEffect,
    lettersEffect,
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
    envelope: {
      ...arrayOf(
        object({ atMs: timeMs, percent: { type: 'integer', minimum: 0, maximum: 100 } }, ['atMs', 'percent']),
        limits.envelopePoints,
      ),
      minItems: 1,
      description:
        'Brightness over the clip’s time: straight lines between points, held before the first and behind the last',
    },
    cycle: object(
      { seconds, backward: { type: 'boolean' } },
      ['seconds'],
      'The gradient travels along itself once in so many seconds; behind its end its beginning follows',
    ),
    effect,
  },
  ['startMs', 'lengthMs', 'area', 'gradient', 'blend', 'effect'],
);

export const lampshowSchema = object(
  {
    id,
    name: text,
    lengthMs: { ...timeMs, minimum: 20 },
    beatsMs: {
      ...arrayOf(timeMs, limits.beatsPerShow),
      description: 'Moments of the beats: clips snap to them; the board knows nothing of them',
    },
    markers: {
      ...arrayOf(object({ atMs: timeMs, name: text }, ['atMs']), limits.markersPerShow),
      description: 'Named moments: clips snap to them; the board knows nothing of them',
    },
    rows: {
      ...arrayOf(
        object(
          {
            id,
            name: text,
            muted: { type: 'boolean', description: 'Left out while trying out the others' },
            clips: arrayOf(clip, limits.clipsPerShow),
          },
          ['id', 'clips'],
        ),
        limits.rowsPerShow,
      ),
      description: 'Drawn from the first to the last, each over the ones before',
    },
  },
  ['id', 'lengthMs', 'rows'],
);
