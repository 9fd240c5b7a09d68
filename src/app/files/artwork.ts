// A picture that the builder picked, as the document holds artwork: type and base64. Whether it is a picture is tried by decoding it, unless its
// size alone is too much. Browsers draw a JPEG upright, whichever way its rows lie in the file.
import { imageTooLarge } from '../../panel/index.ts';
import { failed, limits, ok, type Problem, type Project, type Result } from '../../project/index.ts';
import type { PickedFile } from './ports.ts';

type ArtworkData = NonNullable<Project['panel']['artwork']>;

export interface Artwork extends ArtworkData {
  /** Width by height. */
  readonly aspect: number;
}

const types = [
  { mediaType: 'image/svg+xml', extensions: ['.svg'] },
  { mediaType: 'image/png', extensions: ['.png'] },
  { mediaType: 'image/jpeg', extensions: ['.jpg', '.jpeg'] },
] as const satisfies readonly { mediaType: ArtworkData['mediaType']; extensions: readonly string[] }[];

export const artworkExtensions: readonly string[] = types.flatMap(({ extensions }) => extensions);
export const artworkTypes: readonly string[] = types.map(({ mediaType }) => mediaType);

const problem = (code: string, expected: string, found: string, mend: string): Result<never> =>
  failed([{ code, at: '/panel/artwork', expected, found, mend } satisfies Problem]);

function base64Of(bytes: Uint8Array): string {
  let text = '';
  // In pieces: a call takes only so many arguments.
  for (let at = 0; at < bytes.length; at += 0x8000)
    text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  return btoa(text);
}

export function bytesOfBase64(base64: string): Uint8Array<ArrayBuffer> | undefined {
  try {
    return Uint8Array.from(atob(base64), (character) => character.charCodeAt(0));
  } catch {
    return undefined;
  }
}

/** The picture, decoded; undefined where the bytes are none. */
export async function decodeImage(
  bytes: Uint8Array<ArrayBuffer>,
  mediaType: string,
): Promise<HTMLImageElement | undefined> {
  const url = URL.createObjectURL(new Blob([bytes], { type: mediaType }));
  const image = new Image();
  image.src = url;
  try {
    await image.decode();
    return image.naturalWidth > 0 && image.naturalHeight > 0 ? image : undefined;
  } catch {
    return undefined;
  } finally {
    URL.revokeObjectURL(url);
  }
}

export async function artworkFrom({
  name,
  bytes,
}: Pick<PickedFile, 'name' | 'bytes'>): Promise<Result<Artwork>> {
  const type = types.find(({ extensions }) => extensions.some((end) => name.toLowerCase().endsWith(end)));
  if (!type)
    return problem(
      'artwork-type',
      `a name ending in ${artworkExtensions.join(', ')}`,
      name,
      'Save it as one.',
    );
  const tooLarge = imageTooLarge(bytes, limits.imageBytes);
  if (tooLarge) return failed([tooLarge]);
  const image = await decodeImage(bytes, type.mediaType);
  if (!image)
    return problem(
      'artwork-unreadable',
      `a picture of type ${type.mediaType} with a size`,
      'data that no picture can be made from',
      'Open it in a drawing program and save it again.',
    );
  return ok({
    mediaType: type.mediaType,
    base64: base64Of(bytes),
    aspect: image.naturalWidth / image.naturalHeight,
  });
}
