// Builds the page (build-once.mjs) and serves it on this computer only.
// Not here: what the page may load and run; vite.config.ts says so in the headers it gives the preview server.
import { parseArgs } from 'node:util';
import { build, preview } from 'vite';
import { builtOnce, root } from './build-once.mjs';

const host = '127.0.0.1';
const usualPort = 4173;
const sources = {
  folders: ['src', 'firmware-templates', 'samples'],
  files: ['index.html', 'vite.config.ts', 'package-lock.json'],
};

/** Folder of the built page. */
const pageFolder = () =>
  builtOnce('page', sources, (folder) =>
    build({ root, logLevel: 'warn', build: { outDir: folder, emptyOutDir: false } }),
  );

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
