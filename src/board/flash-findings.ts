// What the flash analysis has to say of a project: every sequence that breaks a rule, as findings with a way to calm it. Work comes as a generator that
// yields now and then: who runs it decides how long a slice lasts.
// Not here: the sequences (flash-plays.ts), the rules (src/light/flash-rules.ts). It never says that a show is harmless.
import type { Player } from '../lampshow/index.ts';
import { FlashAnalysis, type FlashKind, type FlashSpan, flashScene, lightScene } from '../light/index.ts';
import { type Finding, type Project, pointer } from '../project/index.ts';
import type { CompiledProject } from './compile.ts';
import { againStepMs, type FlashPlay, flashPlays, slowestAgainMs, slowestInTurnMs } from './flash-plays.ts';

/** Where a player's eyes are from the backbox of a standing game: common practice, no source. */
export const usualDistanceMm = 1000;

/** Said wherever the result is shown or handed on. */
export const flashCaution =
  'Flashing light can cause seizures. The analysis counts flashes by WCAG 2.2 and the broadcast rule; it is no medical advice, and light that breaks no rule can still harm. Put a warning where the panel is shown, and let it be switched off.';

/** The whole of what may be said where nothing breaks a rule. */
export const noFlashes = (distanceMm: number = usualDistanceMm): string =>
  `No flashes found from ${(distanceMm / 1000).toFixed(1)} m.`;

export interface FlashFound {
  readonly play: FlashPlay;
  readonly spans: readonly FlashSpan[];
}

/** Frames between two yields: a few milliseconds of work. */
const framesASlice = 8;

/** All sequences that break a rule. The player holds the project's show data, and nobody else may use it until the end. Show data must exist. */
export function* flashesOf(
  compiled: Pick<CompiledProject, 'project' | 'layout' | 'frameMs'>,
  player: Player,
  distanceMm: number = usualDistanceMm,
): Generator<undefined, FlashFound[], undefined> {
  const { project, layout, frameMs } = compiled;
  const whiteShare = project.output.brightnessPercent / 100;
  const scene = flashScene(lightScene(project, layout), { distanceMm, frameMs, whiteShare });
  const found: FlashFound[] = [];
  if (scene.scene.sources.length === 0) return found;
  for (const play of flashPlays(project, frameMs)) {
    const analysis = new FlashAnalysis(scene);
    const frameOf =
      play.kind === 'alone'
        ? (frame: number) => player.frame(play.show, frame)
        : player.perform(play.show, play.log);
    for (let i = 0; i < play.frameCount; i++) {
      analysis.add(frameOf(play.fromFrame + i));
      if (i % framesASlice === framesASlice - 1) yield;
    }
    if (analysis.spans.length > 0) found.push({ play, spans: analysis.spans });
  }
  return found;
}

const kindWords: Readonly<Record<FlashKind, string>> = {
  general: 'flashes',
  red: 'saturated red flashes',
  broadcast: 'flashes or red flashes over a fifth of the panel',
};

const seconds = (ms: number): string => (ms / 1000).toFixed(2);
const squareCentimetres = (mm2: number): string => (mm2 / 100).toFixed(0);

/** The gravest span: red light first, then the longest. */
const gravest = (spans: readonly FlashSpan[]): FlashSpan =>
  [...spans].sort(
    (a, b) => Number(b.kind === 'red') - Number(a.kind === 'red') || b.toMs - b.fromMs - (a.toMs - a.fromMs),
  )[0]!;

const howMuch = ({ kind, area, mostAreaMm2 }: FlashSpan, distanceMm: number): string =>
  kind === 'broadcast'
    ? `${squareCentimetres(area.areaMm2)} of ${squareCentimetres(mostAreaMm2)} cm² allowed`
    : `${squareCentimetres(area.areaMm2)} cm² in one field of view, ${squareCentimetres(mostAreaMm2)} allowed from ${(distanceMm / 1000).toFixed(1)} m`;

const calm =
  'Slow it to three flashes a second at most, fade instead of switching, dim it, turn saturated red towards orange, or let a smaller part flash.';

const nameOf = ({ id, name }: { readonly id: string; readonly name?: string }): string => name ?? id;

function showFinding(project: Project, { play, spans }: FlashFound, distanceMm: number): Finding {
  const index = project.lampshows.findIndex(({ id }) => id === play.show);
  const times = spans.map(
    ({ kind, fromMs, toMs }) => `${kindWords[kind]} from ${seconds(fromMs)} to ${seconds(toMs)} s`,
  );
  return {
    severity: 'warning',
    code: 'flashes',
    at: pointer('lampshows', index),
    message: `${play.title} holds more than three a second: ${times.join('; ')} (${howMuch(gravest(spans), distanceMm)}).`,
    mend: calm,
  };
}

const eventAt = (project: Project, id: string, ...rest: string[]): string =>
  pointer(
    'gameEvents',
    (project.gameEvents ?? []).findIndex((event) => event.id === id),
    ...rest,
  );

function joinFinding(project: Project, found: readonly FlashFound[], distanceMm: number): Finding {
  const { play, spans } = found[0]!;
  const worst = gravest(found.flatMap((one) => one.spans));
  return {
    severity: 'warning',
    code: 'flashes',
    at: eventAt(project, play.events[0]!, 'crossfadeMs'),
    message: `${play.title} there are more than three ${kindWords[gravest(spans).kind]} in a second (${howMuch(worst, distanceMm)}).`,
    mend: 'Crossfade for longer, or calm the first and the last second of its show.',
  };
}

/** How to keep presses apart, in words: the shortest time from which on nothing was found; nothing where even slow presses flash. */
function apart(found: readonly FlashFound[], frameMs: number): string {
  const { play } = found[0]!;
  const slowest = Math.max(...found.map((one) => one.play.everyMs ?? 0));
  const isOne = play.kind === 'again';
  if (slowest + 2 * againStepMs >= (isOne ? slowestAgainMs : slowestInTurnMs)) return '';
  // Of two in turn each is pressed every second time.
  const calmMs = (isOne ? 1 : 2) * Math.ceil((slowest + Math.max(frameMs, againStepMs)) / 10) * 10;
  return `let ${isOne ? 'it' : 'each'} be heard again only after ${calmMs} ms, `;
}

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

function pressedFinding(
  { project, frameMs }: CompiledProject,
  found: readonly FlashFound[],
  distanceMm: number,
): Finding {
  const { play } = found[0]!;
  const times = found.map((one) => one.play.everyMs ?? 0);
  const names = play.events.map((id) => nameOf(project.gameEvents!.find((event) => event.id === id)!));
  const pressed = `pressed every ${Math.round(Math.min(...times))} to ${Math.round(Math.max(...times))} ms`;
  const worst = gravest(found.flatMap(({ spans }) => spans));
  const isOne = play.kind === 'again';
  return {
    severity: 'warning',
    code: 'flashes',
    at: eventAt(project, play.events[0]!, 'retriggerMs'),
    message: isOne
      ? `${names[0]}, ${pressed}, gives more than three ${kindWords[worst.kind]} in a second (${howMuch(worst, distanceMm)}).`
      : `${names.join(' and ')} in turn, ${pressed}, give more than three ${kindWords[worst.kind]} in a second (${howMuch(worst, distanceMm)}).`,
    mend: isOne
      ? capital(`${apart(found, frameMs)}crossfade for longer, or calm its show, its beginning above all.`)
      : capital(
          `${apart(found, frameMs)}give one a higher priority than the other, or calm their shows, the beginnings above all.`,
        ),
  };
}

/** One finding a show, and one for each way in which events make flashes, in the order of the sequences. */
export function flashFindings(
  compiled: CompiledProject,
  found: readonly FlashFound[],
  distanceMm: number = usualDistanceMm,
): Finding[] {
  const { project } = compiled;
  const groups = new Map<string, FlashFound[]>();
  for (const one of found) {
    const { kind, title, events, show } = one.play;
    const key = kind === 'alone' ? `alone ${show}` : kind === 'join' ? title : `${kind} ${events.join(' ')}`;
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  return [...groups.values()].map((group) => {
    const { kind } = group[0]!.play;
    if (kind === 'alone') return showFinding(project, group[0]!, distanceMm);
    return kind === 'join'
      ? joinFinding(project, group, distanceMm)
      : pressedFinding(compiled, group, distanceMm);
  });
}
