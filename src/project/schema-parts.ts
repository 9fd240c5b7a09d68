// Small schema pieces that the document's parts share. Plain values without $ref, so that types can be derived from them.

/** An object that allows these properties and no others. */
export const object = <
  const P extends Record<string, unknown>,
  const R extends readonly (keyof P & string)[],
>(
  properties: P,
  required: R,
  description?: string,
) =>
  ({
    type: 'object',
    additionalProperties: false,
    properties,
    required,
    ...(description === undefined ? {} : { description }),
  }) as const;

export const arrayOf = <const S>(items: S, maxItems: number) => ({ type: 'array', items, maxItems }) as const;

export const id = { type: 'string', pattern: '^[a-z][a-z0-9-]{0,39}$' } as const;
export const text = { type: 'string', maxLength: 200 } as const;
export const blankless = { type: 'string', minLength: 1, maxLength: 40 } as const;
/** A place: may lie off the panel (a finding, not a fault), but is a number of this world. */
export const mm = { type: 'number', minimum: -10_000, maximum: 10_000 } as const;
export const positive = { type: 'number', exclusiveMinimum: 0 } as const;
/** A place on the panel. */
export const point = object({ xMm: mm, yMm: mm }, ['xMm', 'yMm']);
