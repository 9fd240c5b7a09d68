// What the page and its worker say to each other about a photo.
import type { Corners, Image } from '../../panel/index.ts';
import type { PanelImage, Result } from '../../project/index.ts';

export type PhotoJob =
  | {
      readonly kind: 'straighten';
      readonly corners: Corners;
      readonly widthPx: number;
      readonly heightPx: number;
    }
  | { readonly kind: 'resample'; readonly widthMm: number; readonly heightMm: number };

/** A picture's file, ready to be kept. */
export interface EncodedPicture {
  readonly mediaType: PanelImage['mediaType'];
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** The photo comes first, then jobs on it. */
export type ToPhotoWorker = { readonly image: Image } | { readonly job: PhotoJob };
export type FromPhotoWorker = Result<EncodedPicture>;
