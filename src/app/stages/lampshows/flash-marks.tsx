// The seconds that flash too often, on the ruler: a press brings the playhead there. What they are and how to calm them is told in the show's pane.
import type { Lampshow } from '../../../project/index.ts';
import { seconds } from '../../format.ts';
import { useFlashes } from '../../survey/use-flashes.ts';
import { useWorkbench } from '../../workbench/context.ts';
import { kindLabels, scrubToFlash, spansOf } from './flash-spans.ts';
import css from './timeline.module.css';

export function FlashMarks({ show, extent }: { readonly show: Lampshow; readonly extent: number }) {
  const workbench = useWorkbench();
  const spans = spansOf(useFlashes(), show.id);
  return spans.map((span) => {
    const words = `${kindLabels[span.kind]}, ${seconds(span.fromMs)} to ${seconds(span.toMs)} s`;
    const toMs = Math.min(extent, span.toMs);
    return (
      <button
        key={`${span.kind} ${span.fromMs}`}
        type="button"
        className={css['flash']}
        data-flash={span.kind}
        style={{
          left: `${(100 * span.fromMs) / extent}%`,
          width: `${(100 * Math.max(0, toMs - span.fromMs)) / extent}%`,
        }}
        aria-label={words}
        title={words}
        onClick={() => scrubToFlash(workbench, span)}
      />
    );
  });
}
