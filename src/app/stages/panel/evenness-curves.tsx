// Evenness against the air gap: a curve for each of the largest areas, the aim, and the present gap.
import { curveOf, type Evenness, gapsMm } from './area-evenness.ts';
import css from './panel.module.css';

export const curveColours = ['var(--zone-3)', 'var(--zone-2)', 'var(--zone-4)'] as const;

const chart = { left: 30, top: 26, width: 186, height: 122 } as const;
const firstGap = gapsMm[0]!;
const lastGap = gapsMm.at(-1)!;
const leastShown = 0.2;

const xOf = (gapMm: number): number => chart.left + (chart.width * (gapMm - firstGap)) / (lastGap - firstGap);
const yOf = (value: number): number =>
  chart.top + (chart.height * (1 - Math.max(leastShown, value))) / (1 - leastShown);

export function EvennessCurves({ evenness, aim }: { readonly evenness: Evenness; readonly aim: number }) {
  const { airGapMm, atGaps, areas, now } = evenness;
  const isInside = airGapMm >= firstGap && airGapMm <= lastGap;
  const curves = areas.slice(0, curveColours.length);
  return (
    <svg
      width={chart.left + chart.width + 12}
      height={chart.top + chart.height + 24}
      role="img"
      aria-label="Evenness against air gap; the figures of the present gap stand beside it"
    >
      {[0.4, 0.6, 0.8, 1].map((value) => (
        <g key={value}>
          <path className={css['rule']} d={`M${chart.left} ${yOf(value)}h${chart.width}`} />
          <text className={css['tick']} x={chart.left - 6} y={yOf(value) + 4} textAnchor="end">
            {value.toFixed(1)}
          </text>
        </g>
      ))}
      {[10, 20, 30, 40].map((gapMm) => (
        <text
          key={gapMm}
          className={css['tick']}
          x={xOf(gapMm)}
          y={chart.top + chart.height + 16}
          textAnchor="middle"
        >
          {gapMm}
        </text>
      ))}
      <path className={css['aim']} d={`M${chart.left} ${yOf(aim)}h${chart.width}`} />
      {atGaps.length > 0 &&
        curves.map(({ area }, index) => (
          <path
            key={area.id}
            className={css['curve']}
            style={{ stroke: curveColours[index] }}
            d={curveOf(evenness, index)
              .filter((at) => at.airGapMm >= firstGap && at.airGapMm <= lastGap)
              .map((at, i) => `${i === 0 ? 'M' : 'L'}${xOf(at.airGapMm)} ${yOf(at.minByMean)}`)
              .join('')}
          />
        ))}
      {isInside && (
        <g>
          <path className={css['now']} d={`M${xOf(airGapMm)} ${chart.top - 6}v${chart.height + 6}`} />
          {curves.map(({ area }, index) => (
            <circle
              key={area.id}
              className={css['now-dot']}
              cx={xOf(airGapMm)}
              cy={yOf(now[index]!.minByMean)}
              r={3.5}
            />
          ))}
          <g transform={`translate(${Math.min(xOf(airGapMm), chart.left + chart.width - 24)} 10)`}>
            <rect className={css['now-tag']} x={-32} y={-10} width={64} height={20} rx={2} />
            <text className={css['now-text']} y={4} textAnchor="middle">
              {airGapMm.toFixed(1)} mm
            </text>
          </g>
        </g>
      )}
    </svg>
  );
}
