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
 * Measured by painting SRAM on the emulated board: 84 bytes, in the ready-to-flash program and in a sketch whose interrupts run; rounded up.
 * test/export/memory.test.ts tries the largest panel that this lets through.
 */
export const stackReserveBytes = 186;
/** A sketch's own variables beyond the ready-to-flash program's: measured with the Debian core 1.8.6, 9 bytes. */
export const sketchExtraSramBytes = 9;
/** A sketch brings the Arduino core's start-up and timer, and its show data may be aligned less luckily: measured 298 bytes, 255 for the latter. */
export const sketchExtraFlashBytes = 600;

export const boardOf = (project: Project): Board => {
  const board = rowById(boards, project.board.id);
  if (!board) throw new Error(`no board "${project.board.id}"; the project was not checked`);
  return board;
};

/** Bytes of the frame buffer: 3 an LED and one that the sender reads ahead. */
export const frameBufferBytes = (ledCount: number): number => 3 * ledCount + 1;

/** Bytes of the ready-to-flash program. Free SRAM holds the stack; a sketch needs a little more of both (see above). */
export function budgetOf(
  board: Board,
  program: PrebuiltProgram,
  data: Pick<ShowData, 'bytes' | 'ledCount'>,
): Budget {
  const sramUsed = program.staticSramBytes + frameBufferBytes(data.ledCount);
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
): Finding[] {
  const mendFlash = 'Take out clips, shows or gradients, or let areas share an order.';
  if (!data)
    return [
      {
        severity: 'error',
        code: 'flash-too-small',
        at: '/lampshows',
        message: 'The shows need more than 64 KB of tables.',
        mend: mendFlash,
      },
    ];
  const findings: Finding[] = [];
  const { sram, flash } = budgetOf(board, program, data);
  const sramShort = stackReserveBytes + sketchExtraSramBytes - sram.freeBytes;
  if (sramShort > 0)
    findings.push({
      severity: 'error',
      code: 'sram-too-small',
      at: '/runs',
      message: `${data.ledCount} LEDs need ${sramShort} bytes of SRAM more than ${board.id} has.`,
      mend: `Take ${Math.ceil(sramShort / 3)} LEDs off, or choose a board with more SRAM.`,
    });
  const flashShort = sketchExtraFlashBytes - flash.freeBytes;
  if (flashShort > 0)
    findings.push({
      severity: 'error',
      code: 'flash-too-small',
      at: '/lampshows',
      message: `The program and its shows need ${flashShort} bytes of flash more than ${board.id} has.`,
      mend: mendFlash,
    });
  return findings;
}
