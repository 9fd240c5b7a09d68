// Bundles a module of this folder for the browser and opens a page with nothing else in it. No server is asked: the page never leaves the test.
import { join } from 'node:path';
import { expect, type Page } from '@playwright/test';
import { build } from 'vite';
import { root } from '../page.ts';

const address = 'http://127.0.0.1/light-page/';

/** WebGL2 without a graphics card. */
export const softwareCard = {
  executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium',
  args: [
    '--no-sandbox',
    '--disable-dev-shm-usage',
    '--use-angle=swiftshader',
    '--enable-unsafe-swiftshader',
    '--disable-background-networking',
    '--no-first-run',
  ],
};

export async function bundled(module: string): Promise<string> {
  const output = await build({
    root,
    configFile: join(root, 'vite.config.ts'),
    logLevel: 'error',
    publicDir: false,
    define: { 'process.env.NODE_ENV': '"production"' },
    build: {
      write: false,
      minify: false,
      lib: { entry: join(root, 'test/browser/light-page', module), formats: ['es'], fileName: 'page' },
    },
  });
  const [bundle] = Array.isArray(output) ? output : [output];
  if (!bundle || !('output' in bundle)) throw new Error('the bundler gave no bundle');
  const styles = bundle.output.flatMap((file) =>
    file.type === 'asset' && file.fileName.endsWith('.css') ? [`${file.source}`] : [],
  );
  const style = JSON.stringify(styles.join('\n'));
  return `const style = document.createElement('style');\nstyle.textContent = ${style};\ndocument.head.append(style);\n${bundle.output[0].code}`;
}

export async function openBundle(page: Page, script: string): Promise<void> {
  await page.route(`${address}**`, (route) =>
    route.request().url().endsWith('.js')
      ? route.fulfill({ contentType: 'text/javascript', body: script })
      : route.fulfill({
          contentType: 'text/html',
          body: '<!doctype html><title>Light</title><body><script type="module" src="page.js"></script>',
        }),
  );
  const errors: string[] = [];
  page.on('pageerror', (error) => errors.push(error.message));
  await page.goto(address, { waitUntil: 'load' });
  expect(errors).toEqual([]);
}
