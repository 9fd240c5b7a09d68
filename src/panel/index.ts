// The panel's public face: geometry from runs to LED places, chains, jumpers and areas.
export * from './areas.ts';
export * from './findings.ts';
export * from './image.ts';
export * from './jumper-route.ts';
export * from './keep-outs.ts';
export * from './layout.ts';
export * from './measures.ts';
export * from './photo.ts';
export * from './plane.ts';
export * from './run-edits.ts';
export * from './srgb.ts';
export * from './strips.ts';
export * from './true-scale.ts';
