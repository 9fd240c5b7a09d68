// Reads the pictures in a project, artwork and opacity layer, into pixels: SVG by resvg, PNG by pngjs, JPEG by jpeg-js. Unreadable artwork is a problem, not an exception.
// Not here: what ink does to light (src/light/ink.ts). A JPEG's EXIF orientation is not followed; SVG text needs outlines, since no fonts are
// loaded: they would differ between computers.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { initWasm, Resvg } from '@resvg/resvg-wasm';
import jpeg from 'jpeg-js';
import { PNG } from 'pngjs';
import { type Image, imageSize, mostImagePixels } from '../panel/index.ts';
import {
  failed,
  ok,
  type PanelImage,
  type Problem,
  type Project,
  pointer,
  type Result,
} from '../project/index.ts';

/** Where in the panel a picture stands, and what it is called. */
export const pictureNames = { artwork: 'artwork', opacity: 'opacity layer' } as const;
export type PictureKey = keyof typeof pictureNames;

const unreadable = (key: PictureKey, mediaType: string, found: string): Problem => ({
  code: 'artwork-unreadable',
  at: pointer('panel', key),
  expected: `an image of type ${mediaType}`,
  found,
  mend: `Put the ${pictureNames[key]} into the project again, or leave --out away.`,
});

/** What a decoder had to say, as one short line. */
export const reasonOf = (error: unknown): string =>
  (error instanceof Error ? error.message : String(error)).replace(/\s+/g, ' ').slice(0, 120);

let resvgStarted: Promise<void> | undefined;
function startResvg(root: string): Promise<void> {
  resvgStarted ??= initWasm(
    readFileSync(createRequire(join(root, 'package.json')).resolve('@resvg/resvg-wasm/index_bg.wasm')),
  );
  return resvgStarted;
}

/** resvg gives colours multiplied by alpha. */
function unmultiplied(rgba: Uint8Array): Uint8Array {
  for (let at = 0; at < rgba.length; at += 4) {
    const alpha = rgba[at + 3]!;
    if (alpha === 0 || alpha === 255) continue;
    for (let channel = 0; channel < 3; channel++)
      rgba[at + channel] = Math.min(255, Math.round((rgba[at + channel]! * 255) / alpha));
  }
  return rgba;
}

/**
 * SVG stretched to this size. It is drawn as an image in the corner of a sheet twice as large, because resvg 2.6.2 stops ("unreachable") where
 * a clipped group reaches far over the sheet's edges and has an isolated group in it; drawings with sun rays do.
 */
async function svgImage(bytes: Buffer, widthPx: number, heightPx: number, root: string): Promise<Image> {
  await startResvg(root);
  const font = { loadSystemFonts: false };
  // Says what is wrong; an image inside a sheet would just stay empty.
  new Resvg(bytes, { font }).free();
  const sheet = `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="${2 * widthPx}" height="${2 * heightPx}"><image width="${widthPx}" height="${heightPx}" preserveAspectRatio="none" xlink:href="data:image/svg+xml;base64,${bytes.toString('base64')}"/></svg>`;
  const drawing = new Resvg(sheet, { font, crop: { left: 0, top: 0, right: widthPx, bottom: heightPx } });
  const rendered = drawing.render();
  const image = { widthPx: rendered.width, heightPx: rendered.height, rgba: unmultiplied(rendered.pixels) };
  rendered.free();
  drawing.free();
  return image;
}

/** @throws if the bytes are no PNG, or too many pixels */
export function pngImage(bytes: Buffer): Image {
  // pngjs would take any size.
  const size = imageSize(bytes);
  if (size && size.widthPx * size.heightPx > mostImagePixels)
    throw new Error(`more than ${mostImagePixels / 1e6} million pixels`);
  const { width, height, data } = PNG.sync.read(bytes);
  return { widthPx: width, heightPx: height, rgba: data };
}

/** @throws if the bytes are no JPEG, or too many pixels */
export function jpegImage(bytes: Buffer): Image {
  const { width, height, data } = jpeg.decode(bytes, {
    useTArray: true,
    formatAsRGBA: true,
    maxResolutionInMP: mostImagePixels / 1e6,
    maxMemoryUsageInMB: 2048,
  });
  return { widthPx: width, heightPx: height, rgba: data };
}

/**
 * Pixels of one of the panel's pictures; undefined where it has none. Drawings come out at the given size, pictures at their own. `root` is the
 * folder that holds node_modules.
 */
export async function readPicture(
  { panel }: Pick<Project, 'panel'>,
  key: PictureKey,
  widthPx: number,
  heightPx: number,
  root: string,
): Promise<Result<Image | undefined>> {
  const picture = panel[key];
  if (!picture) return ok(undefined);
  const { mediaType, base64 } = picture;
  const bytes = Buffer.from(base64, 'base64');
  try {
    if (mediaType === 'image/svg+xml') return ok(await svgImage(bytes, widthPx, heightPx, root));
    return ok(mediaType === 'image/png' ? pngImage(bytes) : jpegImage(bytes));
  } catch (error) {
    return failed([unreadable(key, mediaType, `data that is none (${reasonOf(error)})`)]);
  }
}

/** Whether an SVG holds text, which is left out of the picture. */
export const hasSvgText = ({ mediaType, base64 }: PanelImage): boolean =>
  mediaType === 'image/svg+xml' && /<(\w+:)?text[\s>]/.test(Buffer.from(base64, 'base64').toString('utf8'));
