// How long the eye, or a camera, takes the light in: for the screen only, no part of the document.
import { NumberField } from '../../fields/index.ts';
import { useScreen, useWorkbench } from '../../workbench/context.ts';
import css from './dock.module.css';

const mostStops = 6;

export function Exposure() {
  const workbench = useWorkbench();
  const stops = useScreen((state) => state.exposureStops);
  return (
    <span className={css['exposure']}>
      <span className={css['soft']} aria-hidden="true">
        Exposure
      </span>
      <NumberField
        isBare
        label="Exposure"
        unit="EV"
        value={stops}
        least={-mostStops}
        most={mostStops}
        step={0.1}
        digits={1}
        onChange={(exposureStops) => workbench.set({ exposureStops })}
      />
    </span>
  );
}
