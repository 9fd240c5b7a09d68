// Text of a project file to a checked Project, or every problem that stands in the way. And back to text.
// The only door by which outside data enters: size and shape, JSON, version, schema, references, in this order.
import validate from 'virtual:project-validator';
import { parseJson } from './json-guard.ts';
import { migrate } from './migrations.ts';
import { failed, ok, type Result } from './problems.ts';
import { referenceProblems } from './references.ts';
import { schemaProblems } from './schema-problems.ts';
import type { Project } from './types.ts';

/** No screen or terminal helps anyone with more lines than this; the first ones are enough to start mending. */
const mostProblems = 50;

/** Checks a parsed value; the value itself is returned, untouched, if it is a project of the current version. */
export function checkProject(value: unknown): Result<Project> {
  const current = migrate(value);
  if (!current.ok) return current;
  if (!validate(current.value))
    return failed(schemaProblems((validate.errors ?? []).slice(0, mostProblems), current.value));
  const project = current.value as unknown as Project;
  const problems = referenceProblems(project);
  return problems.length > 0 ? failed(problems.slice(0, mostProblems)) : ok(project);
}

export function readProject(text: string): Result<Project> {
  const parsed = parseJson(text);
  return parsed.ok ? checkProject(parsed.value) : parsed;
}

/** The file's text: two spaces of indentation, so that versions of a project can be compared line by line. */
export const writeProject = (project: Project): string => `${JSON.stringify(project, null, 2)}\n`;
