// The board's public face: memory, sketch and ready-to-flash program, and the one examination that all figures come from.
export * from './budget.ts';
export * from './check.ts';
export * from './compile.ts';
export * from './event-findings.ts';
export * from './export.ts';
export * from './flash-findings.ts';
export * from './flash-plays.ts';
export * from './give-up.ts';
export * from './intel-hex.ts';
export * from './limiter-losses.ts';
export * from './power-plays.ts';
export * from './sketch.ts';
export * from './templates.ts';
