// Builds what is committed under prebuilt/: the player as WebAssembly (clang) and as a ready-to-flash program (avr-gcc), and the manifest
// that says from which sources and with which compilers. `npm run player` writes them; `npm run player -- --check` builds to a temporary
// folder and tells whether the committed ones are up to date. Same compiler, same bytes; under another compiler only the sources' hashes
// are compared, and the tests' vectors decide.
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const here = fileURLToPath(new URL('.', import.meta.url));
const playerDir = join(here, 'player');
const prebuiltDir = join(here, 'prebuilt');

/** One row a prebuilt program. The two ATmega328P boards differ only in their start-up program, so they share one. */
const programs = [
  { file: 'atmega328p.hex', mcu: 'atmega328p', sramStart: 0x100 },
  { file: 'atmega32u4.hex', mcu: 'atmega32u4', sramStart: 0x100 },
  { file: 'atmega2560.hex', mcu: 'atmega2560', sramStart: 0x200 },
];
const pageBytes = 256;

export const avrFlags = (mcu) => [
  '-std=gnu++11',
  `-mmcu=${mcu}`,
  '-DF_CPU=16000000L',
  '-Os',
  '-flto',
  '-mrelax',
  '-mcall-prologues',
  '-mstrict-X',
  '-fno-move-loop-invariants',
  '-fno-tree-loop-im',
  '-ffunction-sections',
  '-fdata-sections',
  '-fno-exceptions',
  '-fno-threadsafe-statics',
  '-Wall',
  '-Wextra',
  '-Wl,--gc-sections',
  // The colour table lies on a page of its own; first, so that nothing is lost before it.
  '-DLAMPLOOM_ALIGNED',
  '-Wl,--sort-section=alignment',
];

function run(tool, args, packageName) {
  try {
    return execFileSync(tool, args, { encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });
  } catch (error) {
    if (error.code === 'ENOENT')
      throw new Error(`${tool} is missing: install the Debian package ${packageName}`);
    throw new Error(`${tool} failed:\n${error.stderr}`);
  }
}

const firstLine = (text) => text.split('\n')[0].trim();
const hashOf = (bytes) => createHash('sha256').update(bytes).digest('hex');

function compilers() {
  return {
    clang: firstLine(run('clang', ['--version'], 'clang')),
    avrGcc: firstLine(run('avr-g++', ['--version'], 'gcc-avr')),
  };
}

function sourceHashes() {
  const files = [
    ...readdirSync(playerDir)
      .filter((name) => /\.(h|cpp)$/.test(name))
      .map((name) => `player/${name}`),
    'prebuilt/main.cpp',
    'build.mjs',
  ].sort();
  return Object.fromEntries(files.map((file) => [file, hashOf(readFileSync(join(here, file)))]));
}

function buildWasm(dir) {
  run(
    'clang',
    [
      '--target=wasm32',
      '-nostdlib',
      '-std=c++11',
      '-O3',
      '-Wall',
      '-Wextra',
      `-I${playerDir}`,
      '-Wl,--no-entry',
      '-Wl,--strip-all',
      '-o',
      join(dir, 'player.wasm'),
      join(playerDir, 'host.cpp'),
    ],
    'clang and lld',
  );
}

/** Links once to learn the size, and again with the show data on the page behind it. */
function buildProgram(dir, { file, mcu, sramStart }) {
  const elf = join(dir, `${mcu}.elf`);
  const link = (showDataAt) => {
    run(
      'avr-g++',
      [
        ...avrFlags(mcu),
        `-DLAMPLOOM_SHOW_DATA_AT=${showDataAt}`,
        `-I${playerDir}`,
        join(prebuiltDir, 'main.cpp'),
        '-o',
        elf,
      ],
      'gcc-avr and avr-libc',
    );
    const symbols = new Map(
      run('avr-nm', [elf], 'binutils-avr')
        .split('\n')
        .map((line) => line.split(' '))
        .map(([at, , name]) => [name, Number.parseInt(at, 16)]),
    );
    const sramAt = (name) => symbols.get(name) - 0x800000;
    return {
      flashEnd: symbols.get('__data_load_end'),
      sramEnd: sramAt('__heap_start'),
      quietSramEnd: sramAt('__noinit_start'),
    };
  };
  const showDataAt = Math.ceil(link(0x2000).flashEnd / pageBytes) * pageBytes;
  const { flashEnd, sramEnd, quietSramEnd } = link(showDataAt);
  if (flashEnd > showDataAt)
    throw new Error(`${file}: the program ends at ${flashEnd}, behind its show data at ${showDataAt}`);
  run('avr-objcopy', ['-O', 'ihex', '-R', '.eeprom', elf, join(dir, file)], 'binutils-avr');
  rmSync(elf);
  return {
    file,
    mcu,
    showDataAt,
    programBytes: flashEnd,
    staticSramBytes: sramEnd - sramStart,
    quietSramBytes: quietSramEnd - sramStart,
  };
}

export function build(dir) {
  mkdirSync(dir, { recursive: true });
  buildWasm(dir);
  const built = programs.map((program) => buildProgram(dir, program));
  const outputs = Object.fromEntries(
    ['player.wasm', ...programs.map(({ file }) => file)].map((file) => [
      file,
      hashOf(readFileSync(join(dir, file))),
    ]),
  );
  const manifest = {
    _comment: 'Written by `npm run player`; do not edit.',
    compilers: compilers(),
    sources: sourceHashes(),
    outputs,
    programs: built,
  };
  writeFileSync(join(dir, 'manifest.json'), `${JSON.stringify(manifest, null, 2)}\n`);
  return manifest;
}

/** Lines that say what is stale; empty when the committed files are what the sources give. */
export function check() {
  const committed = JSON.parse(readFileSync(join(prebuiltDir, 'manifest.json'), 'utf8'));
  const faults = [];
  const sources = sourceHashes();
  for (const file of new Set([...Object.keys(sources), ...Object.keys(committed.sources)]))
    if (sources[file] !== committed.sources[file])
      faults.push(`${file} changed since the prebuilt files were made; run: npm run player`);
  for (const [file, hash] of Object.entries(committed.outputs))
    if (hashOf(readFileSync(join(prebuiltDir, file))) !== hash)
      faults.push(`prebuilt/${file} is not the file that the manifest names; run: npm run player`);
  const dir = mkdtempSync(join(tmpdir(), 'lamploom-player-'));
  try {
    const fresh = build(dir);
    const sameCompilers = JSON.stringify(fresh.compilers) === JSON.stringify(committed.compilers);
    if (sameCompilers)
      for (const [file, hash] of Object.entries(fresh.outputs))
        if (committed.outputs[file] !== hash)
          faults.push(`prebuilt/${file} differs from a fresh build; run: npm run player`);
    return { faults, sameCompilers };
  } finally {
    rmSync(dir, { recursive: true, force: true });
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  if (process.argv.includes('--check')) {
    const { faults, sameCompilers } = check();
    for (const fault of faults) console.error(fault);
    if (!sameCompilers) console.log('Other compilers than the manifest names: bytes not compared.');
    process.exitCode = faults.length > 0 ? 1 : 0;
    if (faults.length === 0) console.log('The prebuilt player is up to date.');
  } else {
    const manifest = build(prebuiltDir);
    for (const program of manifest.programs)
      console.log(
        `${program.file}: program ${program.programBytes} bytes, show data at ${program.showDataAt}, ${program.staticSramBytes} bytes of SRAM (${program.quietSramBytes} without inputs and events) and 3 for each LED`,
      );
  }
}
