// Cause above effect on one axis, the LEDs in the order of the wire: supply and fuses, rails and runs with what passes along them, and below them the
// volts that reach each LED: of the plan, of a panel with one feed only, and of the plan with something broken. The pointer, or the arrow keys,
// read one LED's figures. Not here: the rails' drawing (rail-diagram.tsx).
import { type KeyboardEvent, type PointerEvent, useMemo, useRef } from 'react';
import { chainNumbers, layOut } from '../../../panel/index.ts';
import { assessPower, currentsAlong, lowestLed, voltsFigure } from '../../../power/index.ts';
import { zoneColour } from '../../canvas/volt-colours.ts';
import { useSize } from '../../frame/use-size.ts';
import { runName } from '../../workbench/commands/run-commands.ts';
import { useFigures, useShownPower, useWorkbench } from '../../workbench/context.ts';
import { shownCase, withOneFeed } from '../../workbench/power-view.ts';
import { rows, sides } from './chart-rows.ts';
import { axisOf, ledTicks } from './chart-scale.ts';
import css from './power.module.css';
import { type Across, type PlacedInChart, RailDiagram } from './rail-diagram.tsx';
import { ViewChoices } from './view-choices.tsx';

const railNames = (volts: number) => [
  { label: 'Supply', at: rows.supply + 4, colour: undefined },
  { label: `+${volts} V`, at: rows.plus + 4, colour: 'var(--feed)' },
  { label: 'Data', at: rows.data + 14, colour: 'var(--data)' },
  { label: 'Ground', at: rows.ground + 5, colour: 'var(--ink)' },
  { label: 'LED', at: rows.axis + 4, colour: undefined },
];

/** Volts by LED as one zone's line, so that nothing looks joined that isn't; broken where it lies below what is drawn. */
const curveOf = (
  firstLed: number,
  ledCount: number,
  volts: ArrayLike<number>,
  x: (led: number) => number,
  y: (volts: number) => number,
  lowestDrawn = Number.NEGATIVE_INFINITY,
): string => {
  let isDrawing = false;
  return Array.from({ length: ledCount }, (_, i) => {
    const at = volts[firstLed + i]!;
    const step = isDrawing ? 'L' : 'M';
    isDrawing = at >= lowestDrawn;
    return isDrawing ? `${step}${x(firstLed + i).toFixed(1)} ${y(at).toFixed(1)}` : '';
  }).join('');
};

/** The volts of a panel with one feed at each line's beginning, LED by LED in this panel's order. */
function useOneFeedVolts(isWanted: boolean): Float64Array | undefined {
  const { compiled, assessment } = useFigures();
  return useMemo(() => {
    if (!isWanted || compiled.project.dataLines.length === 0) return undefined;
    const project = withOneFeed(compiled.project);
    const other = assessPower(project, layOut(project));
    const voltsOf = new Map(
      other.panel.leds.map(({ run, led }, i) => [`${run} ${led}`, other.worst.ledVolts[i]!]),
    );
    return Float64Array.from(assessment.panel.leds, ({ run, led }) => voltsOf.get(`${run} ${led}`) ?? 0);
  }, [compiled, assessment, isWanted]);
}

export function PowerDock() {
  const workbench = useWorkbench();
  const { compiled, assessment: plan } = useFigures();
  const { assessment, shown, view } = useShownPower();
  const place = useRef<HTMLDivElement>(null);
  const { width } = useSize(place);
  const oneFeed = useOneFeedVolts(view.comparesOneFeed);
  const currents = useMemo(() => currentsAlong(assessment.panel, shown), [assessment, shown]);
  const { panel } = assessment;
  const { leds, zones } = panel;
  if (leds.length === 0)
    return (
      <div ref={place} className={css['dock']}>
        <p className={css['soft']}>No LED yet: draw runs first, in the stage Runs.</p>
      </div>
    );
  const numbers = chainNumbers(compiled.layout);
  const perLed = Math.max(0, width - sides.left - sides.right) / leds.length;
  const x = (led: number) => sides.left + (led + 0.5) * perLed;
  const across: Across = { x, perLed, left: sides.left, right: width - sides.right };
  const isBroken = assessment !== plan;
  const planShown = shownCase(plan, view.loadCase);
  const floorVolts = leds.reduce((most, { strip }) => Math.max(most, strip.floorVolts), 0);
  // What nothing powers any more lies at 0 V, which says nothing of the others.
  const unpowered = leds.filter((_, led) => panel.isPowered[led] === 0).length;
  const isAllDark = unpowered === leds.length;
  const lowest = lowestLed(
    isAllDark
      ? shown.ledVolts
      : shown.ledVolts.map((volts, led) => (panel.isPowered[led] === 1 ? volts : 1e9)),
  )!;
  // A panel of one feed may lie far below; the axis goes down to what it still can show without flattening the plan.
  const depth = Math.min(lowest.volts, floorVolts - 0.1 * panel.supplyVolts);
  const high = panel.supplies.reduce((most, { volts }) => Math.max(most, volts), 0);
  const axis = axisOf(Math.max(0, oneFeed ? depth : Math.min(floorVolts, lowest.volts)), high, 5);
  const y = (volts: number) =>
    rows.bottom -
    ((rows.bottom - rows.top) * (Math.min(axis.to, Math.max(axis.from, volts)) - axis.from)) /
      (axis.to - axis.from);
  const runs = zones.flatMap((zone, index): PlacedInChart[] => {
    let first = zone.firstLed;
    return zone.runs.map(({ run }) => {
      const from = first;
      first += run.ledCount;
      return {
        id: run.id,
        name: runName(run),
        number: String(numbers.get(run.id) ?? '-'),
        from,
        ledCount: run.ledCount,
        zone: index,
      };
    });
  });
  const nameOf = (led: number) => {
    const run = runs.findLast(({ from }) => from <= led)!;
    return `${run.name}, LED ${leds[led]!.led}`;
  };
  const mostAmps = [currents.plusAmps, currents.groundAmps].reduce(
    (most, list) => list.reduce((sum, amps) => Math.max(sum, Math.abs(amps)), most),
    0,
  );
  const oneLowest = oneFeed && lowestLed(oneFeed);
  // Its name stands where its curve leaves the chart, or beside the chart's left edge.
  const leaves = oneFeed?.findIndex((volts) => volts < axis.from) ?? -1;
  const leavesAt = leaves < 0 ? sides.left : x(leaves);
  const point = (led: number | undefined) => {
    const { powerView } = workbench.state;
    if (powerView.led !== led) workbench.set({ powerView: { ...powerView, led } });
  };
  const onPointerMove = (event: PointerEvent<HTMLElement>) => {
    const at = event.clientX - event.currentTarget.getBoundingClientRect().left;
    const led = Math.floor((at - sides.left) / perLed);
    point(led >= 0 && led < leds.length ? led : undefined);
  };
  const onKeyDown = (event: KeyboardEvent) => {
    const step = { ArrowLeft: -1, ArrowRight: 1, Home: -leds.length, End: leds.length }[event.key];
    if (step === undefined) return;
    event.preventDefault();
    event.stopPropagation();
    point(Math.min(leds.length - 1, Math.max(0, (view.led ?? (step > 0 ? -1 : leds.length)) + step)));
  };
  const read = view.led !== undefined && view.led < leds.length ? view.led : undefined;
  const words = read === undefined ? undefined : `${nameOf(read)}: ${shown.ledVolts[read]!.toFixed(3)} V`;
  const lowAt = x(lowest.led);
  return (
    <div ref={place} className={css['dock']}>
      <ViewChoices />
      <div
        className={css['chart']}
        role="slider"
        tabIndex={0}
        aria-label="Volts along the wire; arrow keys go from LED to LED"
        aria-valuemin={0}
        aria-valuemax={leds.length - 1}
        aria-valuenow={read ?? lowest.led}
        aria-valuetext={words ?? `lowest ${voltsFigure(lowest.volts)} V at ${nameOf(lowest.led)}`}
        onPointerMove={onPointerMove}
        onPointerLeave={() => point(undefined)}
        onKeyDown={onKeyDown}
        onBlur={() => point(undefined)}
      >
        <svg width={width} height={rows.height} aria-hidden="true">
          {zones.map(({ firstLed, ledCount }, zone) => (
            <rect
              key={firstLed}
              className={css['zone-band']}
              style={{ fill: zoneColour(zone) }}
              x={sides.left + firstLed * perLed}
              y={rows.plus - 14}
              width={ledCount * perLed}
              height={rows.bottom - rows.plus + 14}
            />
          ))}
          {railNames(panel.supplyVolts).map(({ label, at, colour }) => (
            <text
              key={label}
              className={css['name']}
              style={colour === undefined ? undefined : { fill: colour }}
              x={22}
              y={at}
            >
              {label}
            </text>
          ))}
          <RailDiagram
            assessment={assessment}
            shown={shown}
            across={across}
            runs={runs}
            currents={currents}
            mostAmps={mostAmps}
          />
          {axis.ticks.map((volts) => (
            <g key={volts}>
              <path className={css['grid']} d={`M${sides.left} ${y(volts)}H${width - sides.right}`} />
              <text className={css['tick']} x={sides.left - 10} y={y(volts) + 4}>
                {volts.toFixed(2)} V
              </text>
            </g>
          ))}
          {floorVolts > axis.from && (
            <rect
              className={css['below-floor']}
              x={sides.left}
              y={y(floorVolts)}
              width={Math.max(0, width - sides.left - sides.right)}
              height={rows.bottom - y(floorVolts)}
            />
          )}
          <path className={css['floor']} d={`M${sides.left} ${y(floorVolts)}H${width - sides.right}`} />
          <text className={css['floor-name']} x={width - sides.right - 2} y={y(floorVolts) - 5}>
            Floor {floorVolts.toFixed(1)} V
          </text>
          {oneFeed &&
            zones.map(({ firstLed, ledCount }) => (
              <path
                key={firstLed}
                className={css['other-curve']}
                d={curveOf(firstLed, ledCount, oneFeed, x, y, axis.from)}
              />
            ))}
          {oneLowest && (
            <text className={css['other-name']} x={Math.min(leavesAt + 8, width - 260)} y={rows.bottom - 6}>
              One feed a line: <tspan>{voltsFigure(oneLowest.volts)} V</tspan>
              {oneLowest.volts < 0 && ', more than there is'}
            </text>
          )}
          {isBroken &&
            zones.map(({ firstLed, ledCount }) => (
              <path
                key={firstLed}
                className={css['plan-curve']}
                d={curveOf(firstLed, ledCount, planShown.ledVolts, x, y)}
              />
            ))}
          {zones.map(({ firstLed, ledCount }, zone) =>
            panel.isPowered[firstLed] === 0 && panel.isPowered[firstLed + ledCount - 1] === 0 ? null : (
              <path
                key={firstLed}
                className={css['curve']}
                style={{ stroke: zoneColour(zone) }}
                d={curveOf(firstLed, ledCount, shown.ledVolts, x, y)}
              />
            ),
          )}
          <circle className={css['lowest']} cx={lowAt} cy={y(lowest.volts)} r={4} />
          <text
            className={css['lowest-name']}
            x={lowAt > width - 300 ? lowAt - 9 : lowAt + 9}
            textAnchor={lowAt > width - 300 ? 'end' : 'start'}
            y={Math.min(rows.bottom - 20, y(lowest.volts) + 16)}
          >
            {isBroken ? 'Broken so, lowest' : 'Lowest'} <tspan>{voltsFigure(lowest.volts)} V</tspan> at{' '}
            {nameOf(lowest.led)}
            {unpowered > 0 && `; ${unpowered} ${unpowered === 1 ? 'LED' : 'LEDs'} without power`}
          </text>
          {mostAmps > 0 && (
            <text className={css['amps-name']} x={sides.left + 2} y={rows.ground + 24}>
              {mostAmps.toFixed(2)} A at most from LED to LED
            </text>
          )}
          {read !== undefined && (
            <g className={css['reading']}>
              <path d={`M${x(read)} ${rows.plus - 14}V${rows.bottom}`} />
              <circle cx={x(read)} cy={y(shown.ledVolts[read]!)} r={3} />
            </g>
          )}
          {ledTicks(leds.length).map((led) => (
            <text key={led} className={css['led-tick']} x={x(led)} y={rows.axis + 4}>
              {led}
            </text>
          ))}
        </svg>
      </div>
    </div>
  );
}
