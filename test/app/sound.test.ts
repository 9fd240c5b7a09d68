// The sound guide's sums: beats of made-up sounds whose beats are known, and the drawn envelope. Expected moments follow from the tempo: 60 000 / bpm ms.
import { describe, expect, test } from 'vitest';
import { findBeats } from '../../src/app/sound/find-beats.ts';
import { heardFrom, SoundGuide, type SoundTrack } from '../../src/app/sound/sound-track.ts';
import { envelope, mixedDown, type Sound } from '../../src/app/sound/waveform.ts';

const sampleRate = 8000;

/** A steady, repeatable noise. */
function noise(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
    return (2 * state) / 2_147_483_648 - 1;
  };
}

/** Struck notes at these moments, each dying away, over some noise. */
function struck(beatsMs: readonly number[], lastsMs: number, noiseLevel = 0.01): Sound {
  const samples = new Float32Array(Math.round((lastsMs * sampleRate) / 1000));
  const hiss = noise(7);
  for (let i = 0; i < samples.length; i++) samples[i] = noiseLevel * hiss();
  for (const ms of beatsMs)
    for (let i = 0; i < 0.12 * sampleRate; i++) {
      const at = Math.round((ms * sampleRate) / 1000) + i;
      if (at < samples.length)
        samples[at]! +=
          0.6 * Math.exp(-i / (0.03 * sampleRate)) * Math.sin((2 * Math.PI * 440 * i) / sampleRate);
    }
  return { samples, sampleRate };
}

const every = (bpm: number, fromMs: number, lastsMs: number): number[] => {
  const beats: number[] = [];
  for (let ms = fromMs; ms < lastsMs; ms += 60_000 / bpm) beats.push(ms);
  return beats;
};

describe('finding beats', () => {
  test.each([
    [120, 0],
    [97, 230],
    [140, 100],
    [76, 400],
  ])('%d beats a minute from %d ms on', (bpm, fromMs) => {
    const known = every(bpm, fromMs, 20_000);
    const found = findBeats(struck(known, 20_000));
    // The steady middle: the ends have no neighbours to be told by.
    for (const ms of known.slice(2, -2)) {
      const nearest = Math.min(...found.map((one) => Math.abs(one - ms)));
      expect(nearest, `beat at ${ms} ms`).toBeLessThanOrEqual(25);
    }
    expect(Math.abs(found.length - known.length)).toBeLessThanOrEqual(2);
  });

  test('weaker beats between strong ones are kept in step, a missing one is bridged', () => {
    const known = every(120, 0, 16_000);
    const found = findBeats(
      struck(
        known.filter((_, i) => i !== 12),
        16_000,
        0.05,
      ),
    );
    expect(Math.min(...found.map((one) => Math.abs(one - known[12]!)))).toBeLessThanOrEqual(60);
  });

  test('silence, and less than two beats, have none', () => {
    expect(findBeats({ samples: new Float32Array(8000), sampleRate })).toEqual([]);
    expect(findBeats({ samples: new Float32Array(0), sampleRate })).toEqual([]);
  });
});

describe('the drawn envelope', () => {
  test('each column has its own lowest and highest sample', () => {
    // 8 samples a millisecond: 0, 1, 2, ... 15 over 100.
    const samples = Float32Array.from({ length: 16 }, (_, i) => (i - 4) / 100);
    const levels = envelope({ samples, sampleRate }, 0, 1, 3);
    expect([...levels].map((one) => Math.round(one * 100))).toEqual([-4, 3, 0, 11, 0, 0]);
  });

  test('before its beginning and behind its end it is silent', () => {
    const levels = envelope({ samples: Float32Array.from([0.5, -0.5]), sampleRate }, -10, 5, 4);
    expect([...levels]).toEqual([0, 0, 0, 0, -0.5, 0.5, 0, 0]);
  });

  test('channels are mixed at their mean', () => {
    const mixed = mixedDown([Float32Array.from([1, 0]), Float32Array.from([0, -1])], sampleRate);
    expect([...mixed.samples]).toEqual([0.5, -0.5]);
  });
});

describe('sound beside a show', () => {
  const track: SoundTrack = {
    name: 'march.wav',
    sound: { samples: new Float32Array(80_000), sampleRate },
    durationMs: 10_000,
    startMs: 2000,
    level: 0.5,
  };

  test('it begins at its place and is over when it is over', () => {
    expect(heardFrom(track, 0)).toBe(-2000);
    expect(heardFrom(track, 5000)).toBe(3000);
    expect(heardFrom(track, 12_000)).toBeUndefined();
  });

  test('the loudspeaker starts once, follows jumps, hears of its level and stops with the show', () => {
    let nowMs = 0;
    const said: string[] = [];
    const guide = new SoundGuide(
      {
        play: (_, fromMs) => said.push(`play ${fromMs}`),
        setLevel: (level) => said.push(`level ${level}`),
        stop: () => said.push('stop'),
      },
      () => nowMs,
    );
    guide.follow(track, 0, false);
    guide.follow(track, 0, true);
    for (const ms of [20, 40, 60]) {
      nowMs = ms;
      guide.follow(track, ms, true);
    }
    guide.follow({ ...track, level: 0.2 }, 60, true);
    // The playhead jumps, as when a show begins again.
    nowMs = 80;
    guide.follow({ ...track, level: 0.2 }, 6000, true);
    guide.follow({ ...track, level: 0.2 }, 6000, false);
    guide.follow(undefined, 6000, true);
    expect(said).toEqual(['play -2000', 'level 0.2', 'stop', 'play 4000', 'stop']);
  });

  test('where it is moved, it starts anew there', () => {
    const said: number[] = [];
    const guide = new SoundGuide(
      { play: (_, fromMs) => said.push(fromMs), setLevel: () => undefined, stop: () => undefined },
      () => 0,
    );
    guide.follow(track, 0, true);
    guide.follow({ ...track, startMs: -500 }, 0, true);
    expect(said).toEqual([-2000, 500]);
  });
});
