// An arrow that points where a run's does; a ring board has a ring that goes round as its LEDs do.
import { useScreen } from '../../workbench/context.ts';
import css from './runs.module.css';

type Tone = 'data' | 'soft' | 'warn';

export function RunArrow({ arrowDeg, tone = 'data' }: { readonly arrowDeg: number; readonly tone?: Tone }) {
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

export function RingSign({
  clockwise,
  tone = 'data',
}: {
  readonly clockwise: boolean;
  readonly tone?: Tone;
}) {
  const side = useScreen((state) => state.side);
  // Front and rear exchange left and right, and with them which way round it goes.
  const isSeenClockwise = clockwise === (side === 'front');
  return (
    <svg
      width="18"
      height="14"
      viewBox="-9 -7 18 14"
      role="img"
      aria-label={clockwise ? 'Ring, clockwise' : 'Ring, counter-clockwise'}
    >
      <path
        className={css['arrow']}
        data-tone={tone}
        d="M-3.5 -3.5A5 5 0 1 0 3.5 -3.5M3.5 0.5V-3.5H7.5"
        transform={isSeenClockwise ? 'scale(-1 1)' : undefined}
      />
    </svg>
  );
}
