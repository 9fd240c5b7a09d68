// What the page and its worker say to each other about a picture that becomes painted frames.
import type { CellGrid } from '../../../../lampshow/index.ts';
import type { PaintedEffect } from '../../../../project/index.ts';

export interface PictureTask {
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly grid: CellGrid;
  /** At most. */
  readonly colours: number;
}

export type PictureAnswer =
  | { readonly effect: PaintedEffect; readonly meanError: number }
  /** Why nothing came of it, as a sentence. */
  | { readonly fault: string };
