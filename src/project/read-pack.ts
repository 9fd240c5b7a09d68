// Text of a show pack to a checked one, or every problem that stands in the way; and back to text. In the same order as a project is read: size and
// shape, JSON, version, schema, references. Not here: what a pack means for a panel (src/lampshow/show-pack.ts).
import validate from 'virtual:pack-validator';
import type { FromSchema } from 'json-schema-to-ts';
import { parseJson } from './json-guard.ts';
import { excerpt, failed, ok, type Problem, type Result } from './problems.ts';
import { duplicateIds, showProblems } from './references.ts';
import { packFormat, type packSchema, packVersion } from './schema-pack.ts';
import { schemaProblems } from './schema-problems.ts';

export type ShowPack = FromSchema<typeof packSchema>;
export type PackArea = ShowPack['areas'][number];
export type PackEvent = NonNullable<ShowPack['gameEvents']>[number];

/** As many as a project's reader tells. */
const mostProblems = 50;

const notAPack = (at: string, expected: string, found: unknown): Problem => ({
  code: 'not-a-pack',
  at,
  expected,
  found: excerpt(found),
  mend:
    found === 'lamploom'
      ? 'This is a whole project: open it from the project menu, and give its shows as a pack from there.'
      : 'Take a file whose name ends in .lamploom-shows.json.',
});

function versionProblem(value: unknown): Problem | undefined {
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    return notAPack('', 'a Lamploom show pack', value);
  const { format, version } = value as { readonly format?: unknown; readonly version?: unknown };
  if (format !== packFormat) return notAPack('/format', JSON.stringify(packFormat), format);
  if (version === packVersion) return undefined;
  const isNewer = typeof version === 'number' && version > packVersion;
  return {
    code: 'unknown-version',
    at: '/version',
    expected: `version ${packVersion}`,
    found: excerpt(version),
    mend: isNewer ? 'Use a newer Lamploom to take it in.' : 'Set it to the version that wrote the file.',
  };
}

/** Rules that the schema can't say. */
function packProblems(pack: ShowPack): Problem[] {
  const problems: Problem[] = [];
  for (const list of ['areas', 'gradients', 'lampshows', 'gameEvents'] as const)
    duplicateIds(problems, `/${list}`, pack[list]);
  showProblems(problems, pack, 'this pack');
  return problems;
}

export function checkPack(value: unknown): Result<ShowPack> {
  const problem = versionProblem(value);
  if (problem) return failed([problem]);
  if (!validate(value)) return failed(schemaProblems((validate.errors ?? []).slice(0, mostProblems), value));
  const pack = value as ShowPack;
  const problems = packProblems(pack);
  return problems.length > 0 ? failed(problems.slice(0, mostProblems)) : ok(pack);
}

export function readPack(json: string): Result<ShowPack> {
  const parsed = parseJson(json);
  return parsed.ok ? checkPack(parsed.value) : parsed;
}

/** The file's text, laid out as a project's is. */
export const writePack = (pack: ShowPack): string => `${JSON.stringify(pack, null, 2)}\n`;
