// Makes a film frame by frame as fast as the computer can, with progress, and called off at any time. What paints and what packs comes from outside.
import type { FilmPlan } from './film-plan.ts';

/** Packs frames into a file, one after the other. */
export interface FilmPacker {
  /** The frame that was painted last. Resolves when there is room for the next. */
  readonly add: (frame: number) => Promise<void>;
  readonly finish: () => Promise<Uint8Array<ArrayBuffer>>;
  readonly cancel: () => Promise<void>;
}

export interface FilmTask {
  readonly plan: FilmPlan;
  /** Paints the frame with this number of the player's. */
  readonly paint: (playerFrame: number) => void;
  readonly packer: FilmPacker;
  readonly onProgress: (done: number) => void;
  /** Lets the page draw and hear; false: nobody wants the film any more. */
  readonly pause: () => Promise<boolean>;
}

/** Undefined where it was called off; then nothing is left of it. */
export async function makeFilm({
  plan,
  paint,
  packer,
  onProgress,
  pause,
}: FilmTask): Promise<Uint8Array<ArrayBuffer> | undefined> {
  try {
    for (const [index, playerFrame] of plan.frames.entries()) {
      if (!(await pause())) {
        await packer.cancel();
        return undefined;
      }
      paint(playerFrame);
      await packer.add(index);
      onProgress(index + 1);
    }
    return await packer.finish();
  } catch (error) {
    await packer.cancel().catch(() => undefined);
    throw error;
  }
}
