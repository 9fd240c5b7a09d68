// The artwork and the opacity layer as the browser can draw them: decoded once for each picture that the document holds.
import { useEffect, useMemo, useState } from 'react';
import { type Lightness, lightnessOf } from '../../panel/index.ts';
import type { PanelImage } from '../../project/index.ts';
import { bytesOfBase64 } from '../files/artwork.ts';
import { imageOf } from '../glass/artwork-pixels.ts';
import { useProject } from '../workbench/context.ts';
import { type ColourAt, colourReader } from './colour-area.ts';

export interface DecodedArtwork {
  readonly url: string;
  readonly image: HTMLImageElement;
}

/** Addresses stay valid as long as the page: undo may bring any picture back. */
const decoded = new WeakMap<PanelImage, Promise<DecodedArtwork | undefined>>();

async function decode({ base64, mediaType }: PanelImage): Promise<DecodedArtwork | undefined> {
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
export const useArtwork = (): DecodedArtwork | undefined =>
  useDecoded(useProject((project) => project.panel.artwork));

/** The same for the opacity layer. */
export const useOpacity = (): DecodedArtwork | undefined =>
  useDecoded(useProject((project) => project.panel.opacity));

/** Colours and lightness of the artwork at a millimetre a pixel (LEDs are larger); read when first asked for, and once. */
export function useArtworkReaders(
  widthMm: number,
  heightMm: number,
): { readonly colourAt: () => ColourAt | undefined; readonly lightness: () => Lightness | undefined } {
  const image = useArtwork()?.image;
  return useMemo(() => {
    let pixels: ReturnType<typeof imageOf> | undefined;
    let lightness: Lightness | undefined;
    const read = () => {
      if (image) pixels ??= imageOf(image, Math.ceil(widthMm), Math.ceil(heightMm));
      return pixels;
    };
    return {
      colourAt: () => {
        const known = read();
        if (!known) return undefined;
        const { widthPx: width, heightPx: height } = known;
        return colourReader(
          { data: Uint8ClampedArray.from(known.rgba), width, height },
          { widthMm, heightMm },
        );
      },
      lightness: () => {
        const known = read();
        if (known) lightness ??= lightnessOf(known);
        return lightness;
      },
    };
  }, [image, widthMm, heightMm]);
}

function useDecoded(data: PanelImage | undefined): DecodedArtwork | undefined {
  const [artwork, setArtwork] = useState<{ of: PanelImage; drawn: DecodedArtwork | undefined }>();
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
