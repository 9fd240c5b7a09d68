// node test/player/record-sizes.mjs: writes test/player/sizes.json anew, after the player was changed on purpose and built with npm run player.
// What is measured, and how, is sizes.test.ts's matter.
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const { status } = spawnSync('node_modules/.bin/vitest', ['run', 'test/player/sizes.test.ts'], {
  cwd: fileURLToPath(new URL('../..', import.meta.url)),
  stdio: 'inherit',
  env: { ...process.env, LAMPLOOM_RECORD_SIZES: '1' },
});
process.exitCode = status ?? 1;
