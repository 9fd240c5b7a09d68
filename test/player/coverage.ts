// Counts what a frame of a random project really reaches in the player: effects, blends, travels, colour orders, fades and so on.
// Not here: the drawing of projects. Which clips play is worked out from the document, not asked of the player.
import { colourOrders } from '../../src/catalogue/index.ts';
import {
  effectRows,
  fitLetters,
  mappedLeds,
  type ShowDataOptions,
  segmentsOf,
  spansOf,
} from '../../src/lampshow/index.ts';
import { type AreaLed, areaLeds, type Layout } from '../../src/panel/index.ts';
import type { Clip, Project } from '../../src/project/index.ts';

export interface PlayingClip {
  readonly clip: Clip;
  /** Time since the clip began, ms. */
  readonly insideMs: number;
}

/** The clips of a show's only pass that play at a frame number; the show repeats. */
export function playingClips(project: Project, show: string, timeMs: number): PlayingClip[] {
  const { rows, lengthMs } = project.lampshows.find((one) => one.id === show)!;
  const inShowMs = timeMs % lengthMs;
  return rows.flatMap((row) =>
    row.clips
      .map((clip) => ({ clip, insideMs: inShowMs - clip.startMs }))
      .filter(({ clip, insideMs }) => insideMs >= 0 && insideMs < clip.lengthMs),
  );
}

/** Counts by name; a name that never came up counts 0. */
export class Coverage {
  readonly #counts = new Map<string, number>();

  add(name: string, isReached = true): void {
    if (isReached) this.#counts.set(name, this.of(name) + 1);
  }

  of(name: string): number {
    return this.#counts.get(name) ?? 0;
  }

  /** Names that came up less often than `least`. */
  rare(names: readonly string[], least: number): string[] {
    return names.filter((name) => this.of(name) < least).map((name) => `${name}: ${this.of(name)}`);
  }
}

function countEffect(coverage: Coverage, { effect }: Clip): void {
  coverage.add(`effect ${effect.kind}`);
  if (effect.kind === 'band') {
    coverage.add(`band ${effect.travel}`);
    coverage.add('several bands', effect.bands > 1);
  }
  if (effect.kind === 'rings') coverage.add(effect.inward ? 'rings inward' : 'rings outward');
  if (effect.kind === 'cloud') coverage.add('drifting cloud', effect.driftMmPerSecond > 0);
  if (effect.kind === 'glow') coverage.add('breathing glow', (effect.depth ?? 0) > 0);
}

function countClip(coverage: Coverage, { clip, insideMs }: PlayingClip): void {
  countEffect(coverage, clip);
  coverage.add(`blend ${clip.blend}`);
  coverage.add('fading in', insideMs < (clip.fadeInMs ?? 0));
  coverage.add('fading out', clip.lengthMs - insideMs < (clip.fadeOutMs ?? 0));
  coverage.add('level under 100 %', (clip.levelPercent ?? 100) < 100);
  coverage.add('clip beyond 65,535 ms', insideMs > 0xffff);
  coverage.add('envelope', clip.envelope !== undefined);
  coverage.add('cycling gradient', clip.cycle !== undefined);
  coverage.add(`effect ${clip.effect.kind} ${clip.blend}`);
}

const lettersFit = (leds: readonly AreaLed[]): boolean => fitLetters(mappedLeds(leds)).fits;

/** Everything about one frame that does not need its bytes. */
export function countFrame(
  coverage: Coverage,
  project: Project,
  layout: Layout,
  frameNumber: number,
  { frameMs }: Pick<ShowDataOptions, 'frameMs'>,
): void {
  const show = project.lampshows.find((one) => one.id === project.attractMode)!;
  const segments = segmentsOf(layout);
  const timeMs = frameNumber * frameMs;
  coverage.add('show repeated', timeMs >= show.lengthMs);
  coverage.add('frame number beyond 16 bits', frameNumber > 0xffff);
  coverage.add('near an hour', timeMs > 3_500_000 && timeMs < 3_700_000);
  coverage.add('two data lines', layout.lines.length === 2);
  coverage.add('white balance', (project.output.whiteBalance?.blue ?? 1) < 1);
  coverage.add('brightness under 100 %', project.output.brightnessPercent < 100);
  for (const { strip } of segments) {
    coverage.add(`order ${strip.colourOrder}`);
    coverage.add(`current ${strip.currentModel}`);
  }
  for (const playing of playingClips(project, show.id, timeMs)) {
    const leds = areaLeds(layout, project.areas.find((area) => area.id === playing.clip.area)!);
    if (leds.length === 0) continue;
    countClip(coverage, playing);
    const spans = spansOf(
      leds.map((led) => led.wire),
      segments,
    );
    coverage.add(
      'colour order changes inside an area',
      new Set(spans.map((span) => span.segment.strip.colourOrder)).size > 1,
    );
    coverage.add('letters in rows', playing.clip.effect.kind === 'letters' && lettersFit(leds));
  }
}

/** Every effect of the document; a new one has to be reached too. */
export const effectNames: readonly string[] = Object.keys(effectRows).map((kind) => `effect ${kind}`);

/** Every effect with every blend. */
export const pairNames: readonly string[] = Object.keys(effectRows).flatMap((kind) =>
  ['over', 'add', 'brighter-wins', 'tint'].map((blend) => `effect ${kind} ${blend}`),
);

/** All names that a good set of random projects reaches. */
export const coverageNames: readonly string[] = [
  ...effectNames,
  ...['over', 'add', 'brighter-wins', 'tint'].map((blend) => `blend ${blend}`),
  ...['forward', 'backward', 'there-and-back'].map((travel) => `band ${travel}`),
  ...colourOrders.map((order) => `order ${order}`),
  ...['current sum', 'current largest', 'limiter active', 'white balance', 'brightness under 100 %'],
  ...['rings inward', 'rings outward', 'several bands', 'drifting cloud', 'breathing glow'],
  ...[
    'fading in',
    'fading out',
    'level under 100 %',
    'two data lines',
    'envelope',
    'cycling gradient',
    'letters in rows',
  ],
  ...['clip beyond 65,535 ms', 'show repeated', 'frame number beyond 16 bits', 'near an hour'],
  'colour order changes inside an area',
  ...pairNames,
];
