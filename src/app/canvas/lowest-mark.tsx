// In the view Volts: which of the LEDs that have power gets the least, and how much.
import { voltsFigure } from '../../power/index.ts';
import { useFigures, useShownPower } from '../workbench/context.ts';
import { leastVolts } from '../workbench/power-view.ts';
import css from './canvas.module.css';
import { pointAlong, type Sight, toScreen } from './geometry.ts';

const tag = { width: 104, height: 20, awayPx: 30 } as const;

export function LowestMark({ sight }: { readonly sight: Sight }) {
  const { compiled } = useFigures();
  const { assessment, shown } = useShownPower();
  const { lowest } = leastVolts(assessment, shown);
  const led = lowest && assessment.panel.leds[lowest.led];
  const placed = led && compiled.layout.runs.find(({ run }) => run.id === led.run);
  if (!lowest || !led || !placed) return null;
  const at = toScreen(sight, pointAlong(placed, led.led));
  // Below its LED, or above one that lies low on the panel.
  const down = at.y < sight.view.yPx + (compiled.project.panel.heightMm * sight.view.pxPerMm) / 2 ? 1 : -1;
  const y = at.y + down * tag.awayPx;
  const left = Math.max(4, at.x - 12);
  return (
    <g className={css['lowest']} aria-hidden="true">
      <path d={`M${at.x} ${at.y + down * 7}L${left + 20} ${y}`} />
      <circle cx={at.x} cy={at.y} r={7} />
      <rect x={left} y={y - tag.height / 2} width={tag.width} height={tag.height} rx={2} />
      <text x={left + tag.width / 2} y={y + 4}>
        {voltsFigure(lowest.volts)} V lowest
      </text>
    </g>
  );
}
