// Brings numbers to where the document can hold them, by the bounds that its own schema gives, so that no edit makes a project that can't be read.
// Not here: ids and lists, which the edits look after themselves. A number that is none (NaN, an infinity) leaves what was there before.
import type { Change } from './edits-parts.ts';

/** What is read of a schema; the parts of schema.ts fit it. */
interface Schema {
  readonly type?: string;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly exclusiveMinimum?: number;
  readonly const?: unknown;
  readonly enum?: readonly unknown[];
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly items?: Schema;
  readonly oneOf?: readonly Schema[];
  /** A number or a word. */
  readonly anyOf?: readonly Schema[];
}

/** The least above a bound that is itself not allowed: a hundredth of a mm, a volt or an ampere is the finest that fields show. */
const leastStep = 0.01;

/** No number, and none before it. */
const unusable = Symbol('unusable');

type Values = Readonly<Record<string, unknown>>;
const isObject = (value: unknown): value is Values => typeof value === 'object' && value !== null;

function boundedNumber(schema: Schema, value: number, before: unknown): number | typeof unusable {
  if (!Number.isFinite(value))
    return typeof before === 'number' && Number.isFinite(before) ? before : unusable;
  const { minimum = -Infinity, maximum = Infinity, exclusiveMinimum = -Infinity } = schema;
  const above = value > exclusiveMinimum ? value : exclusiveMinimum + leastStep;
  const within = Math.min(maximum, Math.max(minimum, above));
  // + 0, since no file holds a -0.
  return (schema.type === 'integer' ? Math.round(within) : within) + 0;
}

function boundedObject(schema: Schema, value: Values, before: unknown): unknown {
  const next: Record<string, unknown> = {};
  let isOther = false;
  for (const [key, held] of Object.entries(value)) {
    const inner = schema.properties?.[key];
    const bounded = inner ? boundedPart(inner, held, isObject(before) ? before[key] : undefined) : held;
    isOther ||= !Object.is(bounded, held);
    if (bounded !== unusable) next[key] = bounded;
    else if (schema.required?.includes(key)) return unusable;
  }
  return isOther ? next : value;
}

function boundedList(items: Schema, value: readonly unknown[], before: unknown): unknown {
  const next = value.map((item, i) =>
    boundedPart(items, item, Array.isArray(before) ? before[i] : undefined),
  );
  if (next.includes(unusable)) return unusable;
  return next.every((item, i) => Object.is(item, value[i])) ? value : next;
}

function boundedPart(schema: Schema, value: unknown, before: unknown): unknown {
  if (typeof value === 'number')
    return boundedNumber(schema.anyOf?.find(({ type }) => type) ?? schema, value, before);
  if (Array.isArray(value)) return schema.items ? boundedList(schema.items, value, before) : value;
  if (!isObject(value)) return value;
  if (!schema.oneOf) return boundedObject(schema, value, before);
  const kind = schema.oneOf.find(({ properties }) => properties?.['kind']?.const === value['kind']);
  const same = isObject(before) && before['kind'] === value['kind'] ? before : undefined;
  return kind ? boundedObject(kind, value, same) : value;
}

/**
 * The value with every number in it inside the schema's bounds; the very same value where all are. Undefined where a number that must be there is
 * none, and was none `before`.
 */
export function withinSchema<T>(schema: Schema, value: T, before?: T): T | undefined {
  const bounded = boundedPart(schema, value, before);
  return bounded === unusable ? undefined : (bounded as T);
}

/** The same for a change of some properties: one that can't be held is left out. */
export function changeWithinSchema<T>(schema: Schema, change: Change<T>, before: unknown): Change<T> {
  const { required: _, ...loose } = schema;
  return boundedObject(loose, change as Values, before) as Change<T>;
}
