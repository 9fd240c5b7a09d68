// What one chosen clip and several have in common in the inspector: stretching, repeating, cutting at the playhead, copying. Keys do the same; what
// they are stands in clip-commands.ts.
import { memo, useState } from 'react';
import {
  addedSpots,
  type Clip,
  type ClipSpot,
  type Lampshow,
  repeatClips,
  repeatsWithin,
  spanOfClips,
  stretchClips,
} from '../../../project/index.ts';
import { Button, Buttons, Group, NumberField } from '../../fields/index.ts';
import { commands } from '../../workbench/commands/index.ts';
import { useCommander, useEdit, useProject, useScreen, useWorkbench } from '../../workbench/context.ts';
import { selectionOfClips } from '../../workbench/selection.ts';
import css from './inspector.module.css';
import { typedMs } from './units.ts';

interface ArrangingProps {
  readonly show: Lampshow;
  readonly spots: readonly ClipSpot[];
  readonly clips: readonly Clip[];
}

const buttons = [
  { command: 'clip-split', label: 'Split at playhead' },
  { command: 'clip-trim-start', label: 'Start at playhead' },
  { command: 'clip-trim-end', label: 'End at playhead' },
  { command: 'clip-crossfade', label: 'Crossfade' },
  { command: 'clip-copy', label: 'Copy' },
  { command: 'clip-cut', label: 'Cut' },
  { command: 'clip-paste', label: 'Paste' },
  { command: 'loop-chosen', label: 'Play these over and over' },
  { command: 'clip-delete', label: 'Delete' },
] as const;

/** Drawn anew only when it becomes ready or not: there are many of them, and clips change with every move of the hand. */
export const CommandButton = memo(function CommandButton({
  command,
  label,
}: {
  readonly command: string;
  readonly label: string;
}) {
  const commander = useCommander();
  const row = commands.find(({ id }) => id === command)!;
  const isReady = useScreen((state) => row.when?.(state) ?? true);
  return (
    <Button isDisabled={!isReady} onPress={() => commander.run(command)}>
      {label}
    </Button>
  );
});

const mostTimes = 100;

function Repeating({ show, spots, clips }: ArrangingProps) {
  const workbench = useWorkbench();
  const edit = useEdit();
  const project = useProject((one) => one);
  const [times, setTimes] = useState(1);
  const count = repeatsWithin(project, show, clips, times);
  return (
    <>
      <NumberField
        label="Repeat so often"
        unit="×"
        digits={0}
        least={1}
        most={mostTimes}
        value={times}
        onChange={setTimes}
      />
      <Buttons>
        <Button
          takesFigures
          isDisabled={count === 0}
          onPress={() => {
            const rows = spots.map(({ row }) => row);
            const added = addedSpots(show.rows, Array.from({ length: count }, () => rows).flat());
            edit('Repeat', repeatClips(show.id, spots, times));
            workbench.select(selectionOfClips(show.id, [...spots, ...added]));
          }}
        >
          Repeat
        </Button>
      </Buttons>
      {count < times && (
        <p className={css['note']}>
          {count === 0 ? 'No more fits before the show’s end.' : `${count} fit before the show’s end.`}
        </p>
      )}
    </>
  );
}

export function ArrangingGroup({ show, spots, clips }: ArrangingProps) {
  const edit = useEdit();
  const { startMs, endMs } = spanOfClips(clips);
  return (
    <Group title="Arrange">
      <NumberField
        label="Stretch to"
        unit="s"
        digits={3}
        step={0.1}
        least={0.001}
        most={3600}
        value={(endMs - startMs) / 1000}
        onChange={(typed, gesture) =>
          edit('Stretch', stretchClips(show.id, spots, typedMs(typed) / (endMs - startMs), 'start'), gesture)
        }
      />
      <p className={css['note']}>Fades, brightness and the effect’s pace stretch along.</p>
      <Repeating show={show} spots={spots} clips={clips} />
      <Buttons>
        {buttons.map(({ command, label }) => (
          <CommandButton key={command} command={command} label={label} />
        ))}
      </Buttons>
      <p className={css['note']}>
        {clips.length > 1
          ? 'Crossfade takes clips of one row that overlap.'
          : 'To crossfade, choose the clip that it overlaps too (Shift).'}
      </p>
    </Group>
  );
}
