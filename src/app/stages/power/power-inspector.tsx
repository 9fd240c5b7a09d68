// Worst case, supply, limit and cautions; or the chosen feed.
import { bladeFuseAmps, supplyAmps, supplyLoadShare, wires } from '../../../catalogue/index.ts';
import { supplyNeedAmps } from '../../../power/index.ts';
import {
  changeFeed,
  type Feed,
  type Project,
  removeFeed,
  setLimit,
  setSupply,
} from '../../../project/index.ts';
import {
  Button,
  Buttons,
  Cautions,
  CheckField,
  Derived,
  Group,
  InspectorTitle,
  NumberField,
  SelectField,
  ShortName,
} from '../../fields/index.ts';
import { showName } from '../../playback/frames.ts';
import { SurveyFigure } from '../../survey/survey-figure.tsx';
import { runName } from '../../workbench/commands/run-commands.ts';
import {
  useEdit,
  useFigures,
  usePlaybackPart,
  useProject,
  useSelected,
  useWorkbench,
} from '../../workbench/context.ts';
import { nothing } from '../../workbench/selection.ts';
import { AddFeed } from './add-feed.tsx';
import { JumperPower, RunPower } from './conductor-inspectors.tsx';
import css from './power.module.css';
import { WhatIfGroup, whatIfs } from './what-if.tsx';

const cautions = [
  'Fuses and wire are sized for all white, not for the limit.',
  'Feed the strips from their own supply, never through the board’s 5 V pin.',
  'Join the grounds before +5 V.',
  'Keep data wires 50 mm from coil wiring.',
  'Mains is for someone qualified, under your local codes.',
];

function SupplyTable({ volts, needAmps }: { readonly volts: number; readonly needAmps: number }) {
  const edit = useEdit();
  const rated = useProject((project) => project.power.supply.amps);
  const sizes = supplyAmps[volts > 8 ? '12' : '5'];
  const rows = [...new Set([...sizes, rated])].sort((a, b) => a - b);
  return (
    <table className={css['supplies']}>
      <thead>
        <tr>
          <th scope="col">Rated</th>
          <th scope="col">Power</th>
          <th scope="col">Load</th>
          <th scope="col">Verdict</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((amps) => {
          const load = (needAmps * supplyLoadShare) / amps;
          const isEnough = amps >= needAmps;
          return (
            <tr key={amps} data-chosen={amps === rated}>
              <th scope="row">
                <button
                  type="button"
                  aria-pressed={amps === rated}
                  onClick={() => edit('Choose supply', setSupply({ amps }))}
                >
                  {amps} A
                </button>
              </th>
              <td>{(amps * volts).toFixed(0)} W</td>
              <td>{Math.round(100 * load)} %</td>
              <td className={isEnough ? undefined : css['warn']}>
                {isEnough ? `${Math.max(0, Math.round(100 * (1 - load)))} % free` : 'Too small'}
              </td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

function Overview() {
  const edit = useEdit();
  const project = useProject((one) => one);
  const { power, assessment } = useFigures();
  const show = usePlaybackPart('show');
  const { supply, limitAmps } = project.power;
  const worstAmps = power.worstCase.amps;
  const needAmps = supplyNeedAmps(project, worstAmps);
  const chosen = project.lampshows.find(({ id }) => id === show);
  return (
    <>
      <InspectorTitle title="Power">
        One supply, {power.feeds.length} feeds, {assessment.panel.zones.length} zones
      </InspectorTitle>
      <Group title="Worst case, all white">
        <Derived label={`${power.leds.length} LEDs draw`} unit="A">
          {worstAmps.toFixed(2)}
        </Derived>
        <Derived label="With a fifth kept free" unit="A">
          {(worstAmps / supplyLoadShare).toFixed(2)}
        </Derived>
        <NumberField
          label="Supply set to"
          unit="V"
          value={supply.volts}
          least={3}
          most={14}
          step={0.1}
          digits={2}
          onChange={(volts, gesture) => edit('Set supply voltage', setSupply({ volts }), gesture)}
        />
        <NumberField
          label="Supply rated"
          unit="A"
          value={supply.amps}
          least={0.1}
          most={200}
          digits={2}
          onChange={(amps, gesture) => edit('Choose supply', setSupply({ amps }), gesture)}
        />
      </Group>
      <Group title={limitAmps === undefined ? 'Supply' : 'Supply, with the limit kept'}>
        <SupplyTable volts={supply.volts} needAmps={needAmps} />
      </Group>
      <Group title="Limit in the player">
        <CheckField
          label="The player keeps to a limit"
          value={limitAmps !== undefined}
          onChange={(isOn) =>
            edit(
              isOn ? 'Set limit' : 'Take the limit off',
              setLimit(isOn ? Math.max(0.1, Math.round(supply.amps * supplyLoadShare * 10) / 10) : undefined),
            )
          }
        />
        {limitAmps !== undefined && (
          <NumberField
            label="Never draw more than"
            unit="A"
            value={limitAmps}
            least={0.01}
            most={200}
            step={0.5}
            digits={2}
            onChange={(amps, gesture) => edit('Set limit', setLimit(amps), gesture)}
          />
        )}
        <Derived
          label={
            <>
              <ShortName>{chosen ? showName(chosen) : show}</ShortName> peaks
            </>
          }
          unit="A"
        >
          <SurveyFigure of={(survey) => survey.peakAmps} />
        </Derived>
        <Derived label="On average" unit="A">
          <SurveyFigure of={(survey) => survey.averageAmps} />
        </Derived>
      </Group>
      <AddFeed />
      <Group title="Cautions">
        <Cautions words={cautions} />
      </Group>
    </>
  );
}

const fuseChoices = [
  { id: '', label: 'By the load' },
  ...bladeFuseAmps.map((amps) => ({ id: String(amps), label: `${amps} A` })),
];

function fuseChoicesFor({ fuseAmps }: Feed) {
  const isListed = fuseAmps === undefined || bladeFuseAmps.some((amps) => amps === fuseAmps);
  return isListed ? fuseChoices : [...fuseChoices, { id: String(fuseAmps), label: `${fuseAmps} A` }];
}

const ledsOf = ({ runs }: Project, id: string): number => runs.find((run) => run.id === id)?.ledCount ?? 1;

function FeedInspector({ index }: { readonly index: number }) {
  const edit = useEdit();
  const project = useProject((one) => one);
  const { assessment } = useFigures();
  const feed = project.power.feeds[index];
  if (!feed) return null;
  const size = assessment.feedSizes[index];
  const change = (label: string, part: Partial<Feed>, gesture?: string) =>
    edit(label, changeFeed(index, part), gesture);
  return (
    <>
      <InspectorTitle title={`Feed F${index + 1}`}>
        Enters run {runName(project.runs.find((run) => run.id === feed.run) ?? { id: feed.run })}
      </InspectorTitle>
      <Group title="Injection point">
        <SelectField
          label="Run"
          value={feed.run}
          choices={project.runs.map((run) => ({ id: run.id, label: runName(run) }))}
          onChange={(run) => change('Move feed', { run, led: Math.min(feed.led, ledsOf(project, run) - 1) })}
        />
        <NumberField
          label="LED, from DIN"
          value={feed.led}
          least={0}
          most={ledsOf(project, feed.run) - 1}
          digits={0}
          onChange={(led, gesture) => change('Move feed', { led }, gesture)}
        />
      </Group>
      <Group title="Wire and fuse">
        <SelectField
          label="Wire"
          value={feed.wire}
          choices={wires.map(({ id }) => ({ id, label: id.replace('mm2', 'mm²') }))}
          onChange={(wire) => change('Change wire', { wire })}
        />
        <NumberField
          label="Length, one way"
          unit="mm"
          value={feed.lengthMm}
          least={1}
          most={20_000}
          step={10}
          onChange={(lengthMm, gesture) => change('Change wire length', { lengthMm }, gesture)}
        />
        <SelectField
          label="Fuse"
          value={feed.fuseAmps === undefined ? '' : String(feed.fuseAmps)}
          choices={fuseChoicesFor(feed)}
          onChange={(amps) =>
            edit('Choose fuse', changeFeed(index, { fuseAmps: amps === '' ? undefined : Number(amps) }))
          }
        />
        {size && (
          <>
            <Derived label="Carries at most" unit="A">
              {size.loadAmps.toFixed(2)}
            </Derived>
            <Derived
              label="Fuse"
              unit={size.fuseAmps === undefined ? '' : 'A'}
              tone={size.fuseAmps === undefined ? 'warn' : 'plain'}
            >
              {size.fuseAmps ?? 'none fits'}
            </Derived>
            <Derived label="Wire may carry" unit="A">
              {size.conductors.wire.designAmps}
            </Derived>
          </>
        )}
        <RemoveFeed index={index} />
      </Group>
      <WhatIfGroup
        title="What if, here"
        choices={whatIfs((rail) => ({ kind: 'feed', feed: index, rail }), true, 'This feed missing')}
      />
    </>
  );
}

function RemoveFeed({ index }: { readonly index: number }) {
  const workbench = useWorkbench();
  return (
    <Buttons>
      <Button
        onPress={() => {
          workbench.edit('Remove feed', removeFeed(index));
          workbench.select(nothing);
        }}
      >
        Remove feed
      </Button>
    </Buttons>
  );
}

export function PowerInspector() {
  const feed = useSelected('feed');
  const jumper = useSelected('jumper');
  const run = useSelected('run');
  if (jumper) return <JumperPower line={jumper.line} place={jumper.place} />;
  if (run) return <RunPower id={run.id} />;
  return feed ? <FeedInspector key={feed.index} index={feed.index} /> : <Overview />;
}
