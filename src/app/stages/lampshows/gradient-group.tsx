// The clip's gradient in the inspector: which one, its bar with stops to drag, and the chosen stop in figures.
import { useState } from 'react';
import { gradientColour } from '../../../lampshow/index.ts';
import {
  type Clip,
  type ClipPlace,
  changeClip,
  type Gradient,
  limits,
  renameGradient,
  setGradientStops,
} from '../../../project/index.ts';
import { useArtworkReaders } from '../../canvas/use-artwork.ts';
import {
  Button,
  Buttons,
  ColourField,
  Group,
  NumberField,
  SelectField,
  TextField,
} from '../../fields/index.ts';
import { useEdit, useProject, useSettled, useWorkbench } from '../../workbench/context.ts';
import { artworkStops } from './artwork-gradient.ts';
import { GradientBar } from './gradient-bar.tsx';
import {
  clipsWith,
  hexOf,
  placeInWidestGap,
  type Stop,
  type Stops,
  shareOf,
  shownPercent,
} from './gradient-stops.ts';
import css from './inspector.module.css';
import { plannedGradient } from './show-edits.ts';
import { namedChoices, nameOf } from './words.ts';

function StopFields({
  gradient,
  chosen,
  onChoose,
}: {
  readonly gradient: Gradient;
  readonly chosen: number;
  readonly onChoose: (stop: number) => void;
}) {
  const workbench = useWorkbench();
  const edit = useEdit();
  const { id, stops } = gradient;
  const stop = stops[chosen]!;
  const setStops = (label: string, next: Stops, gesture?: string) =>
    edit(label, setGradientStops(id, next), gesture);
  const setStop = (label: string, change: Partial<Stop>, gesture?: string) =>
    setStops(
      label,
      stops.map((one, i) => (i === chosen ? { ...one, ...change } : one)),
      gesture,
    );
  const add = (at: number) => {
    if (stops.length >= limits.stopsPerGradient) return;
    setStops('Add stop', [...stops, { at, colour: hexOf(gradientColour(gradient, at)) }]);
    onChoose(stops.length);
  };
  const remove = (index: number) => {
    if (stops.length < 2) return;
    setStops(
      'Remove stop',
      stops.filter((_, i) => i !== index),
    );
    onChoose(Math.min(index, stops.length - 2));
  };
  return (
    <>
      <GradientBar
        stops={stops}
        chosen={chosen}
        onChoose={onChoose}
        onMove={(index, at, gesture) =>
          setStops(
            'Move stop',
            stops.map((one, i) => (i === index ? { ...one, at } : one)),
            gesture,
          )
        }
        onAdd={add}
        onRemove={remove}
      />
      <NumberField
        label={`Stop ${chosen + 1} at`}
        unit="%"
        digits={1}
        least={0}
        most={100}
        value={shownPercent(stop.at)}
        onChange={(typed, gesture) => setStop('Move stop', { at: shareOf(typed) }, gesture)}
      />
      <ColourField
        label="Colour"
        value={stop.colour.toLowerCase()}
        onChange={(colour) => setStop('Change colour', { colour }, `colour ${id} ${chosen}`)}
        onDone={() => workbench.endGesture()}
      />
      <Buttons>
        <Button
          isDisabled={stops.length >= limits.stopsPerGradient}
          onPress={() => add(placeInWidestGap(stops))}
        >
          Add a stop
        </Button>
        <Button isDisabled={stops.length < 2} onPress={() => remove(chosen)}>
          Remove stop
        </Button>
      </Buttons>
    </>
  );
}

/** Nothing where there is no artwork, or no LED. */
function FromArtwork({ place, clip }: { readonly place: ClipPlace; readonly clip: Clip }) {
  const workbench = useWorkbench();
  const edit = useEdit();
  const { layout } = useSettled();
  const hasArtwork = useProject(({ panel }) => panel.artwork !== undefined);
  const { widthMm, heightMm } = useProject(({ panel }) => panel);
  const { colourAt } = useArtworkReaders(widthMm, heightMm);
  if (!hasArtwork) return null;
  return (
    <Button
      onPress={() => {
        const { project } = workbench;
        const area = project.areas.find(({ id }) => id === clip.area);
        const read = colourAt();
        const stops = area && read ? artworkStops(layout, area, read) : [];
        if (stops.length === 0) return;
        edit(
          'Take the artwork’s colours',
          plannedGradient(
            project,
            place,
            { stops } as Pick<Gradient, 'stops'>,
            `${nameOf(area!)}, as printed`,
          ).edit,
        );
      }}
    >
      From the artwork
    </Button>
  );
}

export function GradientGroup({ place, clip }: { readonly place: ClipPlace; readonly clip: Clip }) {
  const edit = useEdit();
  const project = useProject((one) => one);
  const [choice, setChoice] = useState({ gradient: clip.gradient, stop: 0 });
  const gradient = project.gradients.find(({ id }) => id === clip.gradient);
  if (!gradient) return null;
  const others = clipsWith(project, gradient.id) - 1;
  const chosen = choice.gradient === gradient.id ? Math.min(choice.stop, gradient.stops.length - 1) : 0;
  return (
    <Group title="Gradient">
      <SelectField
        label="Colours"
        value={gradient.id}
        choices={namedChoices(project.gradients)}
        onChange={(id) => edit('Change gradient of clip', changeClip(place, { gradient: id }))}
      />
      <TextField
        label="Name"
        value={nameOf(gradient)}
        onChange={(name) => edit('Rename gradient', renameGradient(gradient.id, name))}
      />
      <StopFields
        gradient={gradient}
        chosen={chosen}
        onChoose={(stop) => setChoice({ gradient: gradient.id, stop })}
      />
      {others > 0 && (
        <p className={css['note']}>
          Also used by {others} {others === 1 ? 'clip, which changes' : 'clips, which change'} too.
        </p>
      )}
      <Buttons>
        <Button onPress={() => edit('New gradient', plannedGradient(project, place, gradient).edit)}>
          {others > 0 ? 'New one for this clip' : 'New'}
        </Button>
        <FromArtwork place={place} clip={clip} />
      </Buttons>
    </Group>
  );
}
