// What is measured: same sources and plugins as everything else, other files. Nothing here is asserted; machines are shared and noisy.
import { defineConfig } from 'vitest/config';
import base from '../../vite.config.ts';

export default defineConfig({
  ...base,
  test: {
    ...base.test,
    include: ['test/bench/*.bench.ts'],
    exclude: [],
    fileParallelism: false,
    reporters: ['dot'],
  },
});
