// The workshop's public face: channels, the backing's drawing, cut and wire lists, and the export that holds all files.
export * from './channels.ts';
export * from './cut-list.ts';
export * from './drawing.ts';
export * from './export.ts';
export * from './wire-list.ts';
