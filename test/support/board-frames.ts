// Compares what an emulated board sent with what the player says, frame by frame. The frame number comes from the clock alone:
// a frame that starts nearest to n frame times after frame 0's moment is frame n, so a frame left out is noticed as that and not as wrong.
import type { Player } from '../../src/lampshow/index.ts';
import type { WireFrame } from '../board/wire-decoder.ts';

const cyclesPerMs = 16_000;

export interface Comparison {
  readonly framesCompared: number;
  readonly bytesCompared: number;
  readonly bytesDiffering: number;
  readonly bytesLit: number;
  /** Frame numbers that were left out between the first and the last. */
  readonly framesSkipped: number;
  readonly blackFirst: boolean;
  /** Where the first difference is, for the failure message. */
  readonly firstDifference: string | undefined;
}

/** `lines`: what each data line sent; the first frame of each is the black one after power-up. The player holds the same show data. */
export function compareFrames(
  lines: readonly (readonly WireFrame[])[],
  player: Player,
  show: string,
  frameMs: number,
): Comparison {
  const black = lines.map((frames) => frames[0]!);
  const later = lines.map((frames) => frames.slice(1));
  const count = Math.min(...later.map((frames) => frames.length));
  // Frame 0 is due one frame time after the last line's black is out; where it is in time, it starts just then.
  const zero = black.at(-1)!.endCycle + frameMs * cyclesPerMs;
  let bytesCompared = 0;
  let bytesDiffering = 0;
  let bytesLit = 0;
  let last = 0;
  let firstDifference: string | undefined;
  for (let i = 0; i < count; i++) {
    const slots = (later[0]![i]!.startCycle - zero) / cyclesPerMs / frameMs;
    const number = Math.round(slots);
    last = number;
    const wanted = player.frame(show, number);
    let at = 0;
    for (const frames of later) {
      const sent = frames[i]!;
      if (sent.strayBits !== 0) bytesDiffering++;
      for (const byte of sent.bytes) {
        bytesCompared++;
        if (byte !== 0) bytesLit++;
        if (byte !== wanted[at]) {
          bytesDiffering++;
          firstDifference ??= `frame ${number} (${slots.toFixed(3)}), byte ${at}: sent ${byte}, player says ${wanted[at]}`;
        }
        at++;
      }
    }
    if (at !== wanted.length) {
      bytesDiffering += Math.abs(at - wanted.length);
      firstDifference ??= `frame ${number}: ${at} bytes sent, ${wanted.length} expected`;
    }
  }
  return {
    framesCompared: count,
    bytesCompared,
    bytesDiffering,
    bytesLit,
    framesSkipped: last + 1 - count,
    blackFirst: black.every((frame) => frame.bytes.every((byte) => byte === 0)),
    firstDifference,
  };
}
