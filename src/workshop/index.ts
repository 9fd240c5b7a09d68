// The workshop's public face: channels, the backing's drawing, cut and wire lists, the build sheet, and the export that holds all files.
// Not here: build-sheet-pdf.ts, whose library is fetched only when a sheet is written.
export * from './build-sheet.ts';
export * from './channels.ts';
export * from './cut-list.ts';
export * from './drawing.ts';
export * from './export.ts';
export * from './wire-list.ts';
