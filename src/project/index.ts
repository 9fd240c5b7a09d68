// The document's public face: its types, reading and writing, problems and findings, edits and history.
export { roomForClips } from './clip-parts.ts';
export * from './clip-spots.ts';
export * from './edits-areas.ts';
export * from './edits-as-built.ts';
export * from './edits-baffles.ts';
export * from './edits-beats.ts';
export * from './edits-channels.ts';
export * from './edits-clips.ts';
export * from './edits-events.ts';
export * from './edits-guides.ts';
export * from './edits-keep-outs.ts';
export * from './edits-measures.ts';
export * from './edits-painted.ts';
export * from './edits-panel.ts';
export {
  applyChange,
  arrowWithinBounds,
  type Change,
  feedPlaces,
  freeId,
  idFrom,
  idWithEnding,
  isPlace,
  membersOrNone,
} from './edits-parts.ts';
export * from './edits-power.ts';
export * from './edits-press-logs.ts';
export * from './edits-runs.ts';
export * from './edits-sheets.ts';
export * from './edits-shows.ts';
export * from './edits-strips.ts';
export * from './history.ts';
export { sizeProblem } from './json-guard.ts';
export * from './limits.ts';
export * from './painted-cells.ts';
export * from './problems.ts';
export * from './read.ts';
export { currentVersion, projectSchema } from './schema.ts';
export { mostPathPoints } from './schema-areas.ts';
export {
  type LetterHeight,
  type LettersEffect,
  letterHeights,
  type PaintedEffect,
  type PaintedFrame,
  paintedLimits,
} from './schema-painted.ts';
export type * from './types.ts';
