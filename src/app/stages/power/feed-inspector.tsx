// The chosen feed: where it enters, its wire, fuse, plug and supply, what it carries and loses, and what planning may do with it.
import {
  along,
  ampsFigure,
  type FeedSize,
  feedLengthMm,
  feedLossVolts,
  lostVoltsFigure,
  settled,
} from '../../../power/index.ts';
import { changeFeed, type Feed, type Finding, type Project, removeFeed } from '../../../project/index.ts';
import {
  Button,
  Buttons,
  CheckField,
  Derived,
  Group,
  InspectorTitle,
  NumberField,
  SelectField,
} from '../../fields/index.ts';
import { runName } from '../../workbench/commands/run-commands.ts';
import { useEdit, useFigures, useProject, useShownPower, useWorkbench } from '../../workbench/context.ts';
import { nothing } from '../../workbench/selection.ts';
import { intoInspector } from '../runs/into-inspector.ts';
import { fuseChoices, fuseKindChoices, plugChoices, supplyChoices } from './feed-choices.ts';
import { forbid, isForbidden, keep } from './feed-edits.ts';
import { FuseOfFeed } from './fuse-group.tsx';
import css from './power.module.css';
import { useCaseTitle } from './use-case-title.ts';
import { WhatIfGroup, whatIfs } from './what-if.tsx';
import { wireChoices } from './wire-choices.ts';

const ledsOf = ({ runs }: Project, id: string): number => runs.find((run) => run.id === id)?.ledCount ?? 1;

type ChangeFeed = (label: string, part: Parameters<typeof changeFeed>[1], gesture?: string) => void;

interface PartProps {
  readonly feed: Feed;
  readonly change: ChangeFeed;
}

function Place({ feed, change, index }: PartProps & { readonly index: number }) {
  const edit = useEdit();
  const workbench = useWorkbench();
  const project = useProject((one) => one);
  return (
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
      <CheckField
        label="Planning keeps this feed"
        value={feed.isKept ?? false}
        onChange={(isKept) =>
          edit(isKept ? 'Keep this feed' : 'Let planning move this feed', keep(project, index, isKept))
        }
      />
      <CheckField
        label="Planning puts none here"
        value={isForbidden(project, feed)}
        onChange={(forbids) =>
          edit(forbids ? 'Forbid feeds here' : 'Allow feeds here again', forbid(project, feed, forbids))
        }
      />
      <Buttons>
        <Button
          onPress={() => {
            edit('Remove feed', removeFeed(index));
            intoInspector(() => workbench.select(nothing));
          }}
        >
          Remove feed
        </Button>
      </Buttons>
    </Group>
  );
}

function WireAndFuse({ feed, change }: PartProps) {
  const project = useProject((one) => one);
  const { compiled } = useFigures();
  const { layout } = compiled;
  const isPlaced = layout.runs.some(({ run, leds }) => run.id === feed.run && feed.led < leds.length);
  const drawnMm = isPlaced ? feedLengthMm(project, layout, feed, feed.supply) : undefined;
  return (
    <Group title="Wire and fuse">
      {(project.power.moreSupplies ?? []).length > 0 && (
        <SelectField
          label="From"
          value={feed.supply ?? ''}
          choices={supplyChoices(project)}
          onChange={(id) => change('Feed from another supply', { supply: id === '' ? undefined : id })}
        />
      )}
      <SelectField
        label="Wire"
        value={feed.wire}
        choices={wireChoices}
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
        label="Fuse kind"
        value={feed.fuseKind ?? ''}
        choices={[{ id: '', label: 'Not counted' }, ...fuseKindChoices]}
        onChange={(fuseKind) =>
          change('Choose fuse kind', { fuseKind: fuseKind === '' ? undefined : fuseKind })
        }
      />
      <SelectField
        label="Fuse"
        value={feed.fuseAmps === undefined ? '' : String(feed.fuseAmps)}
        choices={fuseChoices(feed)}
        onChange={(amps) => change('Choose fuse', { fuseAmps: amps === '' ? undefined : Number(amps) })}
      />
      <SelectField
        label="At the strip"
        value={feed.plug ?? ''}
        choices={plugChoices}
        onChange={(plug) =>
          change('Choose plug', { plug: plug === '' ? undefined : (plug as NonNullable<Feed['plug']>) })
        }
      />
      {drawnMm !== undefined && (
        <Buttons>
          <Button
            isDisabled={drawnMm === feed.lengthMm}
            onPress={() => change('Take length from the drawing', { lengthMm: drawnMm })}
          >
            {drawnMm === feed.lengthMm ? 'As long as drawn' : `Take ${drawnMm} mm from the drawing`}
          </Button>
        </Buttons>
      )}
    </Group>
  );
}

/** Why a figure of the feed is not right, by the finding that says so. */
const fuseFaults: Readonly<Record<'fuse' | 'wire' | 'plug', string>> = {
  fuse: 'fuse-missing',
  wire: 'fuse-above-wire',
  plug: 'fuse-above-plug',
};

/** What the fuse of this feed doesn't go with, as findings of the plan. */
function useFuseFaults(index: number): Partial<Record<keyof typeof fuseFaults, Finding>> {
  const { findings } = useFigures();
  const own = findings.filter(({ at }) => `${at}/`.startsWith(`/power/feeds/${index}/`));
  return Object.fromEntries(
    Object.entries(fuseFaults).flatMap(([part, code]) => {
      const found = own.find((one) => one.code === code);
      return found ? [[part, found]] : [];
    }),
  );
}

function Carries({ size, index }: { readonly size: FeedSize; readonly index: number }) {
  const { assessment, shown } = useShownPower();
  const title = useCaseTitle();
  const faults = useFuseFaults(index);
  const { fuseAmps, conductors } = size;
  const { wire, plug } = conductors;
  const [loadAmps, groundAmps] = [
    along(shown.linkAmps, conductors.plus),
    along(shown.linkAmps, conductors.ground),
  ];
  const most = settled(Math.max(Math.abs(loadAmps), Math.abs(groundAmps)));
  const [told] = Object.values(faults);
  return (
    <Group title={title}>
      {told && (
        <ul className={css['told']}>
          <li>
            {told.message}
            <p>{told.mend}</p>
          </li>
        </ul>
      )}
      <Derived label="Carries, +" unit="A">
        {ampsFigure(loadAmps)}
      </Derived>
      <Derived label="Carries, ground" unit="A">
        {ampsFigure(groundAmps)}
      </Derived>
      <Derived
        label="Fuse"
        unit={fuseAmps === undefined ? '' : 'A'}
        tone={fuseAmps === undefined || told ? 'warn' : 'plain'}
      >
        {fuseAmps ?? 'none fits'}
      </Derived>
      <Derived
        label="Wire may carry"
        unit="A"
        tone={most > wire.designAmps || faults.wire ? 'warn' : 'plain'}
      >
        {wire.designAmps}
      </Derived>
      {plug && (
        <Derived label="Plug may carry" unit="A" tone={most > plug.amps || faults.plug ? 'warn' : 'plain'}>
          {plug.amps}
        </Derived>
      )}
      <Derived label="Lost on the way" unit="V">
        {lostVoltsFigure(feedLossVolts(assessment.panel, shown, conductors))}
      </Derived>
    </Group>
  );
}

export function FeedInspector({ index }: { readonly index: number }) {
  const edit = useEdit();
  const project = useProject((one) => one);
  const { assessment } = useShownPower();
  const feed = project.power.feeds[index];
  if (!feed) return null;
  const size = assessment.feedSizes[index];
  const change: ChangeFeed = (label, part, gesture) => edit(label, changeFeed(index, part), gesture);
  return (
    <>
      <InspectorTitle title={`Feed F${index + 1}`}>
        Enters run {runName(project.runs.find((run) => run.id === feed.run) ?? { id: feed.run })}
      </InspectorTitle>
      <Place feed={feed} change={change} index={index} />
      <WireAndFuse feed={feed} change={change} />
      {size && <Carries size={size} index={index} />}
      {size && <FuseOfFeed index={index} />}
      <WhatIfGroup
        title="What if, here"
        choices={whatIfs((rail) => ({ kind: 'feed', feed: index, rail }), true, 'This feed missing')}
      />
    </>
  );
}
