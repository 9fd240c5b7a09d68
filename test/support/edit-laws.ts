// The laws that every edit obeys, through one helper; and a way to say what an edit changes that also says it changes nothing else.
// A case is a row: the edit's name, the edit, and by JSON pointer the values that stand in the document afterwards.
import { expect, test } from 'vitest';
import {
  checkProject,
  type Edit,
  edited,
  type Project,
  problemLine,
  readProject,
  redone,
  startHistory,
  undone,
  writeProject,
} from '../../src/project/index.ts';
import { type Sample, sample } from './lamploom.ts';

export const faultsOf = (project: Project): string[] => {
  const checked = checkProject(project);
  return checked.ok ? [] : checked.problems.map(problemLine);
};

/** Applies an edit and holds it to the laws: a sound project, read back as it is, undone and redone to the same bytes. */
export function holdsLaws(
  project: Project,
  label: string,
  edit: Edit,
  expected?: (before: Project, after: Project) => void,
): Project {
  const before = startHistory(project);
  const bytes = writeProject(project);
  expect(faultsOf(project), 'before the edit').toEqual([]);
  const after = edited(before, label, edit);
  expect(faultsOf(after.project), label).toEqual([]);
  expect(writeProject(project), 'the project before').toBe(bytes);
  const afterBytes = writeProject(after.project);
  const back = undone(after);
  expect(writeProject(back.project), `${label} undone`).toBe(bytes);
  expect(writeProject(redone(back).project), `${label} redone`).toBe(afterBytes);
  expect(readProject(afterBytes)).toEqual({ ok: true, value: after.project });
  expected?.(project, after.project);
  return after.project;
}

type Json = Record<string, unknown>;

/** A copy with other values at these JSON pointers; undefined takes the entry away. */
export function withValues(project: Project, values: Readonly<Record<string, unknown>>): Project {
  const copy = structuredClone(project);
  for (const [pointer, value] of Object.entries(values)) {
    const path = pointer.split('/').slice(1);
    const holder = path.slice(0, -1).reduce((part, key) => part[key] as Json, copy as unknown as Json);
    if (value === undefined) delete holder[path.at(-1)!];
    else holder[path.at(-1)!] = value;
  }
  return copy;
}

export interface EditCase {
  /** The exported function's name. */
  readonly name: string;
  /** What it does here, as a fact. */
  readonly fact: string;
  readonly on: Sample | Project;
  readonly edit: Edit;
  /** All that differs afterwards; nothing, where the edit leaves the project as it is. */
  readonly leaves: (before: Project) => Readonly<Record<string, unknown>>;
}

/** One test a case, and one that no edit of the module is without a case. */
export function testCases(cases: readonly EditCase[], module: Readonly<Record<string, unknown>>): void {
  test.each(cases)('$name $fact', ({ name, on, edit, leaves }) => {
    const project = typeof on === 'string' ? sample(on) : on;
    holdsLaws(project, name, edit, (before, after) => {
      expect(after).toEqual(withValues(before, leaves(before)));
    });
  });

  test('every edit of the module has a case', () => {
    const made = (value: unknown): boolean => typeof value === 'function' && value.length > 0;
    const edits = Object.keys(module).filter((key) => made(module[key]) && !notEdits.has(key));
    expect(new Set(cases.map((one) => one.name))).toEqual(new Set(edits));
  });
}

/** Exported by the modules of edits, but no edits: they answer a question. */
const notEdits: ReadonlySet<string> = new Set([
  'hasRoomForRun',
  'dropBuiltRun',
  'dropFromPressLogs',
  'isSwapped',
  'inSequence',
  'groupMiddle',
  'canJoin',
]);
