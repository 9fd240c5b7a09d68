// Where the pointer is over the panel, in millimetres from its top left corner.
import { useSyncExternalStore } from 'react';
import { useCommander } from '../workbench/context.ts';
import css from './tool-bar.module.css';

export function PointerPlace() {
  const { pointer } = useCommander().viewport;
  const place = useSyncExternalStore(pointer.subscribe, pointer.current);
  return (
    <span className={css['place']} aria-hidden="true">
      {place ? `x ${place.xMm.toFixed(1)}  y ${place.yMm.toFixed(1)} mm` : ''}
    </span>
  );
}
