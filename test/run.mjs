// npm test: installs what it lacks, then runs everything, one step after the other, and says at the end how many tests passed.
// Where it may not install (not root, no apt), it says what is missing and how to get it, and fails.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const results = join(root, '.cache', 'test-results');

/** What the tests need besides Node and npm: a program on PATH or a file, and the Debian package that brings it. */
const needs = [
  { program: 'avr-g++', package: 'gcc-avr' },
  { program: 'avr-objcopy', package: 'binutils-avr' },
  { file: '/usr/lib/avr/include/avr/io.h', package: 'avr-libc' },
  { program: 'arduino-builder', package: 'arduino-builder' },
  { file: '/usr/share/arduino/hardware/arduino/avr/boards.txt', package: 'arduino-core-avr' },
  { file: '/usr/include/simavr/sim_avr.h', package: 'libsimavr-dev' },
  { file: '/usr/include/libelf.h', package: 'libelf-dev' },
  { program: 'g++', package: 'g++' },
  { program: 'clang', package: 'clang' },
  { program: 'wasm-ld', package: 'lld' },
  { program: process.env.CHROMIUM ?? 'chromium', package: 'chromium' },
  { program: 'ngspice', package: 'ngspice' },
  { program: 'pdftotext', package: 'poppler-utils' },
  { file: '/usr/lib/python3/dist-packages/ezdxf/__init__.py', package: 'python3-ezdxf' },
];

const onPath = (program) =>
  (process.env.PATH ?? '').split(delimiter).some((folder) => existsSync(join(folder, program))) ||
  existsSync(program);
const missing = () => needs.filter((need) => !(need.program ? onPath(need.program) : existsSync(need.file)));

function run(command, args, env = {}) {
  return (
    spawnSync(command, args, { cwd: root, stdio: 'inherit', env: { ...process.env, ...env } }).status ?? 1
  );
}

function installMissing() {
  const packages = [...new Set(missing().map((need) => need.package))];
  if (packages.length === 0) return true;
  const byHand = `apt-get update && apt-get install -y ${packages.join(' ')}`;
  if (!onPath('apt-get') || process.getuid?.() !== 0) {
    console.error(
      `The tests need these Debian packages: ${packages.join(', ')}\nInstall them as root, then run npm test again:\n  ${byHand}`,
    );
    return false;
  }
  console.log(`Installing ${packages.join(', ')}`);
  const apt = { DEBIAN_FRONTEND: 'noninteractive' };
  const quiet = ['-qq', '-o', 'Dpkg::Use-Pty=0'];
  run('apt-get', ['update', ...quiet], apt);
  run('apt-get', ['install', '-y', '--no-install-recommends', ...quiet, ...packages], apt);
  const still = missing();
  for (const need of still)
    console.error(`Still missing after installing ${need.package}: ${need.program ?? need.file}`);
  return still.length === 0;
}

const bin = (name) => join(root, 'node_modules', '.bin', name);
const unitReport = join(results, 'unit.json');
const browserReport = join(results, 'browser.json');

const steps = [
  { name: 'Types', run: () => run(bin('tsc'), ['-p', '.']) },
  { name: 'Format and lint', run: () => run(bin('biome'), ['check', '--error-on-warnings', '.']) },
  {
    name: 'Prebuilt player is what its sources give',
    run: () => run('node', ['firmware-templates/build.mjs', '--check']),
  },
  {
    name: 'Unit, property and board emulation',
    run: () =>
      run(bin('vitest'), ['run', '--reporter=default', '--reporter=json', `--outputFile.json=${unitReport}`]),
  },
  {
    name: 'Browser',
    run: () =>
      run(bin('playwright'), ['test', '-c', 'test/browser/playwright.config.ts', '--reporter=line,json'], {
        PLAYWRIGHT_JSON_OUTPUT_NAME: browserReport,
      }),
  },
];

const read = (path) => (existsSync(path) ? JSON.parse(readFileSync(path, 'utf8')) : undefined);

/** Passed and failed over both runners. */
function counts() {
  const unit = read(unitReport);
  const browser = read(browserReport)?.stats;
  return {
    passed: (unit?.numPassedTests ?? 0) + (browser?.expected ?? 0),
    failed: (unit?.numFailedTests ?? 0) + (browser?.unexpected ?? 0),
  };
}

function main() {
  if (!installMissing()) return 1;
  rmSync(results, { recursive: true, force: true });
  mkdirSync(results, { recursive: true });
  const failedSteps = [];
  for (const [index, step] of steps.entries()) {
    console.log(`\n[${index + 1}/${steps.length}] ${step.name}`);
    const started = performance.now();
    if (step.run() !== 0) failedSteps.push(step.name);
    console.log(`    ${((performance.now() - started) / 1000).toFixed(1)} s`);
  }
  const { passed, failed } = counts();
  if (failedSteps.length > 0) console.error(`\nFailed: ${failedSteps.join('; ')}`);
  if (passed === 0) console.error('\nNo test ran.');
  console.log(`\n${passed} passed, ${Math.max(failed, failedSteps.length)} failed`);
  return failedSteps.length === 0 && passed > 0 ? 0 : 1;
}

process.exitCode = main();
