// What is measured: same sources and plugins as everything else, other files. Nothing here is asserted; machines are shared and noisy.
import { mergeConfig } from 'vite';
import base from '../../vite.config.ts';

const config = mergeConfig(base, {});
config.test = {
  ...config.test,
  include: ['test/bench/*.bench.ts'],
  exclude: [],
  fileParallelism: false,
  reporters: ['dot'],
};
export default config;
