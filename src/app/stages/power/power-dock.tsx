// Cause above effect on one axis, the LEDs in the order of the wire: supply and fuses, rails and runs with what passes along them, and below them the
// volts that reach each LED: of the plan, of a panel with one feed only, and of the plan with something broken. The pointer, or the arrow keys,
// read one LED's figures. Not here: the rails' drawing (rail-diagram.tsx).
import { type KeyboardEvent, type PointerEvent, useMemo, useRef } from 'react';
import { chainNumbers, layOut } from '../../../panel/index.ts';
import { assessPower, conductorsAt, currentsAlong, voltsFigure } from '../../../power/index.ts';
import { zoneColour } from '../../canvas/volt-colours.ts';
import { useSize } from '../../frame/use-size.ts';
import { runName } from '../../workbench/commands/run-commands.ts';
import { useFigures, useShownPower, useWorkbench } from '../../workbench/context.ts';
import {
  isThere,
  type LoadCaseId,
  leastVolts,
  ledInWords,
  oneFeedInWords,
  oneFeedOutcome,
  shownCase,
  withOneFeed,
  withoutPowerInWords,
} from '../../workbench/power-view.ts';
import { type ChartRows, chartRows, sides } from './chart-rows.ts';
import { axisOf, ledTicks } from './chart-scale.ts';
import { placesBeside, placeWords, type WordsPlace, wordWidth } from './chart-words.ts';
import css from './power.module.css';
import { type Across, type PlacedInChart, RailDiagram } from './rail-diagram.tsx';
import { RailFaults } from './rail-faults.tsx';
import { supplyLines } from './supply-lines.ts';
import { ViewChoices } from './view-choices.tsx';

const railNames = (volts: number, supplies: number, rows: ChartRows) => [
  { label: supplies === 1 ? 'Supply' : 'Supplies', at: rows.supply + 4, colour: undefined },
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

/** A panel with one feed at each line's beginning in the case that is looked at: its volts LED by LED in this panel's order, and how it fares. */
function useOneFeed(isWanted: boolean, loadCase: LoadCaseId) {
  const { compiled, assessment } = useFigures();
  const other = useMemo(() => {
    if (!isWanted || compiled.project.dataLines.length === 0) return undefined;
    const project = withOneFeed(compiled.project);
    return assessPower(project, layOut(project));
  }, [compiled, isWanted]);
  return useMemo(() => {
    if (!other) return undefined;
    const outcome = oneFeedOutcome(other, loadCase);
    const voltsOf = new Map(
      other.panel.leds.map(({ run, led }, i) => [`${run} ${led}`, outcome.ledVolts[i]!]),
    );
    const volts = Float64Array.from(
      assessment.panel.leds,
      ({ run, led }) => voltsOf.get(`${run} ${led}`) ?? 0,
    );
    return { volts, words: oneFeedInWords(outcome) };
  }, [other, assessment, loadCase]);
}

/** From one figure of the volts' axis to the next. */
const leastTickPx = 21;

/** From a supply's line to its name, and the name's own length. */
const supplyNameWidth = 60;

export function PowerDock() {
  const workbench = useWorkbench();
  const { compiled, assessment: plan } = useFigures();
  const { assessment, shown, view } = useShownPower();
  const place = useRef<HTMLDivElement>(null);
  const { width } = useSize(place);
  const oneFeed = useOneFeed(view.comparesOneFeed, view.loadCase);
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
  const lines = supplyLines(
    panel.feeds.map(({ supply, atLed }) => ({ supply, x: x(atLed) })),
    panel.supplies.length === 1 ? 0 : supplyNameWidth,
  );
  const rows = chartRows(1 + lines.reduce((most, { level }) => Math.max(most, level), 0));
  const faults = view.faults.filter((fault) => isThere(compiled.project, fault));
  const isBroken = assessment !== plan;
  const planShown = shownCase(plan, view.loadCase);
  const floorVolts = leds.reduce((most, { strip }) => Math.max(most, strip.floorVolts), 0);
  const { lowest, withoutPower } = leastVolts(assessment, shown);
  // A panel of one feed may lie far below; the axis goes down to what it still can show without flattening the plan.
  const least = lowest?.volts ?? floorVolts;
  const depth = Math.min(least, floorVolts - 0.1 * panel.supplyVolts);
  // The floor stays in sight, also above a supply that is set too low.
  const high = panel.supplies.reduce((most, { volts }) => Math.max(most, volts), floorVolts);
  const mostSteps = Math.floor((rows.bottom - rows.top) / leastTickPx);
  const axis = axisOf(Math.max(0, oneFeed ? depth : Math.min(floorVolts, least)), high, mostSteps);
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
  // Its name stands where its curve leaves the chart, or beside the chart's left edge.
  const leaves = oneFeed?.volts.findIndex((volts) => volts < axis.from) ?? -1;
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
  const readWords = (led: number): string => {
    const { plusAmps, groundAmps } = conductorsAt(panel, shown, led);
    return (
      `${nameOf(led)}: ${ledInWords(assessment, shown, led)}, ` +
      `+ rail ${plusAmps.toFixed(2)} A, ground ${groundAmps.toFixed(2)} A`
    );
  };
  const lowestText = lowest ? `${voltsFigure(lowest.volts)} V at ${nameOf(lowest.led)}` : 'nothing has power';
  const lowestLead = isBroken ? 'With this broken, lowest' : 'Lowest';
  const lowestMore = withoutPower > 0 ? `; ${withoutPowerInWords(withoutPower)}` : '';
  const frame = {
    left: sides.left + 2,
    right: width - sides.right - 2,
    top: rows.top + 4,
    bottom: rows.bottom - 6,
  };
  const ampsText = `${mostAmps.toFixed(2)} A at most from LED to LED`;
  const floorText = `Floor ${floorVolts.toFixed(1)} V`;
  const oneFeedText = oneFeed?.words ?? '';
  const lowestWidth = wordWidth(`${lowestLead} ${lowestText}${lowestMore}`);
  const floorLeft = frame.right - wordWidth(floorText);
  const oneFeedLeft = Math.max(frame.left, Math.min(leavesAt + 8, frame.right - wordWidth(oneFeedText)));
  const [ampsAt, floorAt, oneFeedAt, lowestAt] = placeWords([
    { width: mostAmps > 0 ? wordWidth(ampsText) : 0, places: [{ x: frame.left, y: rows.ground + 24 }] },
    {
      width: wordWidth(floorText),
      places: [-5, 15].map((off) => ({ x: floorLeft, y: y(floorVolts) + off })),
    },
    {
      width: oneFeed ? wordWidth(oneFeedText) : 0,
      places: [0, -16, -32].flatMap((off) =>
        [oneFeedLeft, frame.left].map((left) => ({ x: left, y: frame.bottom + off })),
      ),
    },
    {
      width: lowestWidth,
      places: placesBeside(
        lowest ? { x: x(lowest.led), y: y(lowest.volts) } : { x: frame.left, y: rows.bottom - 40 },
        lowestWidth,
        frame,
      ),
    },
  ]) as [WordsPlace, WordsPlace, WordsPlace, WordsPlace];
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
        aria-valuenow={read ?? lowest?.led ?? 0}
        aria-valuetext={read === undefined ? `${lowestLead} ${lowestText}${lowestMore}` : readWords(read)}
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
          {railNames(panel.supplyVolts, panel.supplies.length, rows).map(({ label, at, colour }) => (
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
            rows={rows}
            lines={lines}
            runs={runs}
            currents={currents}
            mostAmps={mostAmps}
          />
          <RailFaults faults={faults} panel={panel} across={across} rows={rows} />
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
          <text className={css['floor-name']} {...floorAt}>
            {floorText}
          </text>
          {oneFeed &&
            zones.map(({ firstLed, ledCount }) => (
              <path
                key={firstLed}
                className={css['other-curve']}
                d={curveOf(firstLed, ledCount, oneFeed.volts, x, y, axis.from)}
              />
            ))}
          {oneFeed && (
            <text className={css['other-name']} {...oneFeedAt}>
              {oneFeedText}
            </text>
          )}
          {isBroken &&
            zones
              .filter(({ firstLed }) => plan.panel.isPowered[firstLed] === 1)
              .map(({ firstLed, ledCount }) => (
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
          {lowest && <circle className={css['lowest']} cx={x(lowest.led)} cy={y(lowest.volts)} r={4} />}
          <text className={css['lowest-name']} {...lowestAt}>
            {lowestLead}{' '}
            {lowest ? (
              <>
                <tspan>{voltsFigure(lowest.volts)} V</tspan> at {nameOf(lowest.led)}
              </>
            ) : (
              lowestText
            )}
            {lowestMore}
          </text>
          {mostAmps > 0 && (
            <text className={css['amps-name']} {...ampsAt}>
              {ampsText}
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
