// npm run bench: prints speeds as medians and ratios, and on which machine.
// npm run bench -- player|plan|power-plan|page|drag|edit|preview|profile runs one part alone; `profile`, which says where the page's time goes, runs only when asked for.
import { spawnSync } from 'node:child_process';
import { cpus, loadavg, release } from 'node:os';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));
/** File names by part. */
const parts = {
  player: ['calibrate.bench.ts', 'speeds.bench.ts'],
  page: ['page.bench.ts'],
  plan: ['plan.bench.ts'],
  'power-plan': ['power-plan.bench.ts'],
  drag: ['drag.bench.ts'],
  edit: ['edit.bench.ts'],
  preview: ['preview.bench.ts'],
  profile: ['page-profile.bench.ts'],
};
const usual = ['player', 'plan', 'power-plan', 'page', 'drag', 'edit', 'preview'];

function run(part) {
  const { status } = spawnSync(
    'node_modules/.bin/vitest',
    [
      'run',
      // Files first: an option before them would take the first file for its value.
      ...parts[part].map((name) => `test/bench/${name}`),
      '--config',
      'test/bench/vite.config.ts',
      '--silent=false',
      '--disable-console-intercept',
    ],
    { cwd: root, stdio: 'inherit' },
  );
  return status ?? 1;
}

const wished = process.argv.slice(2);
const unknown = wished.filter((part) => !Object.hasOwn(parts, part));
if (unknown.length > 0) {
  console.error(`Expected one of ${Object.keys(parts).join(', ')}, found ${unknown.join(', ')}.`);
  process.exitCode = 2;
} else {
  const [cpu] = cpus();
  console.log(
    `${cpu?.model ?? 'unknown processor'}, ${cpus().length} cores, load ${loadavg()[0]?.toFixed(2)}, Linux ${release()}, Node ${process.version}`,
  );
  for (const part of wished.length > 0 ? wished : usual) process.exitCode = run(part) || process.exitCode;
  console.log(`Load at the end ${loadavg()[0]?.toFixed(2)}`);
}
