// The light's public face: from wire bytes to linear light on the diffuser's face, and from there to the screen's colours.
export * from './diffuser.ts';
export * from './light-map.ts';
export * from './screen.ts';
export * from './sources.ts';
