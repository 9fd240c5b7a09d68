// Builds the page and serves it on this computer only. Each state of the sources has a folder of its own in .cache, put in place whole, so
// that servers started side by side never see each other's half-written files.
// Not here: what the page may load and run; vite.config.ts says so in the headers it gives the preview server.
import { createHash, randomBytes } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { build, preview } from 'vite';

const root = fileURLToPath(new URL('../../', import.meta.url));
const cache = join(root, '.cache', 'page');
const host = '127.0.0.1';
const usualPort = 4173;
const madeFrom = ['src', 'firmware-templates', 'samples'];
const madeFromFiles = ['index.html', 'vite.config.ts', 'package-lock.json'];

function* filesBelow(folder) {
  for (const item of readdirSync(join(root, folder), { withFileTypes: true })) {
    const path = `${folder}/${item.name}`;
    if (item.isDirectory()) yield* filesBelow(path);
    else yield path;
  }
}

/** A name for what the page is made from. */
function sourceHash() {
  const hash = createHash('sha256');
  for (const path of [...madeFrom.flatMap((folder) => [...filesBelow(folder)]).sort(), ...madeFromFiles])
    hash
      .update(path)
      .update('\0')
      .update(readFileSync(join(root, path)));
  return hash.digest('hex').slice(0, 24);
}

/** Folder of the built page, built first if need be. */
async function pageFolder() {
  const folder = join(cache, sourceHash());
  if (existsSync(folder)) return folder;
  mkdirSync(cache, { recursive: true });
  const own = join(cache, `building-${process.pid}-${randomBytes(6).toString('hex')}`);
  try {
    await build({ root, logLevel: 'warn', build: { outDir: own, emptyOutDir: false } });
    renameSync(own, folder);
  } catch (error) {
    // Another server was first: a folder with the same name holds the same page.
    if (!existsSync(folder)) throw error;
  } finally {
    rmSync(own, { recursive: true, force: true });
  }
  return folder;
}

/** The wished port, or undefined where none is wished. Ends the process on an option that makes no sense. */
function wishedPort() {
  try {
    const { port } = parseArgs({ options: { port: { type: 'string' } } }).values;
    if (port === undefined) return undefined;
    if (/^\d{1,5}$/.test(port) && Number(port) >= 1 && Number(port) <= 65_535) return Number(port);
    console.error(`--port: expected a number from 1 to 65535, found ${JSON.stringify(port)}.`);
  } catch (error) {
    console.error(`${error.message} The only option is --port N.`);
  }
  process.exit(2);
}

const port = wishedPort();
try {
  const server = await preview({
    root,
    logLevel: 'error',
    build: { outDir: await pageFolder() },
    // Without a wish the next free port will do; a port that was asked for is taken or the start fails.
    preview: { host, port: port ?? usualPort, strictPort: port !== undefined, open: false },
  });
  console.log(`Lamploom is at http://${host}:${server.httpServer.address().port}/ (Ctrl+C ends it)`);
  for (const signal of ['SIGINT', 'SIGTERM'])
    process.once(signal, () => {
      server.httpServer.close();
      process.exit(0);
    });
} catch (error) {
  console.error(`The page could not be served: ${error.message}`);
  process.exitCode = 1;
}
