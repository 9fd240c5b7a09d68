// The sound guide in the inspector: a file to hear and see beside the show, where it begins, how loud, and the beats found in it. It stays on this page:
// neither saved with the project nor exported.
import { fileOpen } from 'browser-fs-access';
import { useState } from 'react';
import { type Lampshow, limits, setBeats } from '../../../project/index.ts';
import { Button, Buttons, Derived, Group, NumberField } from '../../fields/index.ts';
import { seconds } from '../../format.ts';
import { findBeats } from '../../sound/find-beats.ts';
import { readSound } from '../../sound/loudspeaker.ts';
import { type SoundTrack, setTrack } from '../../sound/sound-track.ts';
import { useEdit } from '../../workbench/context.ts';
import css from './inspector.module.css';
import { useSoundTrack } from './sound-strip.tsx';
import { typedMs } from './units.ts';

const longestMs = 3_600_000;

/** Beats of the sound on the show's time, as far as they lie in the show. */
export const beatsOfTrack = ({ sound, startMs }: SoundTrack, lengthMs: number): number[] =>
  findBeats(sound)
    .map((ms) => Math.round(ms + startMs))
    .filter((ms) => ms >= 0 && ms < lengthMs)
    .slice(0, limits.beatsPerShow);

export function SoundGroup({ show }: { readonly show: Lampshow }) {
  const edit = useEdit();
  const track = useSoundTrack(show.id);
  const [told, setTold] = useState<string>();
  const choose = async () => {
    let file: File;
    try {
      file = await fileOpen({
        description: 'Sounds',
        mimeTypes: ['audio/*'],
        extensions: ['.wav', '.mp3', '.ogg', '.flac', '.m4a'],
      });
    } catch {
      // Nothing was chosen.
      return;
    }
    setTold('Reading...');
    const read = await readSound(file);
    if (typeof read === 'string') {
      setTold(read);
      return;
    }
    setTold(undefined);
    setTrack(show.id, read);
  };
  const find = () => {
    const beats = track ? beatsOfTrack(track, show.lengthMs) : [];
    if (beats.length === 0) {
      setTold('No steady beat was found: press B in time while it plays.');
      return;
    }
    setTold(undefined);
    edit('Find beats', setBeats(show.id, beats));
  };
  return (
    <Group title="Sound beside it">
      <p className={css['note']}>
        Heard and seen here while you compose; it stays on this page and is never exported.
      </p>
      {track && (
        <>
          <Derived label={track.name} unit="s">
            {seconds(track.durationMs)}
          </Derived>
          <NumberField
            label="Begins at"
            unit="s"
            digits={3}
            step={0.01}
            least={-longestMs / 1000}
            most={longestMs / 1000}
            value={track.startMs / 1000}
            onChange={(typed) => setTrack(show.id, { ...track, startMs: typedMs(typed) })}
          />
          <NumberField
            label="Loudness"
            unit="%"
            digits={0}
            least={0}
            most={100}
            value={Math.round(100 * track.level)}
            onChange={(percent) => setTrack(show.id, { ...track, level: percent / 100 })}
          />
        </>
      )}
      {told !== undefined && (
        <p className={css['note']} role="status">
          {told}
        </p>
      )}
      <Buttons>
        <Button onPress={() => void choose()}>{track ? 'Another sound' : 'Choose a sound'}</Button>
        {track && <Button onPress={find}>Find beats</Button>}
        {track && <Button onPress={() => setTrack(show.id, undefined)}>Take it away</Button>}
      </Buttons>
    </Group>
  );
}
