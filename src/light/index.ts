// The light's public face: from wire bytes to linear light on the diffuser's face, and from there to the screen's colours.
// Not here: the renderer for graphics cards (webgl-renderer.ts), which whoever has a canvas imports by itself.
export * from './bare-leds.ts';
export * from './diffuser.ts';
export * from './evenness.ts';
export * from './evenness-map.ts';
export * from './evenness-ripple.ts';
export * from './eye.ts';
export * from './face.ts';
export * from './flash-analysis.ts';
export * from './flash-rules.ts';
export * from './grid.ts';
export * from './ink.ts';
export * from './light-map.ts';
export * from './light-ways.ts';
export * from './live-picture.ts';
export * from './picture.ts';
export * from './regions.ts';
export * from './scene.ts';
export * from './screen.ts';
export * from './sources.ts';
export * from './spread.ts';
export * from './spread-kernel.ts';
export * from './viewing.ts';
