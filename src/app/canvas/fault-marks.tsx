// In the view Volts: where something is taken to be broken, a dashed ring with a cross where a conductor is cut, a wave where a joint is bad.
import type { Layout } from '../../panel/index.ts';
import type { Fault } from '../../power/index.ts';
import type { Project } from '../../project/index.ts';
import { useFigures, useScreen } from '../workbench/context.ts';
import { isThere } from '../workbench/power-view.ts';
import css from './canvas.module.css';
import { jumperCurve, pointAlong, type Sight, toScreen } from './geometry.ts';

/** Where on the panel a fault lies, mm. */
function placeOf({ at }: Fault, { power }: Project, layout: Layout) {
  const runOf = (id: string) => layout.runs.find(({ run }) => run.id === id);
  if (at.kind === 'jumper') {
    const jumper = layout.lines
      .find(({ index }) => index === at.line)
      ?.jumpers.find(({ place }) => place === at.place);
    return jumper && jumperCurve(jumper).middle;
  }
  if (at.kind === 'segment') {
    const placed = runOf(at.run);
    return placed && pointAlong(placed, at.led + 0.5);
  }
  const feed = power.feeds[at.feed]!;
  const placed = runOf(feed.run);
  return placed && pointAlong(placed, feed.led);
}

export function FaultMarks({ sight }: { readonly sight: Sight }) {
  const faults = useScreen(({ powerView }) => powerView.faults);
  const { compiled } = useFigures();
  const { project, layout } = compiled;
  // Both wires of a feed break at one mark.
  const places = new Set<string>();
  return faults
    .filter((fault) => isThere(project, fault))
    .filter(({ at }) => at.kind !== 'feed' || (!places.has(`${at.feed}`) && places.add(`${at.feed}`)))
    .map((fault) => {
      const place = placeOf(fault, project, layout);
      if (!place) return null;
      const { x, y } = toScreen(sight, place);
      return (
        <g
          key={JSON.stringify(fault.at)}
          className={css['fault-mark']}
          transform={`translate(${x} ${y})`}
          aria-hidden="true"
        >
          <circle r={9} />
          <path d={fault.what === 'cut' ? 'M-4 -4l8 8m0 -8l-8 8' : 'M-5 0l2.5 -4l5 8l2.5 -4'} fill="none" />
        </g>
      );
    });
}
