// Memory of the board: what a project takes of SRAM and flash, exact for the ready-to-flash program, and findings where it is too much.
// Not here: speed (src/lampshow/frame-time.ts).
import { type Board, boards, rowById } from '../catalogue/index.ts';
import type { ShowData } from '../lampshow/index.ts';
import type { Finding, Project } from '../project/index.ts';
import type { PrebuiltProgram } from './templates.ts';

export interface Share {
  readonly usedBytes: number;
  readonly freeBytes: number;
}

export interface Budget {
  readonly sram: Share;
  readonly flash: Share;
}

/**
 * Left free for the stack: 100 bytes that must never be touched and what the program was seen to use.
 * Measured by painting SRAM on the emulated board: 126 bytes without inputs and 160 with them, in the ready-to-flash program and in a sketch whose interrupts run.
 * test/export/memory.test.ts tries the largest panel that this lets through.
 */
const stackReserveBytes = { quiet: 226, hearing: 262 } as const;
/**
 * What a sketch needs beyond the ready-to-flash program, by chip: it brings the Arduino core's start-up and timer, is compiled for speed as much as for size, and
 * its show data may be aligned less luckily, up to 255 bytes. Without inputs it leaves out all that hears them, which makes up for the core where that is small.
 * Measured with the Debian core 1.8.7 beyond the program with its show data: 1,942 bytes of flash with inputs on an ATmega328P and 1,558 on an ATmega2560.
 * On an ATmega32U4 the core's USB code comes with it: 5,038 bytes, 1,580 without inputs; 150 bytes of variables; and its interrupt may come on top of the deepest
 * call, with 95 bytes of stack by the compiler's own count (-fstack-usage), rounded up to 110. An ATmega2560 pushes three bytes for each call instead of two, 8 more
 * on the deepest chain: no matter, since the most LEDs that a project may have leave more than 1 KB of its SRAM free.
 */
const sketchExtraBytes: Readonly<
  Record<
    string,
    { readonly flash: { readonly quiet: number; readonly hearing: number }; readonly sram: number }
  >
> = {
  atmega328p: { flash: { quiet: 0, hearing: 2300 }, sram: 0 },
  atmega32u4: { flash: { quiet: 1900, hearing: 5400 }, sram: 260 },
  atmega2560: { flash: { quiet: 0, hearing: 2300 }, sram: 0 },
};
/** What has to stay free of SRAM: for the stack, and for what a sketch needs on top of the ready-to-flash program. */
export function sramReserveBytes({ mcu }: Board, quiet: boolean): number {
  return stackReserveBytes[quiet ? 'quiet' : 'hearing'] + sketchExtraBytes[mcu]!.sram;
}

export const boardOf = (project: Project): Board => {
  const board = rowById(boards, project.board.id);
  if (!board) throw new Error(`no board "${project.board.id}"; the project was not checked`);
  return board;
};

/** Bytes of the frame buffer: 3 an LED, whatever its chip. */
export const frameBufferBytes = (ledCount: number): number => 3 * ledCount;

/** Whether nothing but the start show can ever play, as isQuiet in firmware-templates/player/inputs_avr.h decides. */
export const isQuiet = ({ gameEvents, inputs }: Pick<Project, 'gameEvents' | 'inputs'>): boolean =>
  (gameEvents ?? []).length === 0 &&
  !inputs?.serial &&
  inputs?.i2cAddress === undefined &&
  inputs?.roomPin === undefined;

/** Bytes of the ready-to-flash program. Free SRAM holds the stack; a sketch needs a little more of both (see above). */
export function budgetOf(
  board: Board,
  program: PrebuiltProgram,
  data: Pick<ShowData, 'bytes' | 'ledCount'>,
  quiet: boolean,
): Budget {
  const variables = quiet ? program.quietSramBytes : program.staticSramBytes;
  const sramUsed = variables + frameBufferBytes(data.ledCount);
  const flashUsed = program.showDataAt + data.bytes.length;
  return {
    sram: { usedBytes: sramUsed, freeBytes: board.sramBytes - sramUsed },
    flash: { usedBytes: flashUsed, freeBytes: board.flashBytes - flashUsed },
  };
}

/** Errors where the project doesn't fit the board. `data` undefined: the tables are over 64 KB. */
export function budgetFindings(
  board: Board,
  program: PrebuiltProgram,
  data: ShowData | undefined,
  quiet: boolean,
  /** Says what frees most; asked only where flash is short, since it takes long. */
  whatFreesMost: () => string,
): Finding[] {
  const mendFlash = () =>
    `Take out clips, shows or gradients, or let areas share an order. ${whatFreesMost()}`.trimEnd();
  if (!data)
    return [
      {
        severity: 'error',
        code: 'flash-too-small',
        at: '/lampshows',
        message: 'The shows need more than 64 KB of tables.',
        mend: mendFlash(),
      },
    ];
  const findings: Finding[] = [];
  const { sram, flash } = budgetOf(board, program, data, quiet);
  const sramShort = sramReserveBytes(board, quiet) - sram.freeBytes;
  if (sramShort > 0)
    findings.push({
      severity: 'error',
      code: 'sram-too-small',
      at: '/runs',
      message: `${data.ledCount} LEDs need ${sramShort} bytes of SRAM more than ${board.id} has.`,
      mend: `Take ${Math.ceil(sramShort / 3)} LEDs off, or choose a board with more SRAM.`,
    });
  const flashShort = sketchExtraBytes[board.mcu]!.flash[quiet ? 'quiet' : 'hearing'] - flash.freeBytes;
  if (flashShort > 0)
    findings.push({
      severity: 'error',
      code: 'flash-too-small',
      at: '/lampshows',
      message: `The program and its shows need ${flashShort} bytes of flash more than ${board.id} has.`,
      mend: mendFlash(),
    });
  return findings;
}
