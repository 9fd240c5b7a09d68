// The seconds that flash too often, on the ruler: a press brings the playhead there. What they are and how to calm them is told in the show's pane.
import type { Lampshow } from '../../../project/index.ts';
import { seconds } from '../../format.ts';
import { useFlashes } from '../../survey/use-flashes.ts';
import { useWorkbench } from '../../workbench/context.ts';
import { flashMarks, kindLabels, scrubToFlash, spansOf } from './flash-spans.ts';
import css from './timeline.module.css';

export function FlashMarks({ show, extent }: { readonly show: Lampshow; readonly extent: number }) {
  const workbench = useWorkbench();
  const marks = flashMarks(spansOf(useFlashes(), show));
  return marks.map((mark) => {
    const { kinds, fromMs, toMs } = mark;
    const words = `${kinds.map((kind) => kindLabels[kind]).join(', ')}: ${seconds(fromMs)} to ${seconds(toMs)} s`;
    return (
      <button
        key={fromMs}
        type="button"
        className={css['flash']}
        data-flash={kinds.join(' ')}
        style={{
          left: `${(100 * fromMs) / extent}%`,
          width: `${(100 * Math.max(0, Math.min(extent, toMs) - fromMs)) / extent}%`,
        }}
        aria-label={words}
        title={words}
        onClick={() => scrubToFlash(workbench, mark)}
      />
    );
  });
}
