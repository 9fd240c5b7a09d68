// The artwork as the browser can draw it: decoded once for each picture that the document holds.
import { useEffect, useState } from 'react';
import type { Project } from '../../project/index.ts';
import { bytesOfBase64 } from '../files/artwork.ts';
import { useProject } from '../workbench/context.ts';

type ArtworkData = NonNullable<Project['panel']['artwork']>;

export interface DecodedArtwork {
  readonly url: string;
  readonly image: HTMLImageElement;
}

/** Addresses stay valid as long as the page: undo may bring any picture back. */
const decoded = new WeakMap<ArtworkData, Promise<DecodedArtwork | undefined>>();

async function decode({ base64, mediaType }: ArtworkData): Promise<DecodedArtwork | undefined> {
  const bytes = bytesOfBase64(base64);
  if (!bytes) return undefined;
  const url = URL.createObjectURL(new Blob([bytes], { type: mediaType }));
  const image = new Image();
  image.src = url;
  try {
    await image.decode();
    return { url, image };
  } catch {
    return undefined;
  }
}

/** Undefined in a project without artwork, and for the moment that decoding takes. */
export function useArtwork(): DecodedArtwork | undefined {
  const data = useProject((project) => project.panel.artwork);
  const [artwork, setArtwork] = useState<{ of: ArtworkData; drawn: DecodedArtwork | undefined }>();
  useEffect(() => {
    if (!data) return;
    let wanted = true;
    const known = decoded.get(data) ?? decode(data);
    decoded.set(data, known);
    known.then((drawn) => wanted && setArtwork({ of: data, drawn })).catch(() => undefined);
    return () => {
      wanted = false;
    };
  }, [data]);
  return artwork && artwork.of === data ? artwork.drawn : undefined;
}
