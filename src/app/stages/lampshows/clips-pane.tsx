// Several chosen clips in the inspector: what they share is shown, what differs says so, and whatever is set counts for all of them.
import {
  type Change,
  type Clip,
  type ClipSpot,
  changeClips,
  type Lampshow,
  moveClips,
  spanOfClips,
} from '../../../project/index.ts';
import {
  type Choice,
  Group,
  InspectorTitle,
  NumberField,
  Segments,
  SelectField,
} from '../../fields/index.ts';
import { figure } from '../../format.ts';
import { useEdit, useProject } from '../../workbench/context.ts';
import { ArrangingGroup } from './clip-arranging.tsx';
import css from './inspector.module.css';
import { typedMs } from './units.ts';
import { blendChoices, namedChoices } from './words.ts';

/** What all of them have; undefined where they differ. */
function shared<T>(clips: readonly Clip[], pick: (clip: Clip) => T): T | undefined {
  const [first, ...others] = clips.map(pick);
  return others.every((one) => one === first) ? first : undefined;
}

const several = { id: '', label: 'several' };
const withSeveral = (choices: readonly Choice<string>[], value: string | undefined): Choice<string>[] =>
  value === undefined ? [several, ...choices] : [...choices];

const figures = [
  { key: 'lengthMs', label: 'Each lasts', least: 0.001, most: 3600, absent: 0 },
  { key: 'fadeInMs', label: 'Fade in over', least: 0, most: 60, absent: 0 },
  { key: 'fadeOutMs', label: 'Fade out over', least: 0, most: 60, absent: 0 },
] as const;

export function ClipsPane({
  show,
  spots,
  clips,
}: {
  readonly show: Lampshow;
  readonly spots: readonly ClipSpot[];
  readonly clips: readonly Clip[];
}) {
  const edit = useEdit();
  const areas = useProject((project) => project.areas);
  const gradients = useProject((project) => project.gradients);
  const change = (label: string, to: Change<Clip>, gesture?: string) =>
    edit(label, changeClips(show.id, spots, to), gesture);
  const area = shared(clips, (clip) => clip.area);
  const gradient = shared(clips, (clip) => clip.gradient);
  const level = shared(clips, (clip) => clip.levelPercent ?? 100);
  const blend = shared(clips, (clip) => clip.blend);
  const { startMs } = spanOfClips(clips);
  const rowCount = new Set(spots.map(({ row }) => row)).size;
  return (
    <>
      <InspectorTitle title={`${figure(clips.length)} clips`}>
        {rowCount === 1 ? 'On one row' : `On ${rowCount} rows`}
      </InspectorTitle>
      <Group title="When">
        <NumberField
          label="The first starts"
          unit="s"
          digits={3}
          step={0.1}
          least={0}
          most={3600}
          value={startMs / 1000}
          onChange={(typed, gesture) =>
            edit('Move clips', moveClips(show.id, spots, typedMs(typed) - startMs, 0), gesture)
          }
        />
        {figures.map(({ key, label, least, most, absent }) => {
          const ms = shared(clips, (clip) => clip[key] ?? absent);
          return (
            <NumberField
              key={key}
              label={label}
              unit="s"
              digits={3}
              step={0.1}
              least={least}
              most={most}
              isSeveral={ms === undefined}
              value={(ms ?? clips[0]![key] ?? absent) / 1000}
              onChange={(typed, gesture) => change('Change times', { [key]: typedMs(typed) }, gesture)}
            />
          );
        })}
      </Group>
      <Group title="What">
        <SelectField
          label="Area"
          value={area ?? ''}
          choices={withSeveral(namedChoices(areas), area)}
          onChange={(id) => id !== '' && change('Change area of clips', { area: id })}
        />
        <SelectField
          label="Colours"
          value={gradient ?? ''}
          choices={withSeveral(namedChoices(gradients), gradient)}
          onChange={(id) => id !== '' && change('Change gradient of clips', { gradient: id })}
        />
        <NumberField
          label="Level"
          unit="%"
          digits={0}
          least={1}
          most={100}
          isSeveral={level === undefined}
          value={level ?? clips[0]!.levelPercent ?? 100}
          onChange={(percent, gesture) =>
            change('Change level', { levelPercent: percent === 100 ? undefined : percent }, gesture)
          }
        />
      </Group>
      <Group title="Over the rows before it">
        <div className={css['blends']}>
          <Segments<string>
            label="Over the rows before it"
            value={blend ?? ''}
            choices={blendChoices}
            onChange={(id) => change('Change blend', { blend: id as Clip['blend'] })}
          />
        </div>
      </Group>
      <ArrangingGroup show={show} spots={spots} clips={clips} />
    </>
  );
}
