// The flashes of one show on its own time. Pure, but for moving the playhead.
import type { FlashKind, FlashSpan } from '../../../light/index.ts';
import type { FlashState } from '../../survey/flashes.ts';
import type { Workbench } from '../../workbench/workbench.ts';

export const kindLabels: Readonly<Record<FlashKind, string>> = {
  general: 'Flashes',
  red: 'Red flashes',
  broadcast: 'Flashes over a fifth of the panel',
};

/** Undefined nothing: empty while they are not known. */
export const spansOf = (flashes: FlashState, show: string): readonly FlashSpan[] =>
  flashes.state === 'found'
    ? flashes.found
        .filter(({ play }) => play.kind === 'alone' && play.show === show)
        .flatMap(({ spans }) => spans)
    : [];

/** To where it begins; what plays stops there. */
export function scrubToFlash(workbench: Workbench, { fromMs }: FlashSpan): void {
  workbench.playback.setPlaying(false);
  workbench.playback.scrubTo(Math.ceil(fromMs / workbench.state.settled.frameMs));
}
