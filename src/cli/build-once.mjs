// Builds something from the sources once, into .cache, under a name made from their content, so that it is never stale. Calls made side by side
// on a fresh clone build each for themselves, and whoever is first puts the finished folder in place.
import { createHash, randomBytes } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = fileURLToPath(new URL('../../', import.meta.url));

function* filesBelow(folder) {
  for (const item of readdirSync(join(root, folder), { withFileTypes: true })) {
    const path = `${folder}/${item.name}`;
    if (item.isDirectory()) yield* filesBelow(path);
    else yield path;
  }
}

function sourceHash(folders, files) {
  const hash = createHash('sha256');
  for (const path of [...folders.flatMap((folder) => [...filesBelow(folder)]).sort(), ...files])
    hash
      .update(path)
      .update('\0')
      .update(readFileSync(join(root, path)));
  return hash.digest('hex').slice(0, 24);
}

/**
 * Folder with what `buildInto(folder)` makes from these sources, built first if need be.
 * @param name subfolder of .cache
 */
export async function builtOnce(name, { folders, files }, buildInto) {
  const cache = join(root, '.cache', name);
  const folder = join(cache, sourceHash(folders, files));
  if (existsSync(folder)) return folder;
  mkdirSync(cache, { recursive: true });
  const own = join(cache, `building-${process.pid}-${randomBytes(6).toString('hex')}`);
  try {
    await buildInto(own);
    renameSync(own, folder);
  } catch (error) {
    // Another call was first: a folder with the same name holds the same.
    if (!existsSync(folder)) throw error;
  } finally {
    rmSync(own, { recursive: true, force: true });
  }
  return folder;
}
