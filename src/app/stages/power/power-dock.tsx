// Cause above effect on one axis, the LEDs in the order of the wire: supply and fuses, the +5 V rail by zones, the runs, ground, and below them
// the voltage that reaches each LED.
import { useRef } from 'react';
import { chainNumbers } from '../../../panel/index.ts';
import { lowestLed } from '../../../power/index.ts';
import { zoneColour } from '../../canvas/volt-colours.ts';
import { useSize } from '../../frame/use-size.ts';
import { runName } from '../../workbench/commands/run-commands.ts';
import { useFigures, useWorkbench } from '../../workbench/context.ts';
import css from './power.module.css';

const left = 86;
const right = 28;
const y = {
  supply: 16,
  fuse: 26,
  plus: 66,
  data: 76,
  dataHeight: 18,
  ground: 106,
  top: 128,
  bottom: 232,
  axis: 250,
};
const height = 262;

const stepsVolts = [0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10];

const ledSteps = [1, 2, 5, 10, 20, 50, 100, 200, 500];

/** Round numbers along the wire, counted from 0 as everywhere, and the last LED. */
function ledTicks(count: number): number[] {
  const step = ledSteps.find((leds) => count / leds <= 8) ?? 500;
  const round = Array.from({ length: Math.ceil(count / step) }, (_, i) => i * step);
  return [...round.filter((led) => led <= count - 1 - step / 3), count - 1];
}

/** From a little under the lowest volts that matter up to the supply's, in steps that read well. */
function voltAxis(lowVolts: number, highVolts: number) {
  const step = stepsVolts.find((volts) => (highVolts - lowVolts) / volts <= 4) ?? 10;
  const from = Math.floor(lowVolts / step + 1e-9) * step;
  const count = Math.ceil((highVolts - from) / step - 1e-9);
  return {
    from,
    to: from + count * step,
    ticks: Array.from({ length: count + 1 }, (_, i) => from + i * step),
  };
}

export function PowerDock() {
  const workbench = useWorkbench();
  const { assessment, compiled } = useFigures();
  const place = useRef<HTMLDivElement>(null);
  const { width } = useSize(place);
  const { panel, worst, feedSizes } = assessment;
  const { leds, zones } = panel;
  if (leds.length === 0)
    return (
      <div ref={place} className={css['dock']}>
        <p className={css['soft']}>No LED yet: draw runs first, in the stage Runs.</p>
      </div>
    );
  const numbers = chainNumbers(compiled.layout);
  const perLed = Math.max(0, width - left - right) / leds.length;
  const x = (led: number) => left + (led + 0.5) * perLed;
  // Words stand on the right of what they name, and on its left near the right edge.
  const beside = (px: number, room = 80) =>
    px > width - right - room ? { x: px - 9, textAnchor: 'end' as const } : { x: px + 9 };
  const floorVolts = Math.max(...leds.map(({ strip }) => strip.floorVolts));
  const lowest = lowestLed(worst.ledVolts)!;
  const axis = voltAxis(Math.min(floorVolts, Math.max(0, lowest.volts)), panel.supplyVolts);
  const volt = (volts: number) =>
    y.bottom - ((y.bottom - y.top) * (Math.max(axis.from, volts) - axis.from)) / (axis.to - axis.from);
  const runs = [...zones].flatMap((zone) => {
    let first = zone.firstLed;
    return zone.runs.map((placed) => {
      const from = first;
      first += placed.run.ledCount;
      return { placed, from };
    });
  });
  const fedLeds = feedSizes.map(({ conductors }) => conductors.atLed);
  const lowLed = leds[lowest.led]!;
  const lowRun = compiled.project.runs.find(({ id }) => id === lowLed.run)!;
  const lowAt = x(lowest.led);
  return (
    <div ref={place} className={css['dock']}>
      <svg
        width={width}
        height={height}
        role="img"
        aria-label={`Voltage along the wire, all white: lowest ${lowest.volts.toFixed(2)} V at ${runName(lowRun)}, LED ${lowLed.led}; floor ${floorVolts} V`}
      >
        {zones.map(({ firstLed, ledCount }, zone) => (
          <rect
            key={firstLed}
            className={css['zone-band']}
            style={{ fill: zoneColour(zone) }}
            x={left + firstLed * perLed}
            y={y.plus - 12}
            width={ledCount * perLed}
            height={y.bottom - y.plus + 12}
          />
        ))}
        {[
          { label: 'Supply', at: y.supply + 4 },
          { label: `+${panel.supplyVolts} V`, at: y.plus + 4, colour: 'var(--feed)' },
          { label: 'Data', at: y.data + 14, colour: 'var(--data)' },
          { label: 'Ground', at: y.ground + 4, colour: 'var(--ink)' },
          { label: 'LED', at: y.axis + 6 },
        ].map(({ label, at, colour }) => (
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
        {fedLeds.length > 0 && (
          <path className={css['rail']} d={`M${left - 10} ${y.supply}H${x(Math.max(...fedLeds))}`} />
        )}
        {feedSizes.map(({ conductors: { at, atLed }, fuseAmps, loadAmps }, index) => (
          <g key={at}>
            <path className={css['feed-wire']} d={`M${x(atLed)} ${y.supply}V${y.plus}`} />
            <rect className={css['fuse']} x={x(atLed) - 3.5} y={y.fuse} width={7} height={18} />
            <path className={css['feed-wire']} d={`M${x(atLed)} ${y.fuse}v18`} />
            <circle className={css['joint']} cx={x(atLed)} cy={y.plus} r={3} />
            <text className={css['feed-label']} {...beside(x(atLed))} y={y.fuse + 8}>
              F{index + 1} <tspan>{fuseAmps === undefined ? 'no fuse fits' : `${fuseAmps} A`}</tspan>
            </text>
            <text className={css['feed-load']} {...beside(x(atLed))} y={y.fuse + 22}>
              {loadAmps.toFixed(2)} A
            </text>
          </g>
        ))}
        {zones.map(({ firstLed, ledCount }) => (
          <path
            key={firstLed}
            className={css['rail']}
            d={`M${left + firstLed * perLed + 2} ${y.plus}h${Math.max(0, ledCount * perLed - 4)}m0 -5v10M${left + firstLed * perLed + 2} ${y.plus - 5}v10`}
          />
        ))}
        {runs.map(({ placed, from }) => {
          const runWidth = placed.run.ledCount * perLed;
          const zone = leds[from]!.zone;
          return (
            // biome-ignore lint/a11y/noStaticElementInteractions: the tables and the canvas choose runs by key
            <g key={placed.run.id} onClick={() => workbench.select({ kind: 'run', id: placed.run.id })}>
              <rect
                className={css['run']}
                style={{ stroke: zoneColour(zone) }}
                x={left + from * perLed + 1}
                y={y.data}
                width={Math.max(1, runWidth - 2)}
                height={y.dataHeight}
                rx={2}
              />
              {runWidth > 16 && (
                <text className={css['run-number']} x={left + from * perLed + runWidth / 2} y={y.data + 13.5}>
                  {numbers.get(placed.run.id) ?? '-'}
                </text>
              )}
            </g>
          );
        })}
        <path className={css['ground']} d={`M${left} ${y.ground}H${width - right}`} />
        {axis.ticks.map((volts) => (
          <g key={volts}>
            <path className={css['grid']} d={`M${left} ${volt(volts)}H${width - right}`} />
            <text className={css['tick']} x={left - 10} y={volt(volts) + 4}>
              {volts.toFixed(2)} V
            </text>
          </g>
        ))}
        <path className={css['floor']} d={`M${left} ${volt(floorVolts)}H${width - right}`} />
        <text className={css['floor-name']} x={width - right - 2} y={volt(floorVolts) - 6}>
          Floor {floorVolts.toFixed(1)} V
        </text>
        {zones.map(({ firstLed, ledCount, feeds }, zone) =>
          feeds.length === 0 ? null : (
            <path
              key={firstLed}
              className={css['curve']}
              style={{ stroke: zoneColour(zone) }}
              d={Array.from(
                { length: ledCount },
                (_, i) => `${i === 0 ? 'M' : 'L'}${x(firstLed + i)} ${volt(worst.ledVolts[firstLed + i]!)}`,
              ).join('')}
            />
          ),
        )}
        <circle className={css['lowest']} cx={lowAt} cy={volt(lowest.volts)} r={4} />
        <text className={css['lowest-name']} {...beside(lowAt, 270)} y={volt(lowest.volts) + 16}>
          Lowest <tspan>{lowest.volts.toFixed(2)} V</tspan> at {runName(lowRun)}, LED {lowLed.led}
        </text>
        {ledTicks(leds.length).map((led) => (
          <text key={led} className={css['led-tick']} x={x(led)} y={y.axis + 6}>
            {led}
          </text>
        ))}
      </svg>
    </div>
  );
}
