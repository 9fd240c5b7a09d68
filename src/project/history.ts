// Undo and redo as immer patches. An edit made inside a gesture (a drag, a held key) merges with the one before, so that a gesture is
// one step back; a gesture that ends where it began leaves no step. Selection and zoom are not edits and never come here.
import { applyPatches, enablePatches, type Patch, produceWithPatches } from 'immer';
import type { Project } from './types.ts';

enablePatches();

export type Edit = (draft: Project) => void;

interface Step {
  readonly label: string;
  /** Edits with the same gesture merge; undefined never merges. */
  readonly gesture: string | undefined;
  readonly undo: readonly Patch[];
  readonly redo: readonly Patch[];
}

export interface History {
  readonly project: Project;
  readonly past: readonly Step[];
  readonly future: readonly Step[];
}

export const startHistory = (project: Project): History => ({ project, past: [], future: [] });

/**
 * Applies an edit. `label` names it for the undo button. Returns the same history if the edit changed nothing.
 * @param gesture edits in a row with one gesture name become one step
 */
export function edited(history: History, label: string, edit: Edit, gesture?: string): History {
  const [project, redo, undo] = produceWithPatches(history.project, (draft) => {
    edit(draft as Project);
  });
  if (redo.length === 0) return history;
  const top = history.past.at(-1);
  if (gesture === undefined || top?.gesture !== gesture)
    return { project, past: [...history.past, { label, gesture, undo, redo }], future: [] };
  // From where the gesture began straight to here: thousands of drag moves still make one small step.
  const before = applyPatches(history.project, [...top.undo]);
  const [, merged, inverse] = produceWithPatches(before, (draft) =>
    replaceWith(draft as Project, project, before),
  );
  const past = history.past.slice(0, -1);
  return {
    project,
    past: merged.length === 0 ? past : [...past, { label, gesture, undo: inverse, redo: merged }],
    future: [],
  };
}

type Branch = Record<string | number, unknown>;
const isBranch = (value: unknown): value is Branch => typeof value === 'object' && value !== null;

/**
 * Whether patches inside a part can turn it into another and back, to the byte: they put a new entry behind the others, so an object that loses an
 * entry, or has one put in between, is replaced whole.
 */
const canTurnInto = (present: Branch, wanted: Branch): boolean => {
  if (Array.isArray(wanted) || Array.isArray(present)) return Array.isArray(wanted) && Array.isArray(present);
  const keys = Object.keys(wanted);
  return Object.keys(present).every((key, i) => key === keys[i]);
};

/** Turns `draft`, a draft of `from`, into `to`, touching only what differs (equal references are equal values here). */
function replaceWith(draft: Branch, to: Branch, from: Branch): void {
  if (!canTurnInto(from, to)) throw new Error('an edit took an entry of the whole project away');
  if (Array.isArray(to)) draft['length'] = to.length;
  for (const key of Object.keys(to)) {
    const wanted = to[key];
    const present = from[key];
    if (Object.is(wanted, present)) continue;
    if (isBranch(wanted) && isBranch(present) && canTurnInto(present, wanted))
      replaceWith(draft[key] as Branch, wanted, present);
    else draft[key] = wanted;
  }
}

/** Ends the gesture, so that the next edit is a step of its own even if it names the same gesture. */
export function endGesture(history: History): History {
  const top = history.past.at(-1);
  if (top?.gesture === undefined) return history;
  return { ...history, past: [...history.past.slice(0, -1), { ...top, gesture: undefined }] };
}

/** One step back; the same history if there is none. */
export function undone(history: History): History {
  const step = history.past.at(-1);
  if (!step) return history;
  return {
    project: applyPatches(history.project, [...step.undo]),
    past: history.past.slice(0, -1),
    future: [step, ...history.future],
  };
}

/** One step forward again; the same history if nothing was undone. */
export function redone(history: History): History {
  const [step, ...future] = history.future;
  if (!step) return history;
  return { project: applyPatches(history.project, [...step.redo]), past: [...history.past, step], future };
}
