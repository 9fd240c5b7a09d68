// Takes the guide's pictures with the browser and the server of the browser tests. Not a test: nothing is judged here but by whoever looks.
import { fileURLToPath } from 'node:url';
import { defineConfig } from '@playwright/test';
import browserTests from '../browser/playwright.config.ts';

export default defineConfig({
  ...browserTests,
  testDir: '.',
  testMatch: 'pictures.ts',
  outputDir: fileURLToPath(new URL('../../.cache/pictures', import.meta.url)),
  timeout: 120_000,
});
