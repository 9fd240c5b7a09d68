// An arrow that points where a run's does.
import { useScreen } from '../../workbench/context.ts';
import css from './runs.module.css';

export function RunArrow({
  arrowDeg,
  tone = 'data',
}: {
  readonly arrowDeg: number;
  readonly tone?: 'data' | 'soft' | 'warn';
}) {
  const side = useScreen((state) => state.side);
  // Drawn as the canvas shows it: from the rear, left and right are exchanged.
  const seenDeg = side === 'rear' ? 180 - arrowDeg : arrowDeg;
  return (
    <svg
      width="18"
      height="14"
      viewBox="-9 -7 18 14"
      role="img"
      aria-label={`${Math.round(arrowDeg)} degrees`}
    >
      <path
        className={css['arrow']}
        data-tone={tone}
        d="M-6 0H5M1 -4L5 0L1 4"
        transform={`rotate(${-seenDeg})`}
      />
    </svg>
  );
}
