// The chosen area, or the area of the chosen clip: a ring round each of its LEDs, the outlines that it was drawn with, and the way along which
// effects travel: numbers at the LEDs where there is room for them, arrows from LED to LED elsewhere.
import { memo } from 'react';
import { areaLeds, distanceMm, type Layout, type PointMm } from '../../panel/index.ts';
import type { Area, AreaMembers, Project } from '../../project/index.ts';
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

const ring = ({ xMm, yMm }: PointMm): string =>
  `M${xMm - ringMm} ${yMm}a${ringMm} ${ringMm} 0 1 0 ${2 * ringMm} 0a${ringMm} ${ringMm} 0 1 0 ${-2 * ringMm} 0`;

interface Stop extends PointMm {
  readonly place: number;
}

/** The area's LEDs as effects come to them. */
export function travelOf(layout: Layout, area: Area): Stop[] {
  return areaLeds(layout, area)
    .map(({ wire, place }): Stop => {
      const { xMm, yMm } = layout.wireLeds[wire]!;
      return { xMm, yMm, place };
    })
    .sort((a, b) => a.place - b.place);
}

/** Places that effects come to together are one step. */
const oneStep = 1e-6;
const mostArrows = 40;

/** From the middle of what is reached together to the middle of what comes next. */
function stepsOf(stops: readonly Stop[]): PointMm[] {
  const groups: Stop[][] = [];
  for (const stop of stops) {
    const last = groups.at(-1);
    if (last && stop.place - last[0]!.place < oneStep) last.push(stop);
    else groups.push([stop]);
  }
  const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;
  return groups.map((group) => ({ xMm: mean(group.map((s) => s.xMm)), yMm: mean(group.map((s) => s.yMm)) }));
}

/** Arrows along the way: not more than the eye can follow, none where two steps lie on one place. */
function arrowsPath(stops: readonly Stop[]): string {
  const steps = stepsOf(stops);
  const every = Math.max(1, Math.ceil(steps.length / mostArrows));
  const kept = steps.filter((_, i) => i % every === 0 || i === steps.length - 1);
  let path = '';
  for (const [i, b] of kept.entries()) {
    const a = kept[i - 1];
    if (!a || distanceMm(a, b) < 1) continue;
    const length = distanceMm(a, b);
    const [x, y] = [(b.xMm - a.xMm) / length, (b.yMm - a.yMm) / length];
    const head = Math.min(4, length / 3);
    path += `M${a.xMm} ${a.yMm}L${b.xMm} ${b.yMm}M${b.xMm - head * (x + 0.6 * y)} ${b.yMm - head * (y - 0.6 * x)}L${b.xMm} ${b.yMm}L${b.xMm - head * (x - 0.6 * y)} ${b.yMm - head * (y + 0.6 * x)}`;
  }
  return path;
}

const Travel = memo(function Travel({ layout, area }: { readonly layout: Layout; readonly area: Area }) {
  const stops = travelOf(layout, area);
  return (
    <>
      <path className={css['area-leds']} d={stops.map(ring).join('')} />
      <path className={css['travel']} d={arrowsPath(stops)} />
    </>
  );
});

/** What an area was drawn with, as it was drawn. */
const outlines: {
  readonly [K in AreaMembers['kind']]?: (members: Extract<AreaMembers, { kind: K }>) => {
    readonly d: string;
    readonly widthMm?: number;
  };
} = {
  rectangle: ({ xMm, yMm, widthMm, heightMm }) => ({
    d: `M${xMm} ${yMm}h${widthMm}v${heightMm}h${-widthMm}z`,
  }),
  outline: ({ points }) => ({ d: `${lineOf(points)}z` }),
  stroke: ({ points, radiusMm }) => ({ d: `${lineOf(points)}h0.01`, widthMm: 2 * radiusMm }),
};

const lineOf = (points: readonly PointMm[]): string =>
  points.map(({ xMm, yMm }, i) => `${i === 0 ? 'M' : 'L'}${xMm} ${yMm}`).join('');

export function AreaMarks({ selection }: { readonly selection: Selection }) {
  const { layout } = useCompiled();
  const area = useProject((project) => areaOfSelection(project, selection));
  const playing = useScreen(({ stage }) => stage === 'lampshows');
  if (!area || (selection.kind === 'clip' && !playing)) return null;
  return (
    <g aria-hidden="true">
      {selection.kind === 'area' &&
        area.members.map((members, index) => {
          const drawn = (
            outlines[members.kind] as ((members: AreaMembers) => { d: string; widthMm?: number }) | undefined
          )?.(members);
          if (!drawn) return null;
          return (
            <path
              // Members have no id of their own.
              // biome-ignore lint/suspicious/noArrayIndexKey: see above
              key={index}
              className={css[drawn.widthMm === undefined ? 'area-outline' : 'area-stroke']}
              d={drawn.d}
              {...(drawn.widthMm === undefined ? {} : { style: { strokeWidth: drawn.widthMm } })}
            />
          );
        })}
      <Travel layout={layout} area={area} />
    </g>
  );
}
