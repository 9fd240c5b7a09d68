// Builds the ready-to-flash program as firmware-templates/build.mjs does and prints, as JSON, how large it and its parts are, and with which compiler.
// Not here: comparing (sizes.test.ts), the depth that the stack really reaches (there too).
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { avrFlags } from '../../firmware-templates/build.mjs';

const templates = fileURLToPath(new URL('../../firmware-templates/', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'lamploom-sizes-'));
const run = (tool, args) =>
  execFileSync(tool, args, { cwd: folder, encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });

/** A function's own name: no name space, arguments, or what the linker adds. */
const plainName = (name) =>
  name
    .replace(/ \[clone.*$/, '')
    .replace(/\(.*$/, '')
    .replace(/^lamploom::/, '')
    .replace(/^_ZN8lamploomL\d+(\w+)E\..*$/, '$1');

try {
  const show = ['-DLAMPLOOM_SHOW_DATA_AT=0x3f00', `-I${join(templates, 'player')}`];
  // The link step leaves its stack figures only where its own files are kept.
  const kept = ['-save-temps', '-fstack-usage', '-w'];
  run('avr-g++', [
    ...avrFlags('atmega328p'),
    ...kept,
    ...show,
    join(templates, 'prebuilt/main.cpp'),
    '-o',
    'program.elf',
  ]);

  const functions = {};
  const variables = {};
  const places = new Map();
  for (const line of run('avr-nm', ['-C', '-S', 'program.elf']).split('\n')) {
    const [, at, size, type, name] = /^(\w{8}) (?:(\w{8}) )?(\w) (.*)$/.exec(line) ?? [];
    if (name === undefined) continue;
    places.set(name, Number.parseInt(at, 16));
    if (size === undefined) continue;
    const rows = /[tT]/.test(type) ? functions : /[bBdD]/.test(type) ? variables : {};
    const own = plainName(name);
    rows[own] = (rows[own] ?? 0) + Number.parseInt(size, 16);
  }

  const frames = {};
  for (const file of readdirSync(folder).filter((name) => name.endsWith('.su')))
    for (const line of readFileSync(join(folder, file), 'utf8').split('\n')) {
      const [, name, bytes] = /^\S+:\d+:\d+:(\w+)\S*\t(\d+)\t/.exec(line) ?? [];
      if (name !== undefined) frames[name] = Math.max(frames[name] ?? 0, Number(bytes));
    }

  const byName = (rows) => Object.fromEntries(Object.entries(rows).sort(([a], [b]) => (a < b ? -1 : 1)));
  const sramStart = 0x80_0100;
  console.log(
    JSON.stringify({
      compiler: run('avr-g++', ['--version']).split('\n')[0].trim(),
      flashBytes: places.get('__data_load_end'),
      sramBytes: places.get('__heap_start') - sramStart,
      quietSramBytes: places.get('__noinit_start') - sramStart,
      functionBytes: byName(functions),
      variableBytes: byName(variables),
      frameBytes: byName(frames),
    }),
  );
} finally {
  rmSync(folder, { recursive: true, force: true });
}
