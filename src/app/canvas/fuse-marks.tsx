// In the view Volts: conductors that some short could overload before the fuses open, dashed along run and jumper, and ringed at feeds.
import type { Layout } from '../../panel/index.ts';
import type { Conductor, PowerAssessment } from '../../power/index.ts';
import { useFigures } from '../workbench/context.ts';
import css from './canvas.module.css';
import { jumperCurve, type PointPx, pointAlong, type Sight, toScreen } from './geometry.ts';

const lineOf = ({ x: x1, y: y1 }: PointPx, { x: x2, y: y2 }: PointPx): string => `M${x1} ${y1}L${x2} ${y2}`;

/** One place of the drawing for each conductor: a line, or a ring; nothing for what lies off the panel. */
function markOf({ kind, index }: Conductor, { panel }: PowerAssessment, layout: Layout, sight: Sight) {
  const at = (led: number): PointPx | undefined => {
    const one = panel.leds[led];
    const placed = one && layout.runs.find(({ run }) => run.id === one.run);
    return placed && toScreen(sight, pointAlong(placed, one.led));
  };
  if (kind === 'segment') {
    const { fromLed, toLed } = panel.segments[index]!;
    const [from, to] = [at(fromLed), at(toLed)];
    return from && to ? { path: lineOf(from, to) } : undefined;
  }
  if (kind === 'jumper') {
    const { line, place } = panel.jumpers[index]!;
    const jumper = layout.lines.find((one) => one.index === line)?.jumpers.find((one) => one.place === place);
    if (!jumper) return undefined;
    const { middle } = jumperCurve(jumper);
    const [from, half, to] = [jumper.from.doutEnd, middle, jumper.to.dinEnd].map((point) =>
      toScreen(sight, point),
    ) as [PointPx, PointPx, PointPx];
    return { path: `${lineOf(from, half)}L${to.x} ${to.y}` };
  }
  if (kind === 'feed' || kind === 'plug') {
    const ring = at(panel.feeds[index]!.atLed);
    return ring && { ring };
  }
  return undefined;
}

export function FuseMarks({ sight }: { readonly sight: Sight }) {
  const { assessment, compiled } = useFigures();
  const { violations } = assessment.fuseRule;
  if (violations.length === 0) return null;
  const marks = violations.flatMap(
    ({ conductor }) => markOf(conductor, assessment, compiled.layout, sight) ?? [],
  );
  const rings = new Map(marks.flatMap(({ ring }) => (ring ? [[`${ring.x} ${ring.y}`, ring] as const] : [])));
  return (
    <g className={css['fuse-marks']} aria-hidden="true">
      <path d={[...new Set(marks.map(({ path }) => path ?? ''))].join('')} />
      {[...rings].map(([key, { x, y }]) => (
        <circle key={key} cx={x} cy={y} r={12} />
      ))}
    </g>
  );
}
