// The browser's loudspeaker, and reading a sound file with the browser's own decoders. Nothing leaves the page.
import type { Loudspeaker, SoundTrack } from './sound-track.ts';
import { mixedDown } from './waveform.ts';

/** Decoded, ten minutes in stereo are 200 MB already. */
export const mostSoundBytes = 60_000_000;
const mostMinutes = 20;

const context = (() => {
  let made: AudioContext | undefined;
  return () => {
    made ??= new AudioContext();
    return made;
  };
})();

/** The sound, or why it can't be used, in words. */
export async function readSound(file: File): Promise<SoundTrack | string> {
  if (file.size > mostSoundBytes) return `${file.name} is larger than ${mostSoundBytes / 1e6} MB.`;
  try {
    const buffer = await context().decodeAudioData(await file.arrayBuffer());
    if (buffer.duration > mostMinutes * 60) return `${file.name} lasts more than ${mostMinutes} minutes.`;
    const channels = Array.from({ length: buffer.numberOfChannels }, (_, i) => buffer.getChannelData(i));
    return {
      name: file.name,
      sound: mixedDown(channels, buffer.sampleRate),
      durationMs: Math.round(buffer.duration * 1000),
      startMs: 0,
      level: 0.8,
    };
  } catch {
    return `${file.name} is no sound that this browser can read. Try a WAV, MP3 or Ogg file.`;
  }
}

export function loudspeaker(): Loudspeaker {
  let source: AudioBufferSourceNode | undefined;
  let gain: GainNode | undefined;
  const stop = () => {
    source?.stop();
    source?.disconnect();
    gain?.disconnect();
    source = undefined;
    gain = undefined;
  };
  return {
    play: ({ sound, level }, fromMs) => {
      stop();
      const audio = context();
      void audio.resume();
      const buffer = audio.createBuffer(1, Math.max(1, sound.samples.length), sound.sampleRate);
      buffer.copyToChannel(sound.samples as Float32Array<ArrayBuffer>, 0);
      source = audio.createBufferSource();
      source.buffer = buffer;
      gain = audio.createGain();
      gain.gain.value = level;
      source.connect(gain).connect(audio.destination);
      source.start(audio.currentTime + Math.max(0, -fromMs) / 1000, Math.max(0, fromMs) / 1000);
    },
    setLevel: (level) => {
      if (gain) gain.gain.value = level;
    },
    stop,
  };
}
