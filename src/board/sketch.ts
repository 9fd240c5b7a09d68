// The exported sketch: the player's headers as they are, the show data as a C++ array, and a small main file filled in from a template.
import type { ShowData } from '../lampshow/index.ts';
import { builtLines } from '../panel/index.ts';
import type { Project } from '../project/index.ts';
import { isQuiet } from './budget.ts';
import type { FirmwareTemplates } from './templates.ts';

const longestName = 40;
const bytesPerLine = 20;
/** avr-gcc takes no larger object: its sizes are signed 16-bit numbers. */
const largestArrayBytes = 32_767;

/** Folder and file name of the sketch: the project's own choice, or its name with all but letters and digits taken out. */
export function sketchNameOf(project: Pick<Project, 'sketchName' | 'name'>): string {
  if (project.sketchName !== undefined) return project.sketchName;
  const plain = project.name
    .normalize('NFKD')
    .replace(/[^A-Za-z0-9_]/g, '')
    .slice(0, longestName);
  return plain === '' ? 'Lamploom' : plain;
}

/** Text that can stand in a line comment: no line ends, and no backslash that would join the next line. */
const forComment = (text: string): string => text.replace(/[^\x20-\x5b\x5d-\x7e]/g, '?');

const byCompiler = (lines: readonly string[]): string[] => [
  '__attribute__((aligned(256))) static const lamploom::U8 lamploomShow[] LAMPLOOM_FLASH = {',
  ...lines.map((line) => `    ${line},`),
  '};',
];

const byAssembler = (lines: readonly string[]): string[] => [
  `// They are laid by the assembler, since the compiler takes no array of more than ${largestArrayBytes} bytes.`,
  'extern "C" const lamploom::U8 lamploomShow[];',
  'asm(',
  '    ".pushsection .progmem.data.lamploomShow,\\"a\\",@progbits\\n"',
  '    ".balign 256\\n"',
  '    ".global lamploomShow\\n"',
  '    "lamploomShow:\\n"',
  ...lines.map((line) => `    ".byte ${line}\\n"`),
  '    ".popsection\\n");',
];

export function showHeader(data: ShowData): string {
  const lines: string[] = [];
  for (let i = 0; i < data.bytes.length; i += bytesPerLine)
    lines.push([...data.bytes.subarray(i, i + bytesPerLine)].join(', '));
  const isLarge = data.bytes.length > largestArrayBytes;
  return [
    '// The show data: layout, areas, gradients, shows and gamma tables. Written by Lamploom; show_data.h says what each byte means.',
    '#pragma once',
    '#include "integers.h"',
    '',
    '// The player finds gamma tables by their page, so the data starts on one.',
    ...(isLarge ? byAssembler(lines) : byCompiler(lines)),
    '',
  ].join('\n');
}

/** The sketch's files by name, `own-code.h` with them. */
export function sketchFiles(
  project: Project,
  data: ShowData,
  templates: FirmwareTemplates,
): Map<string, string> {
  const values: Readonly<Record<string, string>> = {
    project: forComment(project.name),
    ledCount: String(data.ledCount),
    board: project.board.id,
    pins: builtLines(project)
      .filter(({ chain }) => chain.length > 0)
      .map(({ pin }) => `pin ${pin}`)
      .join(', '),
    savedOn: project.savedOn,
    // Without inputs and events the compiler leaves out all that hears them.
    quiet: isQuiet(project) ? '#define LAMPLOOM_QUIET\n' : '',
  };
  const main = templates.sketch.replace(/\{\{(\w+)\}\}/g, (_, key: string) => {
    const value = values[key];
    if (value === undefined) throw new Error(`the sketch template asks for an unknown value "${key}"`);
    return value;
  });
  return new Map([
    [`${sketchNameOf(project)}.ino`, main],
    ['show.h', showHeader(data)],
    ['own-code.h', templates.ownCode],
    ...templates.headers,
  ]);
}
