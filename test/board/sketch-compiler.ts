// Compiles firmware for the board tests: whole sketches with Debian's Arduino builder, bare programs with avr-g++.
// Not here: running what comes out. A sketch that does not compile is a result; a missing tool is an Error.
// The compiled Arduino core is kept in the cache folder, so that only the first sketch of a board type is slow.
import { createHash } from 'node:crypto';
import { mkdir, readFile, rename, rm } from 'node:fs/promises';
import { basename, dirname, join, relative, resolve } from 'node:path';
import {
  cacheFolder,
  findTool,
  isReadable,
  missingPackageError,
  runTool,
  type ToolRun,
  withTemporaryFolder,
} from './tools.ts';

/** Small ATmega328P board with the older start-up program (57,600 baud). */
const DEFAULT_FQBN = 'arduino:avr:nano:cpu=atmega328old';
/** Where Debian puts the Arduino core and the builder's platform file; both can be elsewhere. */
const ARDUINO_FOLDER = process.env['LAMPLOOM_ARDUINO'] ?? '/usr/share/arduino';
const BUILDER_FOLDER = process.env['LAMPLOOM_ARDUINO_BUILDER'] ?? '/usr/share/arduino-builder';

export interface Compiled {
  readonly ok: true;
  readonly hexText: string;
  /** Compiler warnings about the sketch's own files, the paths relative to the sketch folder. */
  readonly warningsFromSketch: readonly string[];
  /** Code, constants and initial values. */
  readonly flashBytes: number;
  /** Static data only: neither stack nor heap. */
  readonly sramBytes: number;
  readonly log: string;
}

export interface NotCompiled {
  readonly ok: false;
  /** Error lines of the compiler, linker or builder. */
  readonly errors: readonly string[];
  readonly warningsFromSketch: readonly string[];
  readonly log: string;
}

export type CompileResult = Compiled | NotCompiled;

const lineAsText = (line: string): string => line.trim();

/** A compiler message opens with its file: "path:line:column: warning: text". */
function warningsOfFolders(log: string, folders: readonly string[]): string[] {
  const warnings = new Set<string>();
  for (const line of log.split('\n')) {
    const [, path, rest] = /^(.+?)(:\d+(?::\d+)?: warning: .*)$/.exec(line) ?? [];
    if (path === undefined || rest === undefined) continue;
    const folder = folders.find((candidate) => path.startsWith(`${candidate}/`));
    // The builder may compile a file twice (finding its libraries first), so a message can stand there twice.
    if (folder !== undefined) warnings.add(lineAsText(relative(folder, path) + rest));
  }
  return [...warnings];
}

function errorLines(log: string): string[] {
  const errors = log
    .split('\n')
    .filter((line) => /error:|undefined reference|will not fit|overflowed/.test(line));
  return errors.length > 0 ? errors.map(lineAsText) : [log.trim()];
}

async function sectionSizes(elfPath: string): Promise<{ flashBytes: number; sramBytes: number }> {
  const { exitCode, stdout, stderr } = await runTool('avr-size', ['-A', elfPath]);
  if (exitCode !== 0) throw new Error(`avr-size failed: ${stderr}`);
  const sizes = new Map<string, number>();
  for (const [, name, size] of stdout.matchAll(/^(\.\w+)\s+(\d+)/gm)) sizes.set(name ?? '', Number(size));
  const total = (names: readonly string[]) => names.reduce((sum, name) => sum + (sizes.get(name) ?? 0), 0);
  return { flashBytes: total(['.text', '.data']), sramBytes: total(['.data', '.bss', '.noinit']) };
}

export interface SketchOptions {
  readonly fqbn?: string;
}

/** Compiles the sketch in a folder whose main file bears the folder's name. */
export async function compileSketch(
  sketchFolder: string,
  options: SketchOptions = {},
): Promise<CompileResult> {
  const folder = resolve(sketchFolder);
  const fqbn = options.fqbn ?? DEFAULT_FQBN;
  if (!(await isReadable(join(ARDUINO_FOLDER, 'hardware/arduino/avr/boards.txt')))) {
    throw missingPackageError(`The Arduino core in ${ARDUINO_FOLDER}`, 'arduino-core-avr');
  }
  return withTemporaryFolder(async (temporary) => {
    const buildFolder = join(temporary, 'build');
    const name = `${basename(folder)}.ino`;
    const run = await withCoreCache(fqbn, temporary, async (coreFolder) =>
      runTool(
        'arduino-builder',
        await builderArguments(fqbn, temporary, buildFolder, coreFolder, join(folder, name)),
      ),
    );
    const log = run.stdout + run.stderr;
    // Headers are compiled from the builder's copy, the main file under its own name.
    const warningsFromSketch = warningsOfFolders(log, [folder, join(buildFolder, 'sketch')]);
    if (run.exitCode !== 0) return { ok: false, errors: errorLines(log), warningsFromSketch, log };
    const hexText = await readFile(join(buildFolder, `${name}.hex`), 'utf8');
    const sizes = await sectionSizes(join(buildFolder, `${name}.elf`));
    return { ok: true, hexText, warningsFromSketch, ...sizes, log };
  });
}

async function builderArguments(
  fqbn: string,
  temporary: string,
  buildFolder: string,
  coreFolder: string,
  sketchPath: string,
): Promise<string[]> {
  const toolsFolder = join(temporary, 'tools');
  await mkdir(toolsFolder, { recursive: true });
  await mkdir(buildFolder, { recursive: true });
  // The builder wants the folder above bin/.
  const compilerFolder = dirname(dirname(await findTool('avr-g++')));
  const preferences = [
    `runtime.tools.avr-gcc.path=${compilerFolder}`,
    `tools.ctags.cmd.path=${await findTool('arduino-ctags')}`,
    // The packaged core's WString.cpp uses a macro that avr-libc 2.0 does not define for C++11.
    'compiler.cpp.extra_flags=-DDECIMAL_DIG=17',
  ];
  return [
    '-compile',
    ...['-hardware', BUILDER_FOLDER, '-hardware', join(ARDUINO_FOLDER, 'hardware')],
    ...['-tools', toolsFolder, '-fqbn', fqbn, '-warnings', 'all'],
    ...preferences.flatMap((preference) => ['-prefs', preference]),
    ...['-build-cache', coreFolder, '-build-path', buildFolder, sketchPath],
  ];
}

/**
 * Runs the builder with the board type's folder of compiled core. The builder writes that folder file by file, so the
 * first run fills one of its own and renames it into place: side by side, no run ever reads half a core.
 */
async function withCoreCache(
  fqbn: string,
  temporary: string,
  build: (coreFolder: string) => Promise<ToolRun>,
): Promise<ToolRun> {
  const key = createHash('sha256').update(`${fqbn} ${ARDUINO_FOLDER} DECIMAL_DIG`).digest('hex').slice(0, 16);
  const shared = join(await cacheFolder(), `arduino-core-${key}`);
  if (await isReadable(shared)) return build(shared);
  // Beside the shared folder, not in the temporary one: a rename does not cross file systems.
  const own = `${shared}.${basename(temporary)}`;
  await mkdir(own, { recursive: true });
  try {
    const run = await build(own);
    if (run.exitCode === 0) await rename(own, shared).catch(ignoreLostRace);
    return run;
  } finally {
    await rm(own, { recursive: true, force: true });
  }
}

/** Another run was first, and its folder holds the same. */
function ignoreLostRace(error: NodeJS.ErrnoException): void {
  if (error.code !== 'ENOTEMPTY' && error.code !== 'EEXIST') throw error;
}

export interface BareOptions {
  readonly mcu?: string;
  /** A value of true defines the name alone. */
  readonly defines?: Readonly<Record<string, string | number | true>>;
  /** Include folders. */
  readonly includes?: readonly string[];
  /** Further compiler flags, such as -nostartfiles. */
  readonly flags?: readonly string[];
  /** Keep the .elf file here. */
  readonly out?: string;
}

/** Compiles and links C++ (.cpp; .c is taken as C++) and assembler (.S) sources without the Arduino core. */
export async function compileAvr(
  sources: readonly string[],
  options: BareOptions = {},
): Promise<CompileResult> {
  const { mcu = 'atmega328p', defines = {}, includes = [], flags = [] } = options;
  const paths = sources.map((source) => resolve(source));
  return withTemporaryFolder(async (temporary) => {
    const elfPath = options.out ?? join(temporary, 'program.elf');
    const definitions = Object.entries(defines).map(([name, value]) =>
      value === true ? `-D${name}` : `-D${name}=${value}`,
    );
    const run = await runTool('avr-g++', [
      ...[`-mmcu=${mcu}`, '-DF_CPU=16000000L', '-std=gnu++11', '-Os', '-Wall', '-Wextra'],
      ...[
        '-ffunction-sections',
        '-fdata-sections',
        '-fno-exceptions',
        '-fno-threadsafe-statics',
        '-Wl,--gc-sections',
      ],
      ...flags,
      ...definitions,
      ...includes.map((folder) => `-I${folder}`),
      ...[...paths, '-o', elfPath],
    ]);
    const log = run.stdout + run.stderr;
    const warningsFromSketch = warningsOfFolders(log, [
      ...new Set([...paths.map((p) => dirname(p)), ...includes]),
    ]);
    if (run.exitCode !== 0) return { ok: false, errors: errorLines(log), warningsFromSketch, log };
    const hexPath = join(temporary, 'program.hex');
    const copy = await runTool('avr-objcopy', ['-O', 'ihex', '-R', '.eeprom', elfPath, hexPath]);
    if (copy.exitCode !== 0) throw new Error(`avr-objcopy failed: ${copy.stderr}`);
    const hexText = await readFile(hexPath, 'utf8');
    return { ok: true, hexText, warningsFromSketch, ...(await sectionSizes(elfPath)), log };
  });
}

/** For tests that need the program: its errors become the test's failure. */
export function mustCompile(result: CompileResult): Compiled {
  if (!result.ok) throw new Error(`Does not compile:\n${result.errors.join('\n')}`);
  return result;
}
