// What a painted clip costs the board in bytes, and what is left of its flash.
import { useMemo } from 'react';
import { paintedClipBytes } from '../../../../lampshow/index.ts';
import { ledsOfArea } from '../../../canvas/drags-paint.ts';
import { Derived } from '../../../fields/index.ts';
import { figure } from '../../../format.ts';
import { useSettled } from '../../../workbench/context.ts';
import type { PaintedPlace } from '../../../workbench/painting.ts';

/** Follows when the hand rests: during a stroke the show data are those before it. */
export function Price({ painted: { place } }: { readonly painted: PaintedPlace }) {
  const { project, layout, budget } = useSettled();
  const clip = project.lampshows.find(({ id }) => id === place.show)?.rows[place.row]?.clips[place.clip];
  const area = project.areas.find(({ id }) => id === clip?.area);
  const bytes = useMemo(
    () =>
      area && clip?.effect.kind === 'painted'
        ? paintedClipBytes(clip.effect, ledsOfArea(layout, area))
        : undefined,
    [layout, area, clip?.effect],
  );
  const free = budget?.flash.freeBytes;
  return (
    <>
      <Derived label="This clip takes" unit="B">
        {bytes === undefined ? '-' : figure(bytes)}
      </Derived>
      <Derived label="Flash left" unit="B" tone={free === undefined || free < 0 ? 'warn' : 'plain'}>
        {free === undefined ? 'none' : figure(free)}
      </Derived>
    </>
  );
}
