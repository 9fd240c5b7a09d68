// Starts the command line. Node 20 runs no TypeScript, so the sources are bundled once into .cache, under a name made from their content:
// calls made side by side on a fresh clone build each for themselves, and whoever is first puts the finished bundle in place.
import { createHash, randomBytes } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';

const root = fileURLToPath(new URL('../../', import.meta.url));
const cache = join(root, '.cache', 'cli');
const entry = 'lamploom.mjs';

function* filesBelow(folder) {
  for (const item of readdirSync(join(root, folder), { withFileTypes: true })) {
    const path = `${folder}/${item.name}`;
    if (item.isDirectory()) yield* filesBelow(path);
    else yield path;
  }
}

/** A name for what the bundle is made from. The page's own files don't belong to it. */
function sourceHash() {
  const hash = createHash('sha256');
  const files = [...filesBelow('src')].filter((path) => !path.startsWith('src/app/')).sort();
  for (const path of [...files, 'vite.config.ts', 'package-lock.json'])
    hash
      .update(path)
      .update('\0')
      .update(readFileSync(join(root, path)));
  return hash.digest('hex').slice(0, 24);
}

async function bundleInto(folder) {
  const { build } = await import('vite');
  await build({
    root,
    logLevel: 'warn',
    publicDir: false,
    ssr: { noExternal: true },
    build: {
      ssr: 'src/cli/main.ts',
      outDir: folder,
      emptyOutDir: false,
      copyPublicDir: false,
      minify: false,
      rolldownOptions: { output: { entryFileNames: entry, codeSplitting: false } },
    },
  });
}

/** Path of the bundle, built first if need be. */
export async function commandLineBundle() {
  const folder = join(cache, sourceHash());
  const file = join(folder, entry);
  if (existsSync(file)) return file;
  mkdirSync(cache, { recursive: true });
  const own = join(cache, `building-${process.pid}-${randomBytes(6).toString('hex')}`);
  try {
    await bundleInto(own);
    renameSync(own, folder);
  } catch (error) {
    // Another call was first: a folder with the same name holds the same bundle.
    if (!existsSync(file)) throw error;
  } finally {
    rmSync(own, { recursive: true, force: true });
  }
  return file;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const { main } = await import(pathToFileURL(await commandLineBundle()).href);
  process.exitCode = await main(process.argv.slice(2), root);
}
