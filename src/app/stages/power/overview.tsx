// Nothing chosen: worst case, supplies, the player's limit, what shows draw, fuses, data lines, a new feed, and cautions.
import { useState } from 'react';
import { supplyLoadShare } from '../../../catalogue/index.ts';
import { powerCautions } from '../../../power/index.ts';
import { setLimit } from '../../../project/index.ts';
import {
  Button,
  Buttons,
  Cautions,
  CheckField,
  Derived,
  Group,
  InspectorTitle,
  NumberField,
  ShortName,
} from '../../fields/index.ts';
import { showName } from '../../playback/frames.ts';
import { SurveyFigure } from '../../survey/survey-figure.tsx';
import { useEdit, useFigures, usePlaybackPart, useProject } from '../../workbench/context.ts';
import { AddFeed } from './add-feed.tsx';
import { DataLinesGroup } from './data-lines.tsx';
import { FuseGroup } from './fuse-group.tsx';
import { LoadsDialog } from './loads-dialog.tsx';
import { SupplyGroups } from './supply-group.tsx';

const counted = (count: number, one: string, several = `${one}s`): string =>
  `${count} ${count === 1 ? one : several}`;

function LimitGroup() {
  const edit = useEdit();
  const project = useProject((one) => one);
  const show = usePlaybackPart('show');
  const [isOpen, setOpen] = useState(false);
  const { supply, limitAmps } = project.power;
  const chosen = project.lampshows.find(({ id }) => id === show);
  return (
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
      <Buttons>
        <Button onPress={() => setOpen(true)}>All shows, events, energy...</Button>
      </Buttons>
      {isOpen && <LoadsDialog onClose={() => setOpen(false)} />}
    </Group>
  );
}

export function Overview() {
  const { power, assessment } = useFigures();
  const { supplies, zones } = assessment.panel;
  return (
    <>
      <InspectorTitle title="Power">
        {counted(supplies.length, 'supply', 'supplies')}, {counted(power.feeds.length, 'feed')},{' '}
        {counted(zones.length, 'zone')}
      </InspectorTitle>
      <SupplyGroups />
      <LimitGroup />
      <FuseGroup />
      <DataLinesGroup />
      <AddFeed />
      <Group title="Cautions">
        <Cautions words={powerCautions} />
      </Group>
    </>
  );
}
