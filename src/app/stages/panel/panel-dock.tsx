// Why the air gap matters: a section through a run to scale, evenness against the gap, and how even each area is now.
import { useDeferredValue, useMemo } from 'react';
import { sheets } from '../../../catalogue/index.ts';
import { evenness, type Place, placesAlong } from '../../../light/index.ts';
import { areaLeds, type Layout } from '../../../panel/index.ts';
import type { Area, Project } from '../../../project/index.ts';
import { useCompiled, useProject } from '../../workbench/context.ts';
import css from './panel.module.css';
import { Section } from './section.tsx';

/** Common practice, no source: below this the eye finds the LEDs. */
const aimedAt = 0.8;
/** The largest areas; more lines could not be told apart. */
const mostAreas = 6;
const mostCurves = 3;
/** Enough to judge an area by; more only cost time. */
const mostPlaces = 120;
const gaps = Array.from({ length: 17 }, (_, step) => 8 + 2 * step);
const curveColours = ['var(--zone-2)', 'var(--zone-3)', 'var(--zone-4)'] as const;

interface AreaEvenness {
  readonly area: Area;
  readonly now: number;
  /** For each of `gaps`; only for the first areas. */
  readonly curve: readonly number[];
}

const thinned = (places: readonly Place[]): Place[] => {
  const step = Math.max(1, places.length / mostPlaces);
  return Array.from(
    { length: Math.floor(places.length / step) },
    (_, index) => places[Math.floor(index * step)]!,
  );
};

/** Areas that hold the same LEDs are the same to the eye: the first of them stands for all. */
function areasToShow(layout: Layout, areas: readonly Area[]) {
  const seen = new Set<string>();
  return areas
    .map((area) => ({ area, leds: areaLeds(layout, area) }))
    .filter(({ leds }) => {
      const key = leds.map(({ wire }) => wire).join();
      // The whole panel is no area that an eye judges by itself: its runs lie far apart by design.
      const isPart = leds.length < layout.wireLeds.length || areas.length === 1;
      const isNew = leds.length > 1 && isPart && !seen.has(key);
      seen.add(key);
      return isNew;
    })
    .sort((a, b) => b.leds.length - a.leds.length)
    .slice(0, mostAreas);
}

function areaEvenness(layout: Layout, areas: readonly Area[], airGapMm: number): AreaEvenness[] {
  return areasToShow(layout, areas).map(({ area, leds }, index) => {
    const places = thinned(placesAlong(layout, leds));
    const at = (gapMm: number) => evenness(layout.wireLeds, places, gapMm);
    return { area, now: at(airGapMm), curve: index < mostCurves ? gaps.map(at) : [] };
  });
}

const chart = { left: 34, top: 12, width: 190, height: 122 } as const;
const chartX = (gapMm: number): number =>
  chart.left + (chart.width * (gapMm - gaps[0]!)) / (gaps.at(-1)! - gaps[0]!);
/** Evenness from 0.2 to 1. */
const chartY = (value: number): number => chart.top + (chart.height * (1 - Math.max(0.2, value))) / 0.8;

function Curves({ areas, airGapMm }: { readonly areas: readonly AreaEvenness[]; readonly airGapMm: number }) {
  const drawn = areas.filter(({ curve }) => curve.length > 0);
  const isInside = airGapMm >= gaps[0]! && airGapMm <= gaps.at(-1)!;
  return (
    <svg
      width={chart.left + chart.width + 12}
      height={chart.top + chart.height + 24}
      role="img"
      aria-label="Evenness against air gap; the figures of the present gap stand beside it"
    >
      {[0.4, 0.6, 0.8, 1].map((value) => (
        <g key={value}>
          <path className={css['rule']} d={`M${chart.left} ${chartY(value)}h${chart.width}`} />
          <text className={css['tick']} x={chart.left - 6} y={chartY(value) + 4} textAnchor="end">
            {value.toFixed(1)}
          </text>
        </g>
      ))}
      {[10, 20, 30, 40].map((gapMm) => (
        <text
          key={gapMm}
          className={css['tick']}
          x={chartX(gapMm)}
          y={chart.top + chart.height + 16}
          textAnchor="middle"
        >
          {gapMm}
        </text>
      ))}
      {isInside && (
        <path className={css['now']} d={`M${chartX(airGapMm)} ${chart.top - 6}v${chart.height + 6}`} />
      )}
      {drawn.map(({ area, curve }, index) => (
        <path
          key={area.id}
          className={css['curve']}
          style={{ stroke: curveColours[index] }}
          d={curve.map((value, i) => `${i === 0 ? 'M' : 'L'}${chartX(gaps[i]!)} ${chartY(value)}`).join('')}
        />
      ))}
    </svg>
  );
}

export function PanelDock() {
  const { layout } = useDeferredValue(useCompiled());
  const areas = useDeferredValue(useProject((project) => project.areas));
  const panel = useDeferredValue(useProject((project: Project) => project.panel));
  const { airGapMm } = panel;
  const shown = useMemo(() => areaEvenness(layout, areas, airGapMm), [layout, areas, airGapMm]);
  const pitchMm = layout.runs[0] ? layout.runs[0].cutLengthMm / layout.runs[0].run.ledCount : undefined;
  const sheet = sheets.find(({ id }) => id === panel.sheet)!;
  return (
    <div className={css['dock']}>
      <section>
        <h2>
          Section through a run <span>to scale</span>
        </h2>
        <Section airGapMm={airGapMm} sheetMm={sheet.thicknessMm} pitchMm={pitchMm} />
      </section>
      <section>
        <h2>
          Evenness against air gap <span>least ÷ mean, gap in mm</span>
        </h2>
        {shown.length > 0 ? (
          <Curves areas={shown} airGapMm={airGapMm} />
        ) : (
          <p className={css['soft']}>Areas with two LEDs or more are drawn here.</p>
        )}
      </section>
      <section>
        <h2>
          Evenness now <span>aim for {aimedAt.toFixed(2)}</span>
        </h2>
        <table className={css['areas']}>
          <tbody>
            {shown.map(({ area, now, curve }, index) => (
              <tr key={area.id}>
                <th scope="row">
                  {curve.length > 0 && (
                    <i className={css['key']} style={{ background: curveColours[index] }} />
                  )}
                  {area.name ?? area.id}
                </th>
                <td className={css['bar']}>
                  <i data-even={now >= aimedAt} style={{ width: `${100 * Math.min(1, now)}%` }} />
                  <b style={{ left: `${100 * aimedAt}%` }} />
                </td>
                <td>{now.toFixed(2)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </div>
  );
}
