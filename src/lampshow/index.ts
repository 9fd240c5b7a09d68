// The lampshow's public face: effects and gradients compiled to show data, the player that plays them, and how fast the board will be.
// Not here: gif.ts, which brings a decoder that few need.
export * from './cells.ts';
export * from './director-state.ts';
export * from './effects.ts';
export * from './event-data.ts';
export * from './findings.ts';
export * from './font.ts';
export * from './frame-time.ts';
export * from './gamma.ts';
export * from './gradients.ts';
export * from './letters.ts';
export * from './line-data.ts';
export * from './maps.ts';
export * from './paint-grid.ts';
export * from './painted.ts';
export * from './painting-starts.ts';
export * from './player.ts';
export * from './press-log.ts';
export * from './sampling.ts';
export * from './show-data.ts';
export * from './spans.ts';
