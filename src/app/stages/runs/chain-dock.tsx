// The chains as a table, one column a run, in the order in which data passes them. A column chooses its run,
// its "+5 V in" the jumper that leads to it; the buttons move the run.
import { chainNumbers, type PlacedRun } from '../../../panel/index.ts';
import { moveInChain } from '../../../project/index.ts';
import { Button } from '../../fields/index.ts';
import { runName } from '../../workbench/commands/run-commands.ts';
import {
  useCompiled,
  useEdit,
  useProject,
  useScreen,
  useSelected,
  useWorkbench,
} from '../../workbench/context.ts';
import { type ChainPlace, chainPlaceOf, lineName } from './chain-places.ts';
import css from './runs.module.css';

/** An arrow that points where the run's does. */
function Arrow({ arrowDeg }: { readonly arrowDeg: number }) {
  const side = useScreen((state) => state.side);
  // Drawn as the canvas shows it: from the rear, left and right are exchanged.
  const seenDeg = side === 'rear' ? 180 - arrowDeg : arrowDeg;
  return (
    <svg
      width="18"
      height="14"
      viewBox="-9 -7 18 14"
      role="img"
      aria-label={`${Math.round(arrowDeg)} degrees`}
    >
      <path className={css['arrow']} d="M-6 0H5M1 -4L5 0L1 4" transform={`rotate(${-seenDeg})`} />
    </svg>
  );
}

interface Row {
  readonly label: string;
  readonly cell: (placed: PlacedRun, jumper: JumperPlace | undefined) => React.ReactNode;
}

/** The jumper that leads to a run; none leads to the first of a line. */
interface JumperPlace extends ChainPlace {
  readonly power: 'carried' | 'cut';
}

function JumperButton({ jumper, to }: { readonly jumper: JumperPlace; readonly to: string }) {
  const workbench = useWorkbench();
  const chosen = useSelected('jumper');
  const { line, place, power } = jumper;
  return (
    <button
      type="button"
      className={power === 'cut' ? css['cut'] : undefined}
      aria-pressed={chosen?.line === line && chosen.place === place}
      title={`Jumper to ${to}`}
      onClick={() => workbench.select({ kind: 'jumper', line, place })}
    >
      {power === 'cut' ? 'cut' : 'yes'}
      <span className="visually-hidden">, jumper to {to}</span>
    </button>
  );
}

const rows: readonly Row[] = [
  { label: 'Arrow', cell: ({ run }) => <Arrow arrowDeg={run.arrowDeg} /> },
  { label: 'LEDs', cell: ({ run }) => run.ledCount },
  { label: 'Cut, mm', cell: ({ cutLengthMm }) => cutLengthMm.toFixed(1) },
  {
    label: '+5 V in',
    cell: ({ run }, jumper) => (jumper ? <JumperButton jumper={jumper} to={runName(run)} /> : '–'),
  },
];

export function ChainDock() {
  const workbench = useWorkbench();
  const edit = useEdit();
  const project = useProject((one) => one);
  const { layout } = useCompiled();
  const numbers = chainNumbers(layout);
  const chosen = useSelected('run')?.id;
  const place = chosen === undefined ? undefined : chainPlaceOf(project, chosen);
  const last = place && project.dataLines[place.line]!.chain.length - 1;
  const columns = layout.lines.flatMap(({ runs, jumpers, index: line }) =>
    runs.map((placed, index) => {
      const jumper = jumpers[index - 1];
      return { placed, jumper: jumper && { line, place: jumper.place, power: jumper.power } };
    }),
  );
  return (
    <div className={css['dock']}>
      <header className={css['dock-head']}>
        <h2>Chain</h2>
        <p>
          {layout.lines.length === 0
            ? 'No run yet. Draw one on the panel, or add one on the right.'
            : layout.lines
                .map(
                  (line) =>
                    `${lineName(project, line.index)}: ${line.ledCount} LEDs in ${line.runs.length} runs`,
                )
                .join(', ')}
          {layout.unchained.length > 0 && (
            <span className={css['warn']}>, {layout.unchained.length} outside every chain</span>
          )}
        </p>
        <Button
          isDisabled={!place || place.place === 0}
          onPress={() =>
            place && edit('Change chain order', moveInChain(place.line, place.place, place.place - 1))
          }
        >
          Earlier in the chain
        </Button>
        <Button
          isDisabled={!place || place.place === last}
          onPress={() =>
            place && edit('Change chain order', moveInChain(place.line, place.place, place.place + 1))
          }
        >
          Later in the chain
        </Button>
      </header>
      {columns.length > 0 && (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: a part that scrolls must be reachable by key
        <section className={css['scroll']} tabIndex={0} aria-label="Chain table">
          <table>
            <thead>
              <tr>
                <th scope="row">Run</th>
                {columns.map(({ placed }) => {
                  const { id } = placed.run;
                  return (
                    <th key={id} scope="col" data-chosen={id === chosen}>
                      <button
                        type="button"
                        title={runName(placed.run)}
                        aria-pressed={id === chosen}
                        onClick={() => workbench.select({ kind: 'run', id })}
                      >
                        {numbers.get(id)}
                        <span className="visually-hidden"> {runName(placed.run)}</span>
                      </button>
                    </th>
                  );
                })}
              </tr>
            </thead>
            <tbody>
              {rows.map(({ label, cell }) => (
                <tr key={label}>
                  <th scope="row">{label}</th>
                  {columns.map(({ placed, jumper }) => (
                    <td key={placed.run.id} data-chosen={placed.run.id === chosen}>
                      {cell(placed, jumper)}
                    </td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      )}
    </div>
  );
}
