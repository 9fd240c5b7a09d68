// In the view Volts: LEDs at which planning puts no feed, each under a small barred ring.
import { useFigures } from '../workbench/context.ts';
import css from './canvas.module.css';
import { pointAlong, type Sight, toScreen } from './geometry.ts';

export function ForbiddenMarks({ sight }: { readonly sight: Sight }) {
  const { project, layout } = useFigures().compiled;
  return (project.power.planning?.forbidden ?? []).map(({ run, led }) => {
    const placed = layout.runs.find((one) => one.run.id === run);
    if (!placed) return null;
    // Around a feed that is there all the same.
    const hasFeed = project.power.feeds.some((feed) => feed.run === run && feed.led === led);
    const { x, y } = toScreen(sight, pointAlong(placed, led));
    return (
      <g
        key={`${led} ${run}`}
        className={css['forbidden-mark']}
        transform={`translate(${x} ${y})`}
        aria-hidden="true"
      >
        <circle r={hasFeed ? 11 : 6} fill={hasFeed ? 'none' : 'var(--sheet)'} />
        <path d={hasFeed ? 'M-8 -8L8 8' : 'M-4 -4L4 4'} />
      </g>
    );
  });
}
