// The chosen area, or the area of the chosen clip: a ring round each of its LEDs, and the outline of its rectangles.
import { memo } from 'react';
import { type AreaLed, areaLeds, type Layout } from '../../panel/index.ts';
import type { Area, Project } from '../../project/index.ts';
import { useCompiled, useProject, useScreen } from '../workbench/context.ts';
import type { Selection } from '../workbench/selection.ts';
import css from './canvas.module.css';

const ringMm = 4.2;

export function areaOfSelection(project: Project, selection: Selection): Area | undefined {
  const id =
    selection.kind === 'area'
      ? selection.id
      : selection.kind === 'clip'
        ? project.lampshows.find((show) => show.id === selection.show)?.rows[selection.row]?.clips[
            selection.clip
          ]?.area
        : undefined;
  return project.areas.find((area) => area.id === id);
}

const ring = ({ xMm, yMm }: { xMm: number; yMm: number }): string =>
  `M${xMm - ringMm} ${yMm}a${ringMm} ${ringMm} 0 1 0 ${2 * ringMm} 0a${ringMm} ${ringMm} 0 1 0 ${-2 * ringMm} 0`;

const Rings = memo(function Rings({
  leds,
  layout,
}: {
  readonly leds: readonly AreaLed[];
  readonly layout: Layout;
}) {
  return (
    <path className={css['area-leds']} d={leds.map(({ wire }) => ring(layout.wireLeds[wire]!)).join('')} />
  );
});

export function AreaMarks({ selection }: { readonly selection: Selection }) {
  const { layout } = useCompiled();
  const area = useProject((project) => areaOfSelection(project, selection));
  const playing = useScreen(({ stage }) => stage === 'lampshows');
  if (!area || (selection.kind === 'clip' && !playing)) return null;
  return (
    <g aria-hidden="true">
      {selection.kind === 'area' &&
        area.members.map(
          (members, index) =>
            members.kind === 'rectangle' && (
              <rect
                // Members have no id of their own.
                // biome-ignore lint/suspicious/noArrayIndexKey: see above
                key={index}
                className={css['area-rectangle']}
                x={members.xMm}
                y={members.yMm}
                width={members.widthMm}
                height={members.heightMm}
              />
            ),
        )}
      <Rings leds={areaLeds(layout, area)} layout={layout} />
    </g>
  );
}
