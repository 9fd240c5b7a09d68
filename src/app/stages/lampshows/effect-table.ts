// The parameters of every effect as rows of data: what the builder reads, where it stands in the document, in which unit and between which bounds.
// Bounds are those of src/project/schema-shows.ts. Not here: what an effect begins with (effect-defaults.ts).
import type { Effect, EffectKind } from '../../../project/index.ts';

export interface NumberRow {
  readonly type: 'number';
  /** `centre.xMm` is inside `centre`. */
  readonly key: string;
  readonly label: string;
  readonly unit?: string;
  /** What is shown is so many times what the document holds. */
  readonly scale: number;
  /** As shown. */
  readonly least: number;
  readonly most: number;
  readonly step: number;
  readonly digits: number;
}

interface ChoiceRow {
  readonly type: 'choice';
  readonly key: string;
  readonly label: string;
  readonly choices: readonly { readonly id: string; readonly label: string }[];
  /** What holds where the document says nothing; choosing it takes the parameter out again. */
  readonly absent?: string;
}

interface TextRow {
  readonly type: 'text';
  readonly key: string;
  readonly label: string;
  /** A sign that can be shown. */
  readonly allowed: RegExp;
  readonly most: number;
}

interface CheckRow {
  readonly type: 'check';
  readonly key: string;
  readonly label: string;
}

/** Parameters that are there together or not at all. */
interface OptionalRow {
  readonly type: 'optional';
  readonly label: string;
  readonly values: Readonly<Record<string, number>>;
  readonly rows: readonly NumberRow[];
}

export type ParameterRow = NumberRow | ChoiceRow | CheckRow | TextRow | OptionalRow;

const percent = (key: string, label: string, least = 0): NumberRow => ({
  type: 'number',
  key,
  label,
  unit: '%',
  scale: 100,
  least,
  most: 100,
  step: 1,
  digits: 1,
});

const seconds = (key: string, label: string): NumberRow => ({
  type: 'number',
  key,
  label,
  unit: 's',
  scale: 1,
  least: 0.05,
  most: 600,
  step: 0.1,
  digits: 3,
});

const plain = (
  key: string,
  label: string,
  row: Pick<NumberRow, 'least' | 'most'> & Partial<NumberRow>,
): NumberRow => ({ type: 'number', key, label, scale: 1, step: 1, digits: 0, ...row });

const mm = (key: string, label: string, least: number, most: number): NumberRow =>
  plain(key, label, { unit: 'mm', least, most, digits: 1 });

const centre = [
  mm('centre.xMm', 'Centre x', -10_000, 10_000),
  mm('centre.yMm', 'Centre y', -10_000, 10_000),
] as const;
const softness = percent('softness', 'Soft edges');
const gradientWay = [
  percent('gradientPlace', 'Gradient from'),
  percent('gradientSpan', 'Gradient across'),
] as const;
const travelChoice = (label = 'Path'): ChoiceRow => ({
  type: 'choice',
  key: 'travel',
  label,
  choices: [
    { id: 'forward', label: 'Forward' },
    { id: 'backward', label: 'Backward' },
  ],
});
const easing: ChoiceRow = {
  type: 'choice',
  key: 'easing',
  label: 'Pace',
  absent: 'none',
  choices: [
    { id: 'none', label: 'Even' },
    { id: 'in', label: 'Begins slowly' },
    { id: 'out', label: 'Ends slowly' },
    { id: 'both', label: 'Begins and ends slowly' },
  ],
};

const seed = plain('seed', 'Throw of the dice', { least: 0, most: 255 });

interface EffectRow {
  /** What it looks like, in a line. */
  readonly says: string;
  readonly rows: readonly ParameterRow[];
  /** Seconds that say how fast it is: they carry over to another effect. */
  readonly pace?: string;
}

export const effectTable: Readonly<Record<EffectKind, EffectRow>> = {
  glow: {
    says: 'All LEDs at once, steady or breathing',
    pace: 'breathSeconds',
    rows: [
      {
        type: 'optional',
        label: 'Breathes',
        values: { breathSeconds: 4, depth: 0.5 },
        rows: [seconds('breathSeconds', 'One breath takes'), percent('depth', 'Dims by')],
      },
      ...gradientWay,
    ],
  },
  band: {
    says: 'Light that travels along the area',
    pace: 'passSeconds',
    rows: [
      seconds('passSeconds', 'One pass takes'),
      percent('width', 'Band covers', 2),
      plain('bands', 'Bands at once', { least: 1, most: 16 }),
      softness,
      percent('tail', 'Tail'),
      {
        ...travelChoice(),
        choices: [...travelChoice().choices, { id: 'there-and-back', label: 'There and back' }],
      },
      easing,
      { type: 'check', key: 'mirror', label: 'From both ends to the middle' },
    ],
  },
  chase: {
    says: 'One lamp of every few is lit, and the light steps on',
    pace: 'stepSeconds',
    rows: [
      plain('every', 'Lit is one of', { least: 2, most: 16 }),
      seconds('stepSeconds', 'A step takes'),
      percent('softness', 'Fade into the next'),
      travelChoice(),
    ],
  },
  spokes: {
    says: 'Spokes of light that turn around a point',
    pace: 'turnSeconds',
    rows: [
      plain('spokes', 'Spokes', { least: 1, most: 16 }),
      seconds('turnSeconds', 'A turn takes'),
      percent('width', 'Light covers', 5),
      softness,
      plain('twistDeg', 'Bent by', { unit: '°', least: -720, most: 720, step: 15, digits: 0 }),
      ...centre,
      { type: 'check', key: 'counterClockwise', label: 'Anticlockwise' },
    ],
  },
  stream: {
    says: 'The gradient itself travels along the area',
    pace: 'passSeconds',
    rows: [
      seconds('passSeconds', 'One pass takes'),
      plain('repeats', 'Gradient repeats', { least: 1, most: 16 }),
      travelChoice(),
    ],
  },
  column: {
    says: 'Light that fills the area and empties it again',
    pace: 'fillSeconds',
    rows: [
      seconds('fillSeconds', 'Filling takes'),
      {
        type: 'choice',
        key: 'travel',
        label: 'Does',
        choices: [
          { id: 'fills', label: 'Fill' },
          { id: 'empties', label: 'Empty' },
          { id: 'fills-and-empties', label: 'Fill and empty' },
        ],
      },
      {
        type: 'choice',
        key: 'order',
        label: 'Next LED',
        absent: 'along',
        choices: [
          { id: 'along', label: 'Along the area' },
          { id: 'by-chance', label: 'By chance' },
        ],
      },
      percent('softness', 'Soft end'),
      easing,
      { type: 'check', key: 'byValue', label: 'As full as the game says' },
    ],
  },
  bursts: {
    says: 'A few flashes, then a pause; never more than three a second',
    rows: [
      plain('flashes', 'Flashes in a burst', { least: 1, most: 10 }),
      plain('flashesPerSecond', 'Flashes a second', { least: 0.2, most: 3, step: 0.1, digits: 2 }),
      plain('pauseSeconds', 'Pause', { unit: 's', least: 0, most: 60, step: 0.5, digits: 2 }),
      { ...percent('litShare', 'Lit', 5), most: 95 },
      softness,
      ...gradientWay,
    ],
  },
  lightning: {
    says: 'Strikes by chance, each with a second one close behind and an after-glow',
    rows: [
      plain('strikesPerMinute', 'Strikes a minute', { least: 1, most: 30, digits: 1 }),
      plain('glowSeconds', 'After-glow halves in', {
        unit: 's',
        least: 0.05,
        most: 10,
        step: 0.1,
        digits: 2,
      }),
      ...gradientWay,
      seed,
    ],
  },
  stars: {
    says: 'Single LEDs that wake and fade by chance',
    pace: 'lifeSeconds',
    rows: [seconds('lifeSeconds', 'A star lives'), percent('density', 'Lit at a time'), seed],
  },
  glints: {
    says: 'Single LEDs that flare up by chance and die out',
    pace: 'lifeSeconds',
    rows: [seconds('lifeSeconds', 'A glint lives'), percent('density', 'Lit at a time'), seed],
  },
  rings: {
    says: 'Rings that spread from a point',
    pace: 'ringSeconds',
    rows: [
      seconds('ringSeconds', 'A ring every'),
      mm('spacingMm', 'From ring to ring', 10, 5000),
      percent('width', 'Ring covers', 5),
      ...centre,
      { type: 'check', key: 'inward', label: 'Inward' },
    ],
  },
  cloud: {
    says: 'Soft patches that drift over the area',
    rows: [
      mm('patchMm', 'Patches measure', 1, 3000),
      plain('driftMmPerSecond', 'Drifts by', { unit: 'mm/s', least: 0, most: 2000, digits: 1 }),
      plain('driftDeg', 'Towards, 90 is up', { unit: '°', least: -360, most: 360, step: 5, digits: 1 }),
      seed,
    ],
  },
  fire: {
    says: 'A licking glow that rises from the foot of the area; the gradient begins where it dies',
    rows: [
      mm('patchMm', 'Flames measure', 1, 3000),
      plain('riseMmPerSecond', 'Rises by', { unit: 'mm/s', least: 0, most: 2000, digits: 1 }),
      percent('height', 'Reaches', 20),
      seed,
    ],
  },
  painted: {
    says: 'Frames painted cell by cell or taken from a picture',
    rows: [],
  },
  letters: {
    says: 'Text on at least five near-even rows of LEDs',
    rows: [
      { type: 'text', key: 'text', label: 'Text', allowed: /^[A-Za-z0-9 .,!?:'"+/&%#*()-]$/, most: 60 },
      {
        type: 'optional',
        label: 'Travels',
        values: { passSeconds: 8 },
        rows: [
          plain('passSeconds', 'One pass takes', { unit: 's', least: 0.2, most: 600, step: 0.5, digits: 2 }),
        ],
      },
      {
        type: 'choice',
        key: 'travel',
        label: 'Towards',
        absent: 'left',
        choices: [
          { id: 'left', label: 'Left' },
          { id: 'right', label: 'Right' },
        ],
      },
    ],
  },
};

type Values = Readonly<Record<string, unknown>>;

/** The value at a key of an effect, whatever its kind. */
export const parameterOf = (effect: Effect, key: string): unknown =>
  key.split('.').reduce<unknown>((part, name) => (part as Values | undefined)?.[name], effect);

/** The effect with another value there; undefined takes it away. */
export function withParameter(effect: Effect, key: string, value: unknown): Effect {
  const [name, inner] = key.split('.') as [string, string?];
  const next: Record<string, unknown> = { ...effect };
  if (inner !== undefined) next[name] = { ...(next[name] as object), [inner]: value };
  else if (value === undefined) delete next[name];
  else next[name] = value;
  return next as Effect;
}

/** What the field shows: digits that only the change of unit brings in are rounded off. */
export const shownNumber = (row: NumberRow, stored: number): number =>
  Number((stored * row.scale).toFixed(row.digits));

/** What the document keeps of what was typed. */
export const storedNumber = (row: NumberRow, shown: number): number =>
  Number(shown.toFixed(row.digits)) / row.scale;

/** Why a text can't be shown, without a full stop; undefined where it can. */
export function textRefusal(text: string, { allowed, most }: TextRow): string | undefined {
  if (text === '') return 'It needs at least one sign';
  const missing = [...new Set([...text].filter((sign) => !sign.match(allowed)))];
  if (missing.length > 0)
    return `There is no drawn letter for ${missing.map((sign) => `"${sign}"`).join(', ')}; A to Z, digits and . , ! ? : ' " + / & % # * ( ) - are there`;
  return text.length > most ? `It holds ${most} signs at most` : undefined;
}
