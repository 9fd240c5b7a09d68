// In the view Volts: the figures of the LED under the pointer, or of the one that the chart points at. The pointer's LED is told to the chart too.
import { useEffect, useSyncExternalStore } from 'react';
import type { Layout } from '../../panel/index.ts';
import { conductorsAt, type PowerAssessment } from '../../power/index.ts';
import { runName } from '../workbench/commands/run-commands.ts';
import { useCommander, useFigures, useShownPower, useWorkbench } from '../workbench/context.ts';
import { ledInWords } from '../workbench/power-view.ts';
import css from './canvas.module.css';
import { alongRun, pointAlong, type Sight, toScreen } from './geometry.ts';

/** Index in the assessment's list of the LED at a place of the panel. */
function ledAt(
  { runs }: Layout,
  { panel }: PowerAssessment,
  place: { readonly xMm: number; readonly yMm: number },
): number | undefined {
  for (const placed of runs) {
    const { pitches, besideMm } = alongRun(placed, place);
    const led = Math.round(pitches);
    const reach = Math.max(placed.strip.boardWidthMm / 2, 4);
    if (Math.abs(besideMm) > reach || led < 0 || led >= placed.run.ledCount) continue;
    const index = panel.leds.findIndex((one) => one.run === placed.run.id && one.led === led);
    if (index >= 0) return index;
  }
  return undefined;
}

const box = { width: 236, height: 74, awayPx: 14 } as const;

export function VoltTip({ sight, widthPx }: { readonly sight: Sight; readonly widthPx: number }) {
  const workbench = useWorkbench();
  const { viewport } = useCommander();
  const { compiled } = useFigures();
  const { assessment, shown, view } = useShownPower();
  const pointer = useSyncExternalStore(viewport.pointer.subscribe, viewport.pointer.current);
  const { layout } = compiled;
  const under = pointer && ledAt(layout, assessment, pointer);
  useEffect(() => {
    const { powerView } = workbench.state;
    if (powerView.led !== under) workbench.set({ powerView: { ...powerView, led: under } });
  }, [workbench, under]);
  const led = view.led === undefined ? undefined : assessment.panel.leds[view.led];
  const placed = led && layout.runs.find(({ run }) => run.id === led.run);
  if (view.led === undefined || !led || !placed) return null;
  const at = toScreen(sight, pointAlong(placed, led.led));
  const { plusAmps, groundAmps } = conductorsAt(assessment.panel, shown, view.led);
  const left = Math.min(Math.max(4, at.x + box.awayPx), widthPx - box.width - 4);
  const top = at.y > box.height + 24 ? at.y - box.height - box.awayPx : at.y + box.awayPx;
  const lines = [
    `${runName(placed.run)}, LED ${led.led}`,
    ledInWords(assessment, shown, view.led),
    `+ rail ${plusAmps.toFixed(2)} A   ground ${groundAmps.toFixed(2)} A`,
  ];
  return (
    <g className={css['volt-tip']} aria-hidden="true">
      <circle cx={at.x} cy={at.y} r={7} />
      <rect x={left} y={top} width={box.width} height={box.height} rx={2} />
      {lines.map((line, i) => (
        <text key={line} data-figures={i > 0} x={left + 10} y={top + 20 + 20 * i}>
          {line}
        </text>
      ))}
    </g>
  );
}
