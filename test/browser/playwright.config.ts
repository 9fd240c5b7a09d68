// Browser tests: the built page as `npm start` serves it, in the system's Chromium; no browser is ever downloaded.
// CHROMIUM names another browser, LAMPLOOM_PAGE_PORT another port (two runs side by side need two).
import { fileURLToPath } from 'node:url';
import { defineConfig } from '@playwright/test';
import { pagePort } from './page.ts';

export default defineConfig({
  testDir: '.',
  testMatch: '*.spec.ts',
  outputDir: '../../test-results',
  workers: 1,
  forbidOnly: true,
  reporter: 'line',
  timeout: 90_000,
  expect: { timeout: 15_000 },
  use: {
    baseURL: `http://127.0.0.1:${pagePort}/`,
    viewport: { width: 1440, height: 900 },
    launchOptions: {
      executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium',
      args: [
        '--no-sandbox',
        '--disable-gpu',
        '--disable-dev-shm-usage',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
        '--no-first-run',
      ],
    },
  },
  webServer: {
    command: `node src/cli/serve.mjs --port ${pagePort}`,
    cwd: fileURLToPath(new URL('../../', import.meta.url)),
    url: `http://127.0.0.1:${pagePort}/`,
    reuseExistingServer: false,
    gracefulShutdown: { signal: 'SIGTERM', timeout: 2000 },
  },
});
