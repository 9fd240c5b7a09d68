// Beside the canvas: the scale of its colours, and zones and feeds as tables.
import { chainNumbers } from '../../../panel/index.ts';
import { lowestLed } from '../../../power/index.ts';
import { voltColour, voltScale, zoneColour } from '../../canvas/volt-colours.ts';
import { useFigures, useSelected, useWorkbench } from '../../workbench/context.ts';
import css from './power.module.css';

const scaleSteps = 24;

function Scale() {
  const { assessment } = useFigures();
  const { lowVolts, highVolts } = voltScale(assessment);
  const ticks = Array.from({ length: 6 }, (_, i) => lowVolts + ((highVolts - lowVolts) * i) / 5);
  return (
    <section>
      <h2>
        Voltage at each LED <span>all white</span>
      </h2>
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
            {volts.toFixed(1)}
            {index === ticks.length - 1 && ' V'}
          </span>
        ))}
      </div>
    </section>
  );
}

const range = (values: readonly (number | undefined)[]): string => {
  const known = values.filter((value) => value !== undefined);
  if (known.length === 0) return 'outside';
  const [least, most] = [Math.min(...known), Math.max(...known)];
  return least === most ? String(least) : `${least}–${most}`;
};

function Zones() {
  const { assessment, compiled } = useFigures();
  const numbers = chainNumbers(compiled.layout);
  const { panel, worst } = assessment;
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
              <td>
                {worst.ledAmps
                  .subarray(firstLed, firstLed + ledCount)
                  .reduce((sum, amps) => sum + amps, 0)
                  .toFixed(2)}
              </td>
              <td>
                {feeds.length === 0 ? (
                  <span className={css['warn']}>no feed</span>
                ) : (
                  (lowestLed(worst.ledVolts, firstLed, ledCount)?.volts ?? 0).toFixed(2)
                )}
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
  const { assessment, compiled } = useFigures();
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
            <th scope="col">Draws, A</th>
          </tr>
        </thead>
        <tbody>
          {assessment.feedSizes.map(({ conductors: { feed, wire, at }, loadAmps, fuseAmps }, index) => (
            <tr key={at} data-chosen={index === chosen}>
              <th scope="row">
                <button
                  type="button"
                  aria-pressed={index === chosen}
                  onClick={() => workbench.select({ kind: 'feed', index })}
                >
                  F{index + 1}
                </button>
              </th>
              <td>{numbers.get(feed.run) ?? '-'}</td>
              <td>{wire.id.replace('mm2', 'mm²')}</td>
              <td>{feed.lengthMm.toFixed(0)}</td>
              <td>{fuseAmps ?? <span className={css['warn']}>none fits</span>}</td>
              <td>{loadAmps.toFixed(2)}</td>
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
  <section className={css['tables']} tabIndex={0} aria-label="Zones and feeds">
    <Scale />
    <Zones />
    <FeedTable />
  </section>
);
