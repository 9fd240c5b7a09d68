// The catalogue's public face: data with sources, no logic beyond look-up.
export * from './boards.ts';
export * from './colour-orders.ts';
export * from './fuses.ts';
export * from './plugs.ts';
export * from './sheets.ts';
export * from './strips.ts';
export * from './supplies.ts';
export * from './walls.ts';
export * from './wires.ts';

/** The row with this id, or undefined. */
export const rowById = <Row extends { readonly id: string }>(
  rows: readonly Row[],
  id: string,
): Row | undefined => rows.find((row) => row.id === id);
