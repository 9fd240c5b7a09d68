// Options of the command line: names, kinds, and clear problems for bad ones. The names are a contract.
import { parseArgs } from 'node:util';
import { excerpt, type Project } from '../project/index.ts';
import { unusable } from './console.ts';

type Kind = 'flag' | 'text';
export type Options<S extends Readonly<Record<string, Kind>>> = {
  readonly [K in keyof S]?: S[K] extends 'flag' ? boolean : string;
};

export interface Arguments<S extends Readonly<Record<string, Kind>>> {
  readonly positionals: readonly string[];
  readonly options: Options<S>;
}

const badOption = (at: string, expected: string, found: string, mend: string): never =>
  unusable({ code: 'bad-option', at, expected, found, mend });

/** Parses a command's arguments. `fileCount` is how many files it takes. */
export function parseOptions<const S extends Readonly<Record<string, Kind>>>(
  args: readonly string[],
  spec: S,
  fileCount: number,
): Arguments<S> {
  const options = Object.fromEntries(
    Object.entries(spec).map(([name, kind]) => [
      name,
      { type: kind === 'flag' ? ('boolean' as const) : ('string' as const) },
    ]),
  );
  const known = Object.keys(spec).map((name) => `--${name}`);
  const mend = known.length === 0 ? 'This command takes no options.' : `It takes ${known.join(', ')}.`;
  try {
    const { values, positionals, tokens } = parseArgs({
      args: [...args],
      options,
      allowPositionals: true,
      tokens: true,
    });
    const seen = new Set<string>();
    for (const token of tokens)
      if (token.kind === 'option') {
        if (seen.has(token.name))
          badOption(token.rawName, 'each option once', `${token.rawName} twice`, 'Take one of them away.');
        seen.add(token.name);
      }
    if (positionals.length !== fileCount)
      badOption('arguments', fileCount === 0 ? 'no file' : 'one project file', `${positionals.length}`, mend);
    return { positionals, options: values as Options<S> };
  } catch (error) {
    if (!(error instanceof TypeError)) throw error;
    return badOption(
      'arguments',
      'options of this command',
      error.message.split(/\.\s|\n/)[0] ?? 'something else',
      mend,
    );
  }
}

/** A whole number from an option, or the fallback where it is absent. */
export function wholeNumber(
  name: string,
  value: string | undefined,
  least: number,
  most: number,
  fallback: number,
): number {
  if (value === undefined) return fallback;
  const number = /^\d{1,15}$/.test(value) ? Number(value) : Number.NaN;
  if (number >= least && number <= most) return number;
  return badOption(
    `--${name}`,
    `a whole number from ${least} to ${most}`,
    excerpt(value),
    'Write such a number.',
  );
}

/** The id of a show of the project. */
export function showId(name: string, value: string | undefined, project: Project): string {
  const ids = project.lampshows.map((show) => show.id);
  const mend = `The project has ${ids.join(', ')}.`;
  if (value === undefined) return badOption(`--${name}`, 'the id of a lampshow', 'none', mend);
  if (!ids.includes(value))
    unusable({
      code: 'unknown-id',
      at: `--${name}`,
      expected: 'the id of a lampshow',
      found: excerpt(value),
      mend,
    });
  return value;
}

/** A value that is there and not empty: an empty path would mean the folder one happens to stand in. */
export function required(name: string, value: string | undefined): string {
  if (value === undefined || value.trim() === '')
    return badOption(`--${name}`, 'a value', 'none', `Give --${name} a value.`);
  return value;
}
