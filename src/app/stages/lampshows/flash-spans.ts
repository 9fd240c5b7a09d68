// The flashes of one show on its own time. Pure, but for moving the playhead.
import type { FlashKind, FlashSpan } from '../../../light/index.ts';
import type { Lampshow } from '../../../project/index.ts';
import type { FlashState } from '../../survey/flashes.ts';
import type { Workbench } from '../../workbench/workbench.ts';

export const kindLabels: Readonly<Record<FlashKind, string>> = {
  general: 'Flashes',
  red: 'Red flashes',
  broadcast: 'Flashes over a fifth of the panel',
};

/** Empty while they are not known. */
export const spansOf = (
  flashes: FlashState,
  { id, lengthMs }: Pick<Lampshow, 'id' | 'lengthMs'>,
): readonly FlashSpan[] =>
  flashes.state === 'found'
    ? flashes.found
        .filter(({ play }) => play.kind === 'alone' && play.show === id)
        .flatMap(({ spans }) => spans)
        // The second behind its end is looked at too, as part of the next pass.
        .map((span) => ({
          ...span,
          fromMs: Math.min(span.fromMs, lengthMs),
          toMs: Math.min(span.toMs, lengthMs),
        }))
    : [];

/** To where it begins; what plays stops there. */
export function scrubToFlash(workbench: Workbench, { fromMs }: Pick<FlashSpan, 'fromMs'>): void {
  workbench.playback.setPlaying(false);
  workbench.playback.scrubTo(Math.ceil(fromMs / workbench.state.settled.frameMs));
}

export interface FlashMark {
  readonly kinds: readonly FlashKind[];
  readonly fromMs: number;
  readonly toMs: number;
}

/** Spans of different kinds that overlap, as one: marks on a line must not lie over each other. */
export function flashMarks(spans: readonly FlashSpan[]): FlashMark[] {
  const marks: FlashMark[] = [];
  for (const { kind, fromMs, toMs } of [...spans].sort((a, b) => a.fromMs - b.fromMs)) {
    const last = marks.at(-1);
    if (last && fromMs <= last.toMs)
      marks[marks.length - 1] = {
        kinds: [...new Set([...last.kinds, kind])],
        fromMs: last.fromMs,
        toMs: Math.max(last.toMs, toMs),
      };
    else marks.push({ kinds: [kind], fromMs, toMs });
  }
  return marks;
}
