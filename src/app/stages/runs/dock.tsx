// The dock of the stage Runs: the chain as planned, or what was built otherwise, as a table with one column a run.
import { useMemo, useState } from 'react';
import { builtRun, type PlacedRun } from '../../../panel/index.ts';
import {
  clearAsBuilt,
  moveInChain,
  moveRunToChain,
  type Project,
  unchainRun,
} from '../../../project/index.ts';
import { Button, Segments } from '../../fields/index.ts';
import { figure } from '../../format.ts';
import { runName } from '../../workbench/commands/run-commands.ts';
import { useEdit, useSelected, useSettled, useWorkbench } from '../../workbench/context.ts';
import { builtWords } from './as-built-words.ts';
import { type ChainColumn, chainColumns, type Drop, placeOfDrop } from './chain-columns.ts';
import { chainPlaceOf, lineName } from './chain-places.ts';
import { ColumnsTable, type Row } from './columns-table.tsx';
import { ledListText } from './led-list.ts';
import { PlanDialog } from './plan-dialog.tsx';
import { RingSign, RunArrow } from './run-arrow.tsx';
import css from './runs.module.css';
import { TypedOrder } from './typed-order-field.tsx';

const tabs = [
  { id: 'chain', label: 'Chain' },
  { id: 'as-built', label: 'As built' },
] as const;
type Tab = (typeof tabs)[number]['id'];

function JumperButton({ column: { jumper, placed } }: { readonly column: ChainColumn }) {
  const workbench = useWorkbench();
  const chosen = useSelected('jumper');
  if (!jumper) return '–';
  const { line, place, power } = jumper;
  const to = runName(placed.run);
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

const ledCell = ({ placed }: ChainColumn) => placed.run.ledCount;

/** The way of a run, planned or the other way round. */
function Way({
  placed: { run },
  isTurned = false,
  tone,
}: {
  readonly placed: PlacedRun;
  readonly isTurned?: boolean;
  readonly tone: 'data' | 'soft' | 'warn';
}) {
  if (run.ring) return <RingSign clockwise={run.ring.clockwise !== isTurned} tone={tone} />;
  return <RunArrow arrowDeg={(run.arrowDeg + (isTurned ? 180 : 0)) % 360} tone={tone} />;
}

/** As the canvas shows it: as soldered, which may not be as planned. */
const arrowCell = ({ placed }: ChainColumn) =>
  placed.isTurned ? (
    <span title="Soldered the other way round than planned">
      <Way placed={placed} isTurned tone="warn" />
      <b className={css['differs']} aria-hidden="true">
        !
      </b>
      <span className="visually-hidden">, not as planned</span>
    </span>
  ) : (
    <Way placed={placed} tone="data" />
  );

const chainRows: readonly Row[] = [
  { label: 'Arrow', cell: arrowCell },
  { label: 'LEDs', cell: ledCell },
  { label: 'Cut, mm', cell: ({ placed }) => (placed.run.ring ? '–' : placed.cutLengthMm.toFixed(1)) },
  { label: '+5 V in', cell: (column) => <JumperButton column={column} /> },
  { label: 'Wire in, mm', cell: ({ jumper }) => jumper?.lengthMm.toFixed(0) ?? '–' },
];

const listCell = (leds: readonly number[] | undefined) =>
  leds && leds.length > 0 ? <b className={css['differs']}>{ledListText(leds)}</b> : '–';

function builtRows(project: Project): readonly Row[] {
  return [
    { label: 'Planned', cell: ({ placed }) => <Way placed={placed} tone="soft" /> },
    {
      label: 'Soldered',
      cell: ({ placed }) => {
        const { skipped, laidReversed, fedAtDout } = builtRun(project, placed.run.id);
        if (skipped) return <b className={css['differs']}>out</b>;
        return (
          <>
            <Way placed={placed} isTurned={laidReversed ?? false} tone={laidReversed ? 'warn' : 'data'} />
            {fedAtDout && <b className={css['differs']}>DOUT</b>}
          </>
        );
      },
    },
    { label: 'LEDs', cell: ledCell },
    { label: 'Dead', cell: ({ placed }) => listCell(placed.run.deadLeds) },
    { label: 'Bypassed', cell: ({ placed }) => listCell(placed.run.bypassedLeds) },
  ];
}

function ChainHead() {
  const edit = useEdit();
  const { project, layout } = useSettled();
  const [isPlanning, setPlanning] = useState(false);
  const chosen = useSelected('run')?.id;
  const place = chosen === undefined ? undefined : chainPlaceOf(project, chosen);
  const last = place && project.dataLines[place.line]!.chain.length - 1;
  const move = (by: number) => () =>
    place && edit('Change chain order', moveInChain(place.line, place.place, place.place + by));
  return (
    <>
      <p>
        {project.dataLines.length === 0
          ? 'No run yet. Draw one on the panel, or let them be laid out for you.'
          : layout.lines
              .map(({ index, ledCount, runs, jumpers }) => {
                const wireMm = jumpers.reduce((sum, { lengthMm }) => sum + lengthMm, 0);
                return `${lineName(project, index)}: ${ledCount} LEDs in ${runs.length} runs, ${figure(wireMm)} mm of jumpers`;
              })
              .join('; ')}
        {layout.unchained.length > 0 && (
          <span className={css['warn']}>, {layout.unchained.length} outside every chain</span>
        )}
      </p>
      <Button isDisabled={!place || place.place === 0} onPress={move(-1)}>
        Earlier in the chain
      </Button>
      <Button isDisabled={!place || place.place === last} onPress={move(1)}>
        Later in the chain
      </Button>
      <Button isDisabled={layout.lines.length === 0} onPress={() => setPlanning(true)}>
        Plan the chain
      </Button>
      {isPlanning && <PlanDialog onClose={() => setPlanning(false)} />}
    </>
  );
}

/** Whether nothing is known to be built otherwise than planned, or broken. */
const isAsPlanned = ({ asBuilt, runs }: Project): boolean =>
  (asBuilt?.runs.length ?? 0) + (asBuilt?.swaps.length ?? 0) === 0 &&
  runs.every(({ deadLeds, bypassedLeds }) => !deadLeds && !bypassedLeds);

function BuiltHead({ columns }: { readonly columns: readonly ChainColumn[] }) {
  const edit = useEdit();
  const { project, layout } = useSettled();
  const { soldered, differing, follows } = builtWords(project, layout, columns);
  const isPlain = isAsPlanned(project);
  return (
    <>
      <p title={[soldered, ...differing].join(', ')}>
        {soldered}
        {differing.map((words) => (
          <span key={words}>
            , <span className={css['warn']}>{words}</span>
          </span>
        ))}
        . {follows}
      </p>
      <Button isDisabled={isPlain} onPress={() => edit('All as planned', clearAsBuilt)}>
        All as planned
      </Button>
    </>
  );
}

export function RunsDock() {
  const edit = useEdit();
  const { project, layout } = useSettled();
  const [tab, setTab] = useState<Tab>('chain');
  const columns = useMemo(() => chainColumns(project, layout), [project, layout]);
  const rows = useMemo(() => (tab === 'chain' ? chainRows : builtRows(project)), [tab, project]);
  const drop = (run: string, where: Drop) => {
    const place = placeOfDrop(columns, run, where);
    if (place === 'outside') edit('Take run out of the chain', unchainRun(run));
    else if (place) edit('Change chain order', moveRunToChain(run, place.line, place.place));
  };
  return (
    <div className={css['dock']}>
      <header className={css['dock-head']}>
        <h2 className="visually-hidden">{tab === 'chain' ? 'Chain' : 'As built'}</h2>
        <Segments label="Table" value={tab} choices={tabs} onChange={setTab} />
        {tab === 'chain' ? <ChainHead /> : <BuiltHead columns={columns} />}
      </header>
      {tab === 'chain' && <TypedOrder />}
      {columns.length > 0 && (
        <ColumnsTable
          label={tab === 'chain' ? 'Chain table' : 'As-built table'}
          columns={columns}
          rows={rows}
          nameOfLine={(line) => (line === undefined ? 'Outside' : lineName(project, line))}
          {...(tab === 'chain' ? { onDrop: drop } : {})}
        />
      )}
    </div>
  );
}
