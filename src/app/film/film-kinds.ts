// The kinds of film that can be made here: what the browser can pack as video, and GIF always. Fetched with the dialog, the packers only when a film is
// made.
import type { SizePx } from './film-plan.ts';

export type FilmKindId = 'mp4' | 'webm' | 'gif';
export type FilmCodec = 'avc' | 'vp9' | 'vp8';

export interface FilmKind {
  readonly id: FilmKindId;
  readonly label: string;
  readonly mediaType: string;
  /** None for a GIF. */
  readonly codec: FilmCodec | undefined;
}

export const gifKind: FilmKind = { id: 'gif', label: 'GIF', mediaType: 'image/gif', codec: undefined };

const videoRows: readonly {
  readonly id: 'mp4' | 'webm';
  readonly label: string;
  readonly mediaType: string;
  /** The first that the browser can pack is taken. */
  readonly codecs: readonly FilmCodec[];
}[] = [
  { id: 'webm', label: 'WebM', mediaType: 'video/webm', codecs: ['vp9', 'vp8'] },
  { id: 'mp4', label: 'MP4', mediaType: 'video/mp4', codecs: ['avc'] },
];

/** What can be made of pictures of this size. */
export async function filmKinds({ widthPx, heightPx }: SizePx): Promise<FilmKind[]> {
  const { canEncode } = await import('./video.ts');
  const kinds: FilmKind[] = [];
  for (const { codecs, ...row } of videoRows)
    for (const codec of codecs)
      if (await canEncode(codec, widthPx, heightPx)) {
        kinds.push({ ...row, codec });
        break;
      }
  return [...kinds, gifKind];
}
