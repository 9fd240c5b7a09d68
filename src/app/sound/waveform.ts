// A sound drawn: for each column the lowest and the highest sample that falls on it. Pure.

/** Samples of one channel, -1 to 1. */
export interface Sound {
  readonly samples: Float32Array;
  readonly sampleRate: number;
}

/** Level from `fromMs` on in columns of `msPerColumn`: lowest and highest in turn; 0 where the sound is over or not yet begun. */
export function envelope(
  { samples, sampleRate }: Sound,
  fromMs: number,
  msPerColumn: number,
  columns: number,
): Float32Array {
  const levels = new Float32Array(2 * columns);
  for (let column = 0; column < columns; column++) {
    const at = (ms: number) => Math.floor((ms * sampleRate) / 1000);
    const first = Math.max(0, at(fromMs + column * msPerColumn));
    const end = Math.min(samples.length, Math.max(first + 1, at(fromMs + (column + 1) * msPerColumn)));
    if (fromMs + column * msPerColumn < 0) continue;
    for (let i = first; i < end; i++) {
      const level = samples[i]!;
      if (level < levels[2 * column]!) levels[2 * column] = level;
      if (level > levels[2 * column + 1]!) levels[2 * column + 1] = level;
    }
  }
  return levels;
}

/** All channels as one, at their mean. */
export function mixedDown(channels: readonly Float32Array[], sampleRate: number): Sound {
  const [first] = channels;
  if (!first || channels.length === 1) return { samples: first ?? new Float32Array(), sampleRate };
  const samples = new Float32Array(first.length);
  for (const channel of channels)
    for (let i = 0; i < samples.length; i++) samples[i]! += channel[i]! / channels.length;
  return { samples, sampleRate };
}
