// Starts the command line. Node 20 runs no TypeScript, so the sources are bundled, once for each state of them (build-once.mjs).
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { builtOnce, root } from './build-once.mjs';

const entry = 'lamploom.mjs';
/** All layers but the page. */
const layers = readdirSync(join(root, 'src')).filter((layer) => layer !== 'app');
const sources = {
  folders: layers.map((layer) => `src/${layer}`),
  files: ['vite.config.ts', 'package-lock.json'],
};

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
      rolldownOptions: {
        output: { entryFileNames: entry, codeSplitting: false },
        // Hints about slow plugins on a busy machine have no place among a command's complaints.
        checks: { pluginTimings: false },
      },
    },
  });
}

/** Path of the bundle, built first if need be. */
const commandLineBundle = async () => join(await builtOnce('cli', sources, bundleInto), entry);

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  process.stdout.on('error', (error) => {
    if (error.code !== 'EPIPE') throw error;
    // Whoever reads has heard enough, as `head` has after its lines; that is no fault.
    process.exit();
  });
  const { main } = await import(pathToFileURL(await commandLineBundle()).href);
  process.exitCode = await main(process.argv.slice(2), root);
}
