// npm run bench: prints speeds as medians and ratios, and on which machine.
import { spawnSync } from 'node:child_process';
import { cpus, loadavg, release } from 'node:os';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));
const [cpu] = cpus();
console.log(
  `${cpu?.model ?? 'unknown processor'}, ${cpus().length} cores, load ${loadavg()[0]?.toFixed(2)}, Linux ${release()}, Node ${process.version}`,
);
const { status } = spawnSync(
  'node_modules/.bin/vitest',
  ['run', '--config', 'test/bench/vite.config.ts', '--silent=false', '--disable-console-intercept'],
  {
    cwd: root,
    stdio: 'inherit',
  },
);
process.exitCode = status ?? 1;
