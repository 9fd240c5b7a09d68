// Beside the canvas: the scale of its colours, and feeds and zones as tables.
import { chainNumbers } from '../../../panel/index.ts';
import { along, ampsFigure, feedLossVolts, lostVoltsFigure, voltsFigure } from '../../../power/index.ts';
import { voltColour, voltScale, zoneColour } from '../../canvas/volt-colours.ts';
import { useFigures, useSelected, useShownPower, useWorkbench } from '../../workbench/context.ts';
import { drawnAmps, leastVolts, withoutPowerInWords } from '../../workbench/power-view.ts';
import css from './power.module.css';
import { lowered, useCaseTitle, useIsBroken } from './use-case-title.ts';
import { wireName } from './wire-choices.ts';

const scaleSteps = 30;
const tickCount = 6;

/** The scale of the LEDs' colours; a bracket shows where this panel's lie on it, and what lies under it is crossed out. */
function Scale() {
  const { assessment, shown } = useShownPower();
  const title = useCaseTitle();
  const { lowVolts, highVolts } = voltScale(assessment);
  const span = highVolts - lowVolts;
  const digits = span < 0.5 ? 2 : 1;
  const ticks = Array.from({ length: tickCount }, (_, i) => lowVolts + (span * i) / (tickCount - 1));
  const fed = assessment.panel.leds.flatMap((_, led) =>
    assessment.panel.isPowered[led] === 1 ? [shown.ledVolts[led]!] : [],
  );
  const percent = (volts: number) => 100 * Math.min(1, Math.max(0, (volts - lowVolts) / span));
  const least = fed.reduce((low, volts) => Math.min(low, volts), Number.POSITIVE_INFINITY);
  const most = fed.reduce((high, volts) => Math.max(high, volts), Number.NEGATIVE_INFINITY);
  const belowCount = assessment.panel.leds.filter(
    ({ strip }, led) => assessment.panel.isPowered[led] === 1 && shown.ledVolts[led]! < strip.floorVolts,
  ).length;
  const { withoutPower } = leastVolts(assessment, shown);
  const crossedOut = [
    ...(belowCount > 0 ? [`${belowCount} ${belowCount === 1 ? 'LED' : 'LEDs'} below the floor`] : []),
    ...(withoutPower > 0 ? [withoutPowerInWords(withoutPower)] : []),
  ];
  return (
    <section>
      <h2>
        Voltage at each LED <span>{lowered(title)}</span>
      </h2>
      {fed.length > 0 && (
        <div
          className={css['scale-reach']}
          style={{ marginLeft: `${percent(least)}%`, width: `${percent(most) - percent(least)}%` }}
          aria-hidden="true"
        />
      )}
      <div className={css['scale']} aria-hidden="true">
        {Array.from({ length: scaleSteps }, (_, step) => (
          <i
            key={voltColour(step / (scaleSteps - 1))}
            style={{ background: voltColour(step / (scaleSteps - 1)) }}
          />
        ))}
      </div>
      <div className={css['scale-ticks']}>
        {ticks.map((volts, index) => (
          <span key={volts}>
            {volts.toFixed(digits)}
            {index === ticks.length - 1 && ' V'}
          </span>
        ))}
      </div>
      {fed.length > 0 && (
        <p className={css['scale-words']}>
          {voltsFigure(least)} to {voltsFigure(most)} V, {/* Of the figures beside it, so that they agree. */}
          {(Number(voltsFigure(most)) - Number(voltsFigure(least))).toFixed(2)} V apart
        </p>
      )}
      {crossedOut.length > 0 && (
        <p className={`${css['scale-words']} ${css['warn']}`}>{crossedOut.join(', ')}, crossed out</p>
      )}
    </section>
  );
}

const range = (values: readonly (number | undefined)[]): string => {
  const known = values.filter((value) => value !== undefined);
  if (known.length === 0) return 'outside';
  const [least, most] = [Math.min(...known), Math.max(...known)];
  return least === most ? String(least) : `${least}–${most}`;
};

function ZoneLowest({ hasFeed, volts }: { readonly hasFeed: boolean; readonly volts: number | undefined }) {
  if (hasFeed && volts !== undefined) return voltsFigure(volts);
  return <span className={css['warn']}>{hasFeed ? 'no power' : 'no feed'}</span>;
}

function Zones() {
  const { compiled } = useFigures();
  const { assessment, shown } = useShownPower();
  const isBroken = useIsBroken();
  const numbers = chainNumbers(compiled.layout);
  const { panel } = assessment;
  return (
    <section>
      <h2>Zones</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">Zone</th>
            <th scope="col">Runs</th>
            <th scope="col">LEDs</th>
            <th scope="col">Draws, A</th>
            <th scope="col">Lowest, V</th>
          </tr>
        </thead>
        <tbody>
          {panel.zones.map(({ runs, firstLed, ledCount, feeds }, zone) => (
            <tr key={firstLed}>
              <th scope="row">
                <i className={css['key']} style={{ background: zoneColour(zone) }} />
                {zone + 1}
              </th>
              <td>{range(runs.map(({ run }) => numbers.get(run.id)))}</td>
              <td>{ledCount}</td>
              <td>{drawnAmps(assessment, shown, isBroken, firstLed, ledCount).toFixed(2)}</td>
              <td>
                <ZoneLowest
                  hasFeed={feeds.length > 0}
                  volts={leastVolts(assessment, shown, firstLed, ledCount).lowest?.volts}
                />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function FeedTable() {
  const workbench = useWorkbench();
  const { compiled } = useFigures();
  const { assessment, shown } = useShownPower();
  const numbers = chainNumbers(compiled.layout);
  const chosen = useSelected('feed')?.index;
  return (
    <section>
      <h2>Feeds</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">Feed</th>
            <th scope="col">Run</th>
            <th scope="col">Wire</th>
            <th scope="col">mm</th>
            <th scope="col">Fuse, A</th>
            <th scope="col">A</th>
            <th scope="col">Drop, V</th>
          </tr>
        </thead>
        <tbody>
          {assessment.feedSizes.map(({ conductors, fuseAmps }, index) => (
            <tr key={conductors.at} data-chosen={index === chosen}>
              <th scope="row">
                <button
                  type="button"
                  aria-pressed={index === chosen}
                  onClick={() => workbench.select({ kind: 'feed', index })}
                >
                  F{index + 1}
                </button>
              </th>
              <td>{numbers.get(conductors.feed.run) ?? '-'}</td>
              <td>{wireName(conductors.wire.id)}</td>
              <td>{conductors.feed.lengthMm.toFixed(0)}</td>
              <td>{fuseAmps ?? <span className={css['warn']}>none fits</span>}</td>
              <td>{ampsFigure(along(shown.linkAmps, conductors.plus))}</td>
              <td>{lostVoltsFigure(feedLossVolts(assessment.panel, shown, conductors))}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {assessment.feedSizes.length === 0 && (
        <p className={css['soft']}>No feed yet. Choose "Add a feed" and press an LED.</p>
      )}
    </section>
  );
}

export const PowerTables = () => (
  // biome-ignore lint/a11y/noNoninteractiveTabindex: a part that scrolls must be reachable by key
  <section className={css['tables']} tabIndex={0} aria-label="Feeds and zones">
    <Scale />
    <FeedTable />
    <Zones />
  </section>
);
