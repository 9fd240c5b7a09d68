// Carries files of older versions to the current one, a step a version. The steps take plain JSON, since old shapes have no types here.
// How to add one: raise `currentVersion` in schema.ts, add the step from the version before, and a sample of the old file to its test.
import { excerpt, failed, ok, type Problem, type Result } from './problems.ts';
import { currentVersion } from './schema.ts';

type Json = Readonly<Record<string, unknown>>;
export type Migration = (project: Json) => Json;

/** `migrations[n]` turns version n into version n + 1. Version 1 is the first, so the table starts empty. */
export const migrations: Readonly<Record<number, Migration>> = {};

const notAProject = (found: string, at = ''): Problem => ({
  code: 'not-a-project',
  at,
  expected: at === '' ? 'a Lamploom project' : '"lamploom"',
  found,
  mend: 'Open a file whose name ends in .lamploom.json.',
});

/** Brings a parsed file to the current version, or says why it can't be. */
export function migrate(
  value: unknown,
  steps: Readonly<Record<number, Migration>> = migrations,
  target: number = currentVersion,
): Result<Json> {
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    return failed([notAProject(excerpt(value))]);
  let project = value as Json;
  if (project['format'] !== 'lamploom') return failed([notAProject(excerpt(project['format']), '/format')]);
  const version = project['version'];
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1 || version > target) {
    const newer = typeof version === 'number' && version > target;
    return failed([
      {
        code: 'unknown-version',
        at: '/version',
        expected: target === 1 ? 'version 1' : `a version from 1 to ${target}`,
        found: excerpt(version),
        mend: newer ? 'Use a newer Lamploom to open it.' : 'Set it to the version that wrote the file.',
      },
    ]);
  }
  for (let from = version; from < target; from++) {
    const step = steps[from];
    if (!step) throw new Error(`no migration from version ${from}`);
    project = { ...step(project), version: from + 1 };
  }
  return ok(project);
}
