// In the rail diagram: a cross where a conductor is taken to be cut, a wave where its joint is taken to be bad.
import { type Fault, type PanelNetwork, placeKey } from '../../../power/index.ts';
import type { ChartRows } from './chart-rows.ts';
import css from './power.module.css';
import type { Across } from './rail-diagram.tsx';

/** Where the conductor is drawn; undefined where it is no more. A feed's + is its own wire, and its ground enters the ground rail. */
function placeOf({ at }: Fault, panel: PanelNetwork, { x }: Across, rows: ChartRows) {
  if (at.kind === 'feed') {
    const feed = panel.feeds[at.feed];
    return feed && { x: x(feed.atLed), y: at.rail === 'plus' ? rows.plus - 18 : rows.ground };
  }
  const conductor =
    at.kind === 'jumper'
      ? panel.jumpers.find(({ line, place }) => line === at.line && place === at.place)
      : panel.segments.find(({ fromLed, toLed }) => {
          const [from, to] = [panel.leds[fromLed]!, panel.leds[toLed]!];
          return from.run === at.run && Math.min(from.led, to.led) === at.led;
        });
  return (
    conductor && {
      x: (x(conductor.fromLed) + x(conductor.toLed)) / 2,
      y: at.rail === 'plus' ? rows.plus : rows.ground,
    }
  );
}

export const RailFaults = ({
  faults,
  panel,
  across,
  rows,
}: {
  readonly faults: readonly Fault[];
  readonly panel: PanelNetwork;
  readonly across: Across;
  readonly rows: ChartRows;
}) =>
  faults.map((fault) => {
    const place = placeOf(fault, panel, across, rows);
    return (
      place && (
        <g
          key={placeKey(fault.at)}
          className={css['rail-fault']}
          transform={`translate(${place.x} ${place.y})`}
        >
          <circle r={7} />
          <path d={fault.what === 'cut' ? 'M-3 -3l6 6m0 -6l-6 6' : 'M-4 0l2 -3l4 6l2 -3'} />
        </g>
      )
    );
  });
