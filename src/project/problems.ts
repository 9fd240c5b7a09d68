// What is wrong, in one shape for the whole project: a Problem makes input unusable (exit status 2), a Finding is about a usable project.
// Not here: exceptions. Those mean a fault of ours.

/** A fault that keeps the input from being used. */
export interface Problem {
  readonly code: string;
  /** JSON pointer into the project, or the name of a command-line option. */
  readonly at: string;
  readonly expected: string;
  readonly found: string;
  readonly mend: string;
}

export interface Finding {
  readonly severity: 'error' | 'warning' | 'note';
  readonly code: string;
  /** JSON pointer into the project. */
  readonly at: string;
  readonly message: string;
  readonly mend: string;
}

export type Result<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problems: readonly Problem[] };

export const ok = <T>(value: T): Result<T> => ({ ok: true, value });
export const failed = (problems: readonly Problem[]): Result<never> => ({ ok: false, problems });

/** One line whatever stands in it: a key of a damaged file may hold line ends and control characters. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is taken out
const oneLine = (text: string): string => text.replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029]/g, '?');

/** `/runs/3/ledCount: expected a whole number, found "x". Write it without quotes.` */
export const problemLine = (problem: Problem): string =>
  oneLine(
    `${problem.at === '' ? '(whole file)' : problem.at}: expected ${problem.expected}, found ${problem.found}. ${problem.mend}`,
  );

export const findingLine = (finding: Finding): string =>
  oneLine(
    `${finding.severity} ${finding.code} at ${finding.at === '' ? '/' : finding.at}: ${finding.message} ${finding.mend}`,
  );

/** `pointer('runs', 3)` gives `/runs/3`, escaped as RFC 6901 says. */
export const pointer = (...parts: readonly (string | number)[]): string =>
  parts.map((part) => `/${String(part).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('');

const shown = 60;

/** A value as a short piece of JSON for messages. */
export function excerpt(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (typeof value === 'object' && value !== null)
    return `an object with ${Object.keys(value).length} entries`;
  const json = JSON.stringify(value) ?? String(value);
  return json.length > shown ? `${json.slice(0, shown)}...` : json;
}
