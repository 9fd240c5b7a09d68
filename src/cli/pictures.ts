// Pictures for the paint command: a PNG, a JPEG, an animated GIF, or a folder of PNGs, told by what the files hold. One picture is in memory at a time.
// Not here: what becomes of them (src/lampshow/sampling.ts). A JPEG's EXIF orientation is not followed; of an animated PNG only the still picture is read.
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { gifPictures, type TimedPicture } from '../lampshow/gif.ts';
import { type CellGrid, cellLight, type Picture, type SampledFrame, stillHoldMs } from '../lampshow/index.ts';
import { excerpt } from '../project/index.ts';
import { jpegImage, pngImage, reasonOf } from './artwork.ts';
import { UnusableInput, unusable } from './console.ts';

/** A camera's largest pictures have a quarter of it. */
const mostFileBytes = 256 * 1024 * 1024;
const mostFiles = 5000;
export const usualFrameMs = 100;

const unreadable = (path: string, expected: string, found: string, mend: string): never =>
  unusable({ code: 'picture-unreadable', at: path, expected, found, mend });

const formats: readonly {
  readonly begins: readonly number[];
  readonly read: (bytes: Buffer) => Iterable<TimedPicture>;
}[] = [
  { begins: [0x89, 0x50, 0x4e, 0x47], read: (bytes) => [still(pngImage(bytes))] },
  { begins: [0xff, 0xd8, 0xff], read: (bytes) => [still(jpegImage(bytes))] },
  { begins: [0x47, 0x49, 0x46, 0x38], read: gifPictures },
];

const still = (picture: Picture): TimedPicture => ({ picture, holdMs: stillHoldMs });

function readBytes(path: string): Buffer {
  try {
    if (statSync(path).size > mostFileBytes)
      unreadable(path, 'a picture of at most 256 MiB', 'a larger file', 'Take a smaller picture.');
    return readFileSync(path);
  } catch (error) {
    if (error instanceof UnusableInput) throw error;
    return unreadable(path, 'a readable picture', `a file that can't be read`, 'Check the path.');
  }
}

/** The frames of one picture file. */
function sampledFile(path: string, grid: CellGrid): SampledFrame[] {
  const bytes = readBytes(path);
  const format = formats.find(({ begins }) => begins.every((byte, i) => bytes[i] === byte));
  if (!format) return unreadable(path, 'a PNG, JPEG or GIF', 'something else', 'Convert the picture.');
  try {
    return Array.from(format.read(bytes), ({ picture, holdMs }) => ({
      light: cellLight(picture, grid),
      holdMs,
    }));
  } catch (error) {
    const found = `data that can't be unpacked (${reasonOf(error)})`;
    return unreadable(path, 'a whole picture', found, 'Save the picture again, or make it smaller.');
  }
}

function pngsOf(folder: string): string[] {
  const names = readdirSync(folder)
    .filter((name) => /\.png$/i.test(name))
    .sort();
  if (names.length === 0)
    unreadable(folder, 'PNG files in the folder', 'none', 'Put the frames there as PNG files.');
  if (names.length > mostFiles)
    unreadable(folder, `at most ${mostFiles} PNG files`, `${names.length}`, 'Take fewer frames.');
  return names.map((name) => join(folder, name));
}

function isFolder(path: string): boolean {
  try {
    return statSync(path).isDirectory();
  } catch {
    return unreadable(path, 'a picture, or a folder of PNG files', 'no such file', 'Check the path.');
  }
}

/**
 * Reads pictures and brings each down to the grid's cells. Files of a folder come in the order of their names' characters.
 * @param frameMs how long each file of a folder is held; undefined where none was asked for
 */
export function sampledPictures(path: string, grid: CellGrid, frameMs: number | undefined): SampledFrame[] {
  if (isFolder(path))
    return pngsOf(path).flatMap((file) =>
      sampledFile(file, grid).map(({ light }) => ({ light, holdMs: frameMs ?? usualFrameMs })),
    );
  if (frameMs !== undefined)
    unusable({
      code: 'bad-option',
      at: '--frame-ms',
      expected: 'a folder of pictures beside it',
      found: excerpt(path),
      mend: 'Leave it away: a GIF brings its own times.',
    });
  return sampledFile(path, grid);
}
