// Turns the validator's faults into problems that say what was expected, what was found and how to mend it.
// The validator is ajv's, generated from schema.ts at build time; its error objects follow ajv 8.
import type { ErrorObject } from 'ajv';
import { excerpt, type Problem, pointer } from './problems.ts';

type Params = Readonly<Record<string, unknown>>;
interface Wording {
  readonly expected: (params: Params, error: ErrorObject) => string;
  readonly mend: string;
}

const list = (values: unknown): string =>
  Array.isArray(values) ? values.map((v) => JSON.stringify(v)).join(', ') : String(values);
const comparison: Readonly<Record<string, string>> = {
  '>=': 'at least',
  '<=': 'at most',
  '>': 'more than',
  '<': 'less than',
};
const kinds: Readonly<Record<string, string>> = {
  integer: 'a whole number',
  number: 'a number',
  string: 'a text in quotes',
  boolean: 'true or false',
  array: 'a list',
  object: 'an object',
};
const bound: Wording = {
  expected: (p) => `${comparison[String(p['comparison'])] ?? ''} ${p['limit']}`.trim(),
  mend: 'Choose a value inside the bound.',
};
const count = (what: string, way: string): Wording => ({
  expected: (p) => `${way} ${p['limit']} ${what}`,
  mend: way === 'at most' ? 'Shorten it.' : 'Add to it.',
});

const wordings: Readonly<Record<string, Wording>> = {
  type: { expected: (p) => kinds[String(p['type'])] ?? String(p['type']), mend: 'Write it in that form.' },
  required: { expected: (p) => `an entry "${p['missingProperty']}"`, mend: 'Add it.' },
  additionalProperties: {
    expected: () => 'only entries that the schema names',
    mend: 'Take it out, or mend its spelling.',
  },
  enum: { expected: (p) => `one of ${list(p['allowedValues'])}`, mend: 'Choose one of these.' },
  const: { expected: (p) => JSON.stringify(p['allowedValue']), mend: 'Write exactly that.' },
  pattern: { expected: (p) => `a text of the form ${p['pattern']}`, mend: 'Write it in that form.' },
  discriminator: {
    expected: () => 'a "kind" that the schema names',
    mend: 'Choose a kind that `lamploom schema` lists.',
  },
  anyOf: {
    expected: () => 'one of the forms that the schema names',
    mend: '`lamploom schema` lists them.',
  },
  minimum: bound,
  maximum: bound,
  exclusiveMinimum: bound,
  minLength: count('characters', 'at least'),
  maxLength: count('characters', 'at most'),
  minItems: count('entries', 'at least'),
  maxItems: count('entries', 'at most'),
};

function valueAt(root: unknown, path: string): unknown {
  let value: unknown = root;
  for (const part of path.split('/').slice(1)) {
    if (typeof value !== 'object' || value === null) return undefined;
    value = (value as Record<string, unknown>)[part.replaceAll('~1', '/').replaceAll('~0', '~')];
  }
  return value;
}

/** What each form that is allowed would have wanted; the fault is that the value has none of them. */
const isOfOneForm = (error: ErrorObject): boolean => error.schemaPath.includes('/anyOf/');

/** One problem per fault of the validator. `root` is the value that was checked. */
export function schemaProblems(errors: readonly ErrorObject[], root: unknown): Problem[] {
  const faults = errors.filter((error) => !isOfOneForm(error));
  return faults.map((error) => {
    const params = error.params as Params;
    const wording = wordings[error.keyword];
    const extra = params['additionalProperty'];
    const tag = error.keyword === 'discriminator' ? String(params['tag']) : undefined;
    const child = extra ?? tag;
    const at = child === undefined ? error.instancePath : error.instancePath + pointer(String(child));
    const found =
      error.keyword === 'required'
        ? 'none'
        : extra === undefined
          ? excerpt(valueAt(root, at))
          : `an entry ${JSON.stringify(extra)}`;
    return {
      code: `schema-${error.keyword}`,
      at,
      expected: wording?.expected(params, error) ?? error.message ?? 'something else',
      found,
      mend: wording?.mend ?? 'See `lamploom schema`.',
    };
  });
}
