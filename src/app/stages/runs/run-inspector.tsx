// The chosen run in figures: where it lies, what it is cut from, how it is wired. Every drag on the canvas has its field here.
import { memo, useMemo, useState } from 'react';
import { colourOrders } from '../../../catalogue/index.ts';
import { channelAllowanceMm, type Layout, type PlacedRun, splitRun } from '../../../panel/index.ts';
import {
  lengthenRun,
  limits,
  moveRun,
  moveRunToChain,
  type Run,
  renameRun,
  setRunColourOrder,
  setRunStrip,
  turnRun,
  unchainRun,
} from '../../../project/index.ts';
import {
  Button,
  Buttons,
  Derived,
  Group,
  InspectorTitle,
  NumberField,
  SelectField,
  TextField,
} from '../../fields/index.ts';
import { runName, turnedBy } from '../../workbench/commands/run-commands.ts';
import {
  useCommander,
  useCompiled,
  useEdit,
  useFigures,
  useProject,
  useScreen,
} from '../../workbench/context.ts';
import { AreasOfRuns } from './areas-of-runs.tsx';
import { AsBuiltGroup } from './as-built-group.tsx';
import { chainPlaceOf, lineName } from './chain-places.ts';
import { ChannelsOfRuns } from './channels-of-runs.tsx';
import { LedLists } from './led-lists.tsx';
import { RingGroup } from './ring-group.tsx';
import { RunFindings } from './run-findings.tsx';
import { Copies } from './several-inspector.tsx';
import { stripChoices } from './strip-choices.ts';

const directions: Readonly<Record<number, string>> = { 0: 'right', 90: 'up', 180: 'left', 270: 'down' };
const furthestMm = 10_000;

function Placement({ run, placed }: { readonly run: Run; readonly placed: PlacedRun }) {
  const side = useScreen((state) => state.side);
  const edit = useEdit();
  const { id, firstLed, arrowDeg, ledCount } = run;
  return (
    <Group title={side === 'rear' ? 'Placement, seen from the front' : 'Placement'}>
      <NumberField
        label="First LED x"
        unit="mm"
        value={firstLed.xMm}
        least={-furthestMm}
        most={furthestMm}
        digits={2}
        onChange={(xMm, gesture) => edit('Move run', moveRun(id, xMm, firstLed.yMm), gesture)}
      />
      <NumberField
        label="First LED y"
        unit="mm"
        value={firstLed.yMm}
        least={-furthestMm}
        most={furthestMm}
        digits={2}
        onChange={(yMm, gesture) => edit('Move run', moveRun(id, firstLed.xMm, yMm), gesture)}
      />
      <NumberField
        label={`Arrow points ${directions[turnedBy(arrowDeg, 0)] ?? ''}`.trim()}
        unit="°"
        value={arrowDeg}
        least={-360}
        most={360}
        step={15}
        onChange={(degrees, gesture) => edit('Turn run', turnRun(id, degrees), gesture)}
      />
      <NumberField
        label="LEDs"
        value={ledCount}
        least={1}
        most={limits.ledsPerRun}
        digits={0}
        onChange={(count, gesture) => edit('Change the length of a run', lengthenRun(id, count), gesture)}
      />
      <LedLists
        id={id}
        ledCount={ledCount}
        spareLeds={run.spareLeds}
        deadLeds={run.deadLeds}
        bypassedLeds={run.bypassedLeds}
      />
      <Derived label="Cut length" unit="mm">
        {placed.cutLengthMm.toFixed(1)}
      </Derived>
    </Group>
  );
}

/** Without the run itself: a drag moves it, and leaves all this as it is. */
const Strip = memo(function Strip({
  id,
  strip,
  colourOrder,
  sends,
  boardWidthMm,
  isRing,
}: {
  readonly id: string;
  readonly strip: string;
  readonly colourOrder: Run['colourOrder'];
  readonly sends: string;
  readonly boardWidthMm: number;
  readonly isRing: boolean;
}) {
  const edit = useEdit();
  const strips = useProject((project) => project.strips);
  return (
    <Group title="Strip">
      <SelectField
        label="Type"
        value={strip}
        choices={stripChoices({ strips })}
        onChange={(to) => edit('Change strip', setRunStrip(id, to))}
      />
      <SelectField
        label="Colour order"
        value={colourOrder ?? ''}
        choices={[
          { id: '', label: `As the strip` },
          ...colourOrders.map((one) => ({ id: one, label: [...one].join(' ') })),
        ]}
        onChange={(order) =>
          edit('Change colour order', setRunColourOrder(id, order === '' ? undefined : order))
        }
      />
      <Derived label="Sends" unit="">
        {[...sends].join(' ')}
      </Derived>
      <Derived label="Strip width" unit="mm">
        {boardWidthMm.toFixed(1)}
      </Derived>
      {!isRing && (
        <Derived label="Channel width" unit="mm">
          {(boardWidthMm + channelAllowanceMm).toFixed(2)}
        </Derived>
      )}
    </Group>
  );
});

/** The jumpers that lead to a run and away from it. */
function jumpersOf(layout: Layout, placed: PlacedRun) {
  const line = layout.lines.find(({ runs }) => runs.includes(placed));
  return {
    before: line?.jumpers.find(({ to }) => to === placed),
    after: line?.jumpers.find(({ from }) => from === placed),
  };
}

function Wiring({ run, placed }: { readonly run: Run; readonly placed: PlacedRun }) {
  const edit = useEdit();
  const project = useProject((one) => one);
  const { layout } = useCompiled();
  const { assessment } = useFigures();
  const { before, after } = jumpersOf(layout, placed);
  const place = chainPlaceOf(project, run.id);
  const lineChoices = [
    ...project.dataLines.map((_, index) => ({ id: String(index), label: lineName(project, index) })),
    ...(project.dataLines.length < limits.dataLines
      ? [{ id: String(project.dataLines.length), label: 'A new line' }]
      : []),
    { id: 'none', label: 'Outside' },
  ];
  const { leds } = assessment.panel;
  const own = leds.flatMap((led, index) => (led.run === run.id ? [index] : []));
  const draws = own.reduce((sum, led) => sum + assessment.worst.ledAmps[led]!, 0);
  const lowest = Math.min(...own.map((led) => assessment.worst.ledVolts[led]!));
  return (
    <Group title="Wiring">
      <SelectField
        label="Data line"
        value={place ? String(place.line) : 'none'}
        choices={lineChoices}
        onChange={(line) =>
          edit(
            'Change data line',
            line === 'none'
              ? unchainRun(run.id)
              : moveRunToChain(run.id, Number(line), project.dataLines[Number(line)]?.chain.length ?? 0),
          )
        }
      />
      {place && (
        <NumberField
          label="Place in the chain"
          value={place.place + 1}
          least={1}
          most={project.dataLines[place.line]!.chain.length}
          digits={0}
          onChange={(to, gesture) =>
            edit('Change chain order', moveRunToChain(run.id, place.line, to - 1), gesture)
          }
        />
      )}
      {before && (
        <Derived label={`Wire from ${runName(before.from.run)}`} unit="mm">
          {before.lengthMm.toFixed(0)}
        </Derived>
      )}
      {after && (
        <Derived label={`Wire to ${runName(after.to.run)}`} unit="mm">
          {after.lengthMm.toFixed(0)}
        </Derived>
      )}
      <Derived label="Draws at most" unit="A">
        {draws.toFixed(2)}
      </Derived>
      {own.length > 0 && (
        <Derived label="Lowest voltage" unit="V">
          {lowest.toFixed(2)}
        </Derived>
      )}
    </Group>
  );
}

export function RunInspector({ id }: { readonly id: string }) {
  const edit = useEdit();
  const commander = useCommander();
  const ids = useMemo(() => [id], [id]);
  const { layout } = useCompiled();
  const project = useProject((one) => one);
  const run = project.runs.find((one) => one.id === id);
  const place = chainPlaceOf(project, id);
  const placed = layout.runs.find((one) => one.run.id === id);
  if (!run || !placed) return null;
  return (
    <>
      <InspectorTitle title={runName(run)}>
        {run.ledCount} LEDs {place ? `on ${lineName(project, place.line)}` : 'outside every chain'}
      </InspectorTitle>
      <Group title="Run">
        <TextField
          label="Name"
          value={run.name ?? ''}
          onChange={(name) => edit('Rename run', renameRun(id, name))}
        />
        <Buttons>
          <Button onPress={() => commander.run('run-reverse')}>Turn the arrow round</Button>
          <Button onPress={() => commander.run('run-duplicate')}>Duplicate</Button>
          <Button onPress={() => commander.run('run-delete')}>Delete</Button>
        </Buttons>
      </Group>
      <Placement run={run} placed={placed} />
      <Strip
        id={id}
        strip={run.strip}
        colourOrder={run.colourOrder}
        sends={placed.strip.colourOrder}
        boardWidthMm={placed.strip.boardWidthMm}
        isRing={run.ring !== undefined}
      />
      <Wiring run={run} placed={placed} />
      <AsBuiltGroup id={id} />
      <RunFindings id={id} />
      {run.ledCount > 1 && !run.ring && (
        <Group title="Split">
          <SplitField
            key={`${id} ${run.ledCount}`}
            ledCount={run.ledCount}
            onSplit={(led) => edit('Split run', splitRun(id, led))}
          />
        </Group>
      )}
      <Copies ids={ids} />
      <RingGroup id={id} ring={run.ring} ledCount={run.ledCount} pitchMm={placed.pitchMm} />
      <AreasOfRuns ids={ids} />
      <ChannelsOfRuns ids={ids} />
    </>
  );
}

function SplitField({
  ledCount,
  onSplit,
}: {
  readonly ledCount: number;
  readonly onSplit: (led: number) => void;
}) {
  const [led, setLed] = useState(Math.ceil(ledCount / 2));
  return (
    <>
      <NumberField
        label="The first part keeps, LEDs"
        value={led}
        least={1}
        most={ledCount - 1}
        digits={0}
        onChange={setLed}
      />
      <Buttons>
        <Button takesFigures onPress={() => onSplit(led)}>
          Split run
        </Button>
      </Buttons>
    </>
  );
}
