// The show's time in the inspector: the part that is repeated, markers, beats. Each of them in figures, whatever the mouse does on the ruler.
import { Trash2 } from 'lucide-react';
import { useState } from 'react';
import { changeMarker, deleteMarker, type Lampshow, limits, setBeats } from '../../../project/index.ts';
import { Button, Buttons, CheckField, Derived, Group, NumberField, TextField } from '../../fields/index.ts';
import { figure } from '../../format.ts';
import { setLoop } from '../../workbench/commands/timeline-commands.ts';
import { useEdit, usePlaybackPart, useWorkbench } from '../../workbench/context.ts';
import { beatsEvery, bpmOf, secondsOfBpm } from './beats.ts';
import { CommandButton } from './clip-arranging.tsx';
import css from './inspector.module.css';
import { markerName } from './timeline-marks.tsx';
import { typedMs } from './units.ts';

const iconPx = 14;

export function LoopGroup({ show }: { readonly show: Lampshow }) {
  const workbench = useWorkbench();
  const loop = usePlaybackPart('loop');
  const lastS = show.lengthMs / 1000;
  return (
    <Group title="Playing here">
      <CheckField
        label="Repeat a part only"
        value={loop !== undefined}
        onChange={(is) =>
          setLoop(workbench, is ? { fromMs: 0, toMs: Math.round(show.lengthMs / 2) } : undefined)
        }
      />
      {loop && (
        <>
          <NumberField
            label="From"
            unit="s"
            digits={3}
            step={0.1}
            least={0}
            most={lastS}
            value={loop.fromMs / 1000}
            onChange={(typed) => setLoop(workbench, { ...loop, fromMs: typedMs(typed) })}
          />
          <NumberField
            label="To"
            unit="s"
            digits={3}
            step={0.1}
            least={0}
            most={lastS}
            value={loop.toMs / 1000}
            onChange={(typed) => setLoop(workbench, { ...loop, toMs: typedMs(typed) })}
          />
        </>
      )}
    </Group>
  );
}

export function MarkerGroup({ show }: { readonly show: Lampshow }) {
  const edit = useEdit();
  const markers = (show.markers ?? [])
    .map((marker, index) => ({ marker, index }))
    .sort((a, b) => a.marker.atMs - b.marker.atMs);
  return (
    <Group title="Markers">
      {markers.length === 0 && <p className={css['note']}>Named moments that clips snap to.</p>}
      {markers.map(({ marker, index }) => (
        <div key={index} className={css['marker']}>
          <TextField
            isBare
            label={`Name of marker ${index + 1}`}
            value={markerName(marker, index)}
            onChange={(name) => edit('Rename marker', changeMarker(show.id, index, { name }))}
          />
          <NumberField
            isBare
            label={`Marker ${index + 1} at`}
            unit="s"
            digits={3}
            step={0.1}
            least={0}
            most={3600}
            value={marker.atMs / 1000}
            onChange={(typed, gesture) =>
              edit('Move marker', changeMarker(show.id, index, { atMs: typedMs(typed) }), gesture)
            }
          />
          <Button
            label={`Delete ${markerName(marker, index)}`}
            onPress={() => edit('Delete marker', deleteMarker(show.id, index))}
          >
            <Trash2 size={iconPx} aria-hidden="true" />
          </Button>
        </div>
      ))}
      <Buttons>
        <CommandButton command="marker-add" label="Add marker at playhead" />
      </Buttons>
    </Group>
  );
}

export function BeatGroup({ show }: { readonly show: Lampshow }) {
  const edit = useEdit();
  const beats = show.beatsMs ?? [];
  const [every, setEvery] = useState(0.5);
  const [from, setFrom] = useState(0);
  return (
    <Group title="Beats">
      <p className={css['note']}>
        Moments in time with the music that clips snap to. Press B in time while the show plays.
      </p>
      <Derived label="Beats">{figure(beats.length)}</Derived>
      <NumberField
        label="Beats a minute"
        digits={2}
        least={6}
        most={600}
        value={bpmOf(every)}
        onChange={(bpm) => setEvery(secondsOfBpm(bpm))}
      />
      <NumberField
        label="One every"
        unit="s"
        digits={3}
        step={0.01}
        least={0.1}
        most={10}
        value={every}
        onChange={setEvery}
      />
      <NumberField
        label="The first at"
        unit="s"
        digits={3}
        step={0.1}
        least={0}
        most={show.lengthMs / 1000}
        value={from}
        onChange={setFrom}
      />
      <Buttons>
        <CommandButton command="beat-tap" label="Tap" />
        <Button
          takesFigures
          onPress={() =>
            edit(
              'Set beats',
              setBeats(show.id, beatsEvery(every, from, show.lengthMs).slice(0, limits.beatsPerShow)),
            )
          }
        >
          Set beats
        </Button>
        <Button isDisabled={beats.length === 0} onPress={() => edit('Clear beats', setBeats(show.id, []))}>
          Clear beats
        </Button>
      </Buttons>
    </Group>
  );
}
