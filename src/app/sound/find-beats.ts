// Beats in a sound: where its loudness rises, the pace at which that repeats, and the beats that fit it best, each drawn to the rise nearby. Good for music
// with a clear, steady beat; everything else is tapped by hand. Pure. Method: energy rises, their autocorrelation for the pace, then the best chain of
// beats by dynamic programming (D. Ellis, "Beat Tracking by Dynamic Programming", J. New Music Research 36, 2007, from memory).
import type { Sound } from './waveform.ts';

const hopMs = 10;
/** Paces that feet and hands follow. */
const slowestBpm = 60;
const fastestBpm = 190;
/** Where most music lies: of two paces that fit alike (one the double of the other) the nearer one is taken. */
const usualBpm = 120;
/** How far from the even pace a beat may lie: the larger, the evener. */
const evenness = 100;
/** Rises under this share of the mean say that there is nothing to hear. */
const leastRise = 1e-6;

/** By hop: how much louder it became, the logarithm of energy, falls as 0. */
function rises({ samples, sampleRate }: Sound): Float64Array {
  const hop = Math.max(1, Math.round((hopMs * sampleRate) / 1000));
  const count = Math.floor(samples.length / hop);
  const strength = new Float64Array(count);
  let before = 0;
  for (let i = 0; i < count; i++) {
    let energy = 0;
    for (let at = i * hop; at < (i + 1) * hop; at++) energy += samples[at]! * samples[at]!;
    const loud = Math.log1p(1000 * (energy / hop));
    strength[i] = Math.max(0, loud - before);
    before = loud;
  }
  return strength;
}

/** Hops from beat to beat; undefined where nothing repeats. */
function paceOf(strength: Float64Array): number | undefined {
  const mean = strength.reduce((sum, one) => sum + one, 0) / Math.max(1, strength.length);
  if (mean < leastRise) return undefined;
  const least = Math.round(60_000 / fastestBpm / hopMs);
  const most = Math.min(Math.round(60_000 / slowestBpm / hopMs), Math.floor(strength.length / 2));
  let best: number | undefined;
  let bestScore = 0;
  for (let lag = least; lag <= most; lag++) {
    let sum = 0;
    for (let i = lag; i < strength.length; i++) sum += (strength[i]! - mean) * (strength[i - lag]! - mean);
    const octaves = Math.log2(60_000 / (lag * hopMs) / usualBpm);
    const score = (sum / (strength.length - lag)) * Math.exp(-0.5 * octaves * octaves);
    if (score > bestScore) [best, bestScore] = [lag, score];
  }
  return best;
}

/** Moments of beats, whole ms from the sound's beginning, ascending; empty where no steady beat is found. */
export function findBeats(sound: Sound): number[] {
  const strength = rises(sound);
  const pace = paceOf(strength);
  if (pace === undefined) return [];
  const deviation = Math.sqrt(
    strength.reduce((sum, one) => sum + one * one, 0) / Math.max(1, strength.length),
  );
  const score = new Float64Array(strength.length);
  const from = new Int32Array(strength.length).fill(-1);
  for (let i = 0; i < strength.length; i++) {
    let best = 0;
    for (let before = Math.max(0, i - 2 * pace); before <= i - Math.round(pace / 2); before++) {
      const value = score[before]! - evenness * Math.log((i - before) / pace) ** 2;
      if (value > best) [best, from[i]] = [value, before];
    }
    score[i] = strength[i]! / deviation + best;
  }
  // The last beat is the best of the last stretch as long as one; nothing behind it could be better by more than one beat.
  let at = -1;
  for (let i = Math.max(0, strength.length - pace); i < strength.length; i++)
    if (at === -1 || score[i]! > score[at]!) at = i;
  const beats: number[] = [];
  for (; at >= 0; at = from[at]!) beats.push(at * hopMs);
  return beats.reverse();
}
