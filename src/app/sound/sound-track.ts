// The sound that plays beside a show, per show: a guide for the builder alone. It is no part of the document, is never exported, and is gone with the page.
// Where it comes from and how it is heard is a port, so that tests need no loudspeaker.
import { createStore, type StoreApi } from 'zustand/vanilla';
import type { Sound } from './waveform.ts';

export interface SoundTrack {
  readonly name: string;
  readonly sound: Sound;
  readonly durationMs: number;
  /** Where in the show it begins; before its beginning where negative. */
  readonly startMs: number;
  /** 0 to 1. */
  readonly level: number;
}

/** By the show's id. */
export type SoundTracks = Readonly<Record<string, SoundTrack>>;

export const soundTracks: StoreApi<SoundTracks> = createStore<SoundTracks>()(() => ({}));

export function setTrack(show: string, track: SoundTrack | undefined): void {
  const { [show]: _, ...others } = soundTracks.getState();
  soundTracks.setState(track ? { ...others, [show]: track } : others, true);
}

/** What is to be heard at a moment of the show: from where in the sound, ms; undefined where it is silent. */
export function heardFrom({ startMs, durationMs }: SoundTrack, atMs: number): number | undefined {
  const from = atMs - startMs;
  return from >= durationMs ? undefined : from;
}

/** A loudspeaker: plays from a place of the sound on, a negative one after that delay; stops. */
export interface Loudspeaker {
  readonly play: (track: SoundTrack, fromMs: number) => void;
  readonly setLevel: (level: number) => void;
  readonly stop: () => void;
}

/** Farther apart than that, sound and light are brought together again: people notice from about 80 ms on (common practice, no source). */
const apartMs = 70;

/** Keeps a loudspeaker with the playhead: told every frame where the show stands, it starts, stops and follows jumps. */
export class SoundGuide {
  private readonly speaker: Loudspeaker;
  private readonly nowMs: () => number;
  private playing: { readonly track: SoundTrack; readonly zeroMs: number } | undefined;

  constructor(speaker: Loudspeaker, nowMs: () => number) {
    this.speaker = speaker;
    this.nowMs = nowMs;
  }

  /** `track` undefined or not playing: silence. */
  follow(track: SoundTrack | undefined, atMs: number, isPlaying: boolean): void {
    const from = track && isPlaying ? heardFrom(track, atMs) : undefined;
    if (!track || from === undefined) {
      this.silence();
      return;
    }
    const { playing } = this;
    const isSame = playing && playing.track.sound === track.sound && playing.track.startMs === track.startMs;
    if (isSame && Math.abs(this.nowMs() - playing.zeroMs - atMs) < apartMs) {
      if (playing.track.level !== track.level) {
        this.speaker.setLevel(track.level);
        this.playing = { ...playing, track };
      }
      return;
    }
    this.silence();
    this.speaker.play(track, from);
    this.playing = { track, zeroMs: this.nowMs() - atMs };
  }

  silence(): void {
    if (this.playing) this.speaker.stop();
    this.playing = undefined;
  }
}
