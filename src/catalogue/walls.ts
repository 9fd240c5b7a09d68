// What stands in the light's way inside the box, as figures: what a baffle's faces send back, and the channel that a strip lies in.
// Not here: where walls and channels are (the project's panel, and its runs), what they do to light (src/light).
// Every figure is common practice, no source, unless one stands beside it.

export type WallFinishId = 'raw-wood' | 'white-paint' | 'black';

export interface WallFinish {
  readonly id: WallFinishId;
  readonly label: string;
  /** Share of light that a face sends back, the same for red, green and blue. */
  readonly reflectance: number;
}

/** The first one is what a wall has that doesn't say. */
export const wallFinishes: readonly WallFinish[] = [
  { id: 'raw-wood', label: 'Raw wood', reflectance: 0.5 },
  { id: 'white-paint', label: 'White paint', reflectance: 0.85 },
  { id: 'black', label: 'Black', reflectance: 0.05 },
];

export const finishOf = (id: WallFinishId | undefined): WallFinish =>
  wallFinishes.find((finish) => finish.id === id) ?? wallFinishes[0]!;

/** Room in a channel beside the strip, each side. */
export const channelClearanceMm = 0.3;
/** Room in a channel beyond the strip's cut edge, each end. */
export const channelEndRoomMm = 0.5;
/** A suggestion: how deep a channel is engraved or milled. */
export const usualChannelDepthMm = 3;
/** From the floor of the channel to the LEDs' faces: bodies 1.6 mm high on 0.3 mm of flexible board. Strip rows hold no height of their own. */
export const ledFaceHeightMm = 1.9;
