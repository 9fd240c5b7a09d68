// The chosen clip in the inspector: when, what, how it moves, in which colours, over what, and what it costs the board.
import { useCallback, useMemo } from 'react';
import { areaLeds } from '../../../panel/index.ts';
import {
  type Change,
  type Clip,
  type ClipPlace,
  changeClip,
  type Effect,
  type EffectKind,
  type Project,
} from '../../../project/index.ts';
import { Group, InspectorTitle, NumberField, Segments, SelectField } from '../../fields/index.ts';
import { figure } from '../../format.ts';
import { useProject, useSettled, useWorkbench } from '../../workbench/context.ts';
import { BoardFigures } from './board-figures.tsx';
import { CycleGroup, EnvelopeGroup } from './brightness-group.tsx';
import { ArrangingGroup } from './clip-arranging.tsx';
import { changedKind } from './effect-defaults.ts';
import { EffectFields } from './effect-fields.tsx';
import { EffectPictures } from './effect-pictures.tsx';
import { GradientGroup } from './gradient-group.tsx';
import css from './inspector.module.css';
import { paintingFor } from './paint/first-painting.ts';
import { LettersGroup } from './paint/letters-group.tsx';
import { PaintedGroup } from './paint/painted-group.tsx';
import { typedMs } from './units.ts';
import { blendChoices, clipTitle, effectChoices, namedChoices, wayOf } from './words.ts';

const longestSeconds = 3600;
const longestFadeSeconds = 60;

/** Rows of "When": all are whole milliseconds in the document and seconds here. */
const timeRows = [
  { key: 'startMs', label: 'Starts', least: 0, most: longestSeconds },
  { key: 'lengthMs', label: 'Lasts', least: 0.001, most: longestSeconds },
  { key: 'fadeInMs', label: 'Fades in over', least: 0, most: longestFadeSeconds },
  { key: 'fadeOutMs', label: 'Fades out over', least: 0, most: longestFadeSeconds },
] as const;

/** What it costs the board takes a few milliseconds to tell: during a drag it waits until the hand rests. */
const settledClip = ({ lampshows }: Project, { show, row, clip }: ClipPlace): Clip | undefined =>
  lampshows.find(({ id }) => id === show)?.rows[row]?.clips[clip];

export function ClipPane({ place, clip }: { readonly place: ClipPlace; readonly clip: Clip }) {
  const workbench = useWorkbench();
  const { layout, project } = useSettled();
  const areas = useProject((project) => project.areas);
  const panel = useProject((project) => project.panel);
  const show = useProject(({ lampshows }) => lampshows.find(({ id }) => id === place.show));
  const area = areas.find(({ id }) => id === clip.area);
  const change = useCallback(
    (label: string, to: Change<Clip>, gesture?: string) =>
      workbench.edit(label, changeClip(place, to), gesture),
    [workbench, place],
  );
  const { effect } = clip;
  const effectOf = (kind: EffectKind): Effect =>
    kind === 'painted' ? paintingFor(project, layout, clip) : changedKind(effect, kind, panel);
  const chooseEffect = (kind: EffectKind) => change('Change effect', { effect: effectOf(kind) });
  // Dragging a clip changes its times alone: these many fields stay as they are.
  const effectFields = useMemo(
    () => (
      <EffectFields
        effect={effect}
        onChange={(next, gesture) => change('Change movement', { effect: next }, gesture)}
      />
    ),
    [effect, change],
  );
  return (
    <>
      <InspectorTitle title={clipTitle(clip, areas)}>
        {area && `${figure(areaLeds(layout, area).length)} LEDs, travelling ${wayOf(area.order)}`}
      </InspectorTitle>
      <Group title="When">
        {timeRows.map(({ key, label, least, most }) => (
          <NumberField
            key={key}
            label={label}
            unit="s"
            digits={3}
            step={0.1}
            least={least}
            most={most}
            value={(clip[key] ?? 0) / 1000}
            onChange={(typed, gesture) => change('Change times of clip', { [key]: typedMs(typed) }, gesture)}
          />
        ))}
      </Group>
      <Group title="What">
        <SelectField
          label="Effect"
          value={clip.effect.kind}
          choices={effectChoices}
          onChange={chooseEffect}
        />
        <EffectPictures clip={clip} effectOf={effectOf} onChoose={chooseEffect} />
        <SelectField
          label="Area"
          value={clip.area}
          choices={namedChoices(areas)}
          onChange={(id) => change('Change area of clip', { area: id })}
        />
        <NumberField
          label="Level"
          unit="%"
          digits={0}
          least={1}
          most={100}
          value={clip.levelPercent ?? 100}
          onChange={(percent, gesture) =>
            change('Change level', { levelPercent: percent === 100 ? undefined : percent }, gesture)
          }
        />
      </Group>
      {effectFields}
      {clip.effect.kind === 'painted' && <PaintedGroup effect={clip.effect} />}
      {clip.effect.kind === 'letters' && <LettersGroup place={place} clip={clip} effect={clip.effect} />}
      <GradientGroup place={place} clip={clip} />
      {clip.effect.kind !== 'painted' && <CycleGroup clip={clip} onChange={change} />}
      <EnvelopeGroup clip={clip} onChange={change} />
      <Group title="Over the rows before it">
        <div className={css['blends']}>
          <Segments
            label="Over the rows before it"
            value={clip.blend}
            choices={blendChoices}
            onChange={(blend) => change('Change blend', { blend })}
          />
        </div>
      </Group>
      <BoardFigures clip={settledClip(project, place) ?? clip} />
      {show && <ArrangingGroup show={show} spots={[{ row: place.row, clip: place.clip }]} clips={[clip]} />}
    </>
  );
}
