// npm run soak: the random campaigns with many seeds, then the long runs once, for an idle hour. Writes what it found to test/soak/results.md.
// `npm run soak -- 20` runs 20 seeds; the seed of a failing round reruns alone with LAMPLOOM_SEED=n npx vitest run test/player (or test/panel).
import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));
const rounds = Number(process.argv[2] ?? 12);
const firstSeed = Number(process.env.LAMPLOOM_SEED ?? Math.floor(Math.random() * 1e9));

/** What is run with each seed, and what is compared there. */
const campaigns = [
  ['native-equals-wasm', 'native, sanitized and checked players against WebAssembly'],
  ['avr-equals-wasm', 'the emulated board against WebAssembly'],
  ['spec-player', 'the player against a second one written from SPEC.md'],
  ['director', 'the director against its model'],
  ['events', 'native players against WebAssembly with game events'],
  ['malformed', 'malformed show data under sanitizers'],
  ['limiter', 'the limiter against its model, natively and on the emulated board'],
  [
    'panel/as-built',
    'what each LED place shows, whatever was soldered otherwise, against a model of solder and data',
  ],
  ['panel/fit', 'runs fitted to drawn channels against the known answers'],
  ['panel/chain-plan', 'planned chains against brute force; bounds'],
  ['panel/jumper-route', 'ways round keep-outs against an independent search'],
  ['panel/auto-layout', 'automatic runs inside their outlines'],
  ['panel/drawing-clean', 'cleaned drawings hold nothing that runs or reaches out'],
  ['project/edits-groups', 'edits of several runs there and back'],
];
/** Without a seed, so once: a day's frame numbers, every frame of an hour, ten minutes on the emulated chip. */
const longRun = [
  'long-run',
  'a day’s frame numbers, every frame of an hour, ten minutes on the emulated chip',
];

function run(campaign, environment) {
  const started = performance.now();
  const { status, stdout } = spawnSync(
    'node_modules/.bin/vitest',
    ['run', `test/${campaign.includes('/') ? campaign : `player/${campaign}`}.test.ts`, '--reporter=json'],
    { cwd: root, encoding: 'utf8', maxBuffer: 1 << 28, env: { ...process.env, ...environment } },
  );
  const { numPassedTests, numFailedTests } = JSON.parse(stdout.slice(stdout.indexOf('{"')));
  const seconds = (performance.now() - started) / 1000;
  console.log(
    `${campaign} ${Object.values(environment)[0]}: ${numPassedTests} passed, ${numFailedTests} failed, ${seconds.toFixed(0)} s`,
  );
  if (status !== 0) process.exitCode = 1;
  return { passed: numPassedTests, failed: numFailedTests, seconds };
}

const rows = new Map([...campaigns, longRun].map(([name]) => [name, []]));
for (let seed = firstSeed; seed < firstSeed + rounds; seed++)
  for (const [name] of campaigns)
    rows.get(name).push({ seed, ...run(name, { LAMPLOOM_SEED: String(seed) }) });
rows.get(longRun[0]).push(run(longRun[0], { LAMPLOOM_SOAK: '1' }));

const sum = (list, key) => list.reduce((total, one) => total + one[key], 0);
const seeds = rounds > 0 ? `${firstSeed} to ${firstSeed + rounds - 1}` : 'none';
writeFileSync(
  new URL('results.md', import.meta.url),
  [
    '# Last soak',
    '',
    `Written by \`npm run soak\`. Seeds ${seeds}. ${cpus()[0]?.model ?? 'Unknown processor'}, Node ${process.version}.`,
    '',
    '| campaign | what is compared | runs | tests passed | failed | seconds | failing seeds |',
    '|---|---|---|---|---|---|---|',
    ...[...campaigns, longRun].map(([name, what]) => {
      const list = rows.get(name);
      const failing = list.filter(({ failed }) => failed > 0).map(({ seed }) => seed ?? 'no seed');
      return `| ${name} | ${what} | ${list.length} | ${sum(list, 'passed')} | ${sum(list, 'failed')} | ${sum(list, 'seconds').toFixed(0)} | ${failing.join(', ') || 'none'} |`;
    }),
    '',
  ].join('\n'),
);
