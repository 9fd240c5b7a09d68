// What the flash analysis has to say of a project: every sequence that breaks a rule, as findings with a way to calm it. Work comes as a generator that
// yields now and then: who runs it decides how long a slice lasts.
// Not here: the sequences (flash-plays.ts), the rules (src/light/flash-rules.ts). It never says that a show is harmless.
import type { Player } from '../lampshow/index.ts';
import {
  channelCount,
  FlashAnalysis,
  type FlashKind,
  type FlashScene,
  type FlashSpan,
  flashScene,
  lightScene,
  luminanceOf,
} from '../light/index.ts';
import { darkAmps, panelNetwork, whiteAmps, wireAmps } from '../power/index.ts';
import { type Finding, type Project, pointer } from '../project/index.ts';
import type { CompiledProject } from './compile.ts';
import {
  againStepMs,
  alonePlays,
  type FlashPlay,
  pressedPlays,
  type ShowSurvey,
  slowestAgainMs,
  slowestInTurnMs,
} from './flash-plays.ts';

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

/**
 * The brightness at which the panel's white is meant, 0 to 1: the project's own, and no more than its current limit lets through. Eyes get used to what a
 * panel can show.
 */
function whiteShareOf({ project, layout }: Pick<CompiledProject, 'project' | 'layout'>): number {
  const brightness = project.output.brightnessPercent / 100;
  const { limitAmps } = project.power;
  if (limitAmps === undefined) return brightness;
  const panel = panelNetwork(project, layout);
  const quiescent = wireAmps(panel, darkAmps(panel));
  const channels = wireAmps(panel, whiteAmps(panel)) - quiescent;
  const share = channels > 0 ? (limitAmps - quiescent) / channels : 1;
  // A limit that lets nothing through is told elsewhere; it must not make the white vanish.
  return Math.max(leastWhite, Math.min(brightness, share));
}
const leastWhite = 0.02;

/** All sequences that break a rule. The player holds the project's show data, and nobody else may use it until the end. Show data must exist. */
export function* flashesOf(
  compiled: Pick<CompiledProject, 'project' | 'layout' | 'frameMs'>,
  player: Player,
  distanceMm: number = usualDistanceMm,
): Generator<undefined, FlashFound[], undefined> {
  const { project, layout, frameMs } = compiled;
  const light = lightScene(project, layout);
  const found: FlashFound[] = [];
  if (light.sources.length === 0) return found;
  const scene = flashScene(light, { distanceMm, frameMs, whiteShare: whiteShareOf(compiled) });
  const surveys = new Map<string, ShowSurvey>();
  for (const play of alonePlays(project, frameMs)) {
    const survey = { light: [] as number[], red: [] as number[] };
    const analysis = yield* analysed(play, scene, player, (flux) => {
      let [all, red] = [0, 0];
      for (let i = 0; i < flux.length; i += channelCount) {
        all += luminanceOf(flux[i]!, flux[i + 1]!, flux[i + 2]!);
        red += Math.max(0, flux[i]! - flux[i + 1]! - flux[i + 2]!);
      }
      survey.light.push(all);
      survey.red.push(red);
    });
    surveys.set(play.show, { ...survey, changes: analysis.changes });
    if (analysis.spans.length > 0) found.push({ play, spans: analysis.spans });
  }
  for (const play of pressedPlays(project, frameMs, surveys)) {
    const { spans } = yield* analysed(play, scene, player);
    if (spans.length > 0) found.push({ play, spans });
  }
  return found;
}

function* analysed(
  play: FlashPlay,
  scene: FlashScene,
  player: Player,
  see?: (flux: Float32Array) => void,
): Generator<undefined, FlashAnalysis, undefined> {
  const { stride } = play;
  const analysis = new FlashAnalysis(stride === 1 ? scene : { ...scene, frameMs: scene.frameMs * stride });
  const frameOf =
    play.kind === 'alone'
      ? (frame: number) => player.frame(play.show, frame)
      : player.perform(play.show, play.log);
  for (let i = 0; i * stride < play.frameCount; i++) {
    analysis.add(frameOf(play.fromFrame + i * stride));
    see?.(analysis.flux);
    // Presses that flash once flash on: more of them say nothing new.
    if (analysis.spans.length > 0 && (play.kind === 'again' || play.kind === 'in-turn')) break;
    if (i % framesASlice === framesASlice - 1) yield;
  }
  return analysis;
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
  const lastMs = project.lampshows[index]!.lengthMs;
  const times = spans.map(
    ({ kind, fromMs, toMs }) =>
      `${kindWords[kind]} from ${seconds(fromMs)} to ${seconds(Math.min(toMs, lastMs))} s`,
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

function recordedFinding(project: Project, { play, spans }: FlashFound, distanceMm: number): Finding {
  const worst = gravest(spans);
  return {
    severity: 'warning',
    code: 'flashes',
    at: pointer(
      'pressLogs',
      (project.pressLogs ?? []).findIndex(({ id }) => id === play.events[0]),
    ),
    message: `${play.title} make more than three ${kindWords[worst.kind]} in a second, from ${seconds(worst.fromMs)} to ${seconds(worst.toMs)} s (${howMuch(worst, distanceMm)}).`,
    mend: calm,
  };
}

/** How to keep presses apart, in words: the shortest time from which on nothing was found; nothing where even slow presses flash. */
function apart(found: readonly FlashFound[], frameMs: number, hasValue: boolean): string {
  const { play } = found[0]!;
  const slowest = Math.max(...found.map((one) => one.play.everyMs ?? 0));
  const isOne = play.kind === 'again';
  if (slowest + 2 * againStepMs >= (isOne ? slowestAgainMs : slowestInTurnMs)) return '';
  // A value counts whether its press is heard or not.
  if (isOne && hasValue) return '';
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
  const hasValue = project.gameEvents!.some(({ id, hasValue: has }) => has && play.events.includes(id));
  return {
    severity: 'warning',
    code: 'flashes',
    at: eventAt(project, play.events[0]!, 'retriggerMs'),
    message: isOne
      ? `${names[0]}, ${pressed}, gives more than three ${kindWords[worst.kind]} in a second (${howMuch(worst, distanceMm)}).`
      : `${names.join(' and ')} in turn, ${pressed}, give more than three ${kindWords[worst.kind]} in a second (${howMuch(worst, distanceMm)}).`,
    mend: isOne
      ? capital(
          `${apart(found, frameMs, hasValue)}${hasValue ? 'soften or dim what its value fills, ' : ''}crossfade for longer, or calm its show, its beginning above all.`,
        )
      : capital(
          `${apart(found, frameMs, hasValue)}give one a higher priority than the other, or calm their shows, the beginnings above all.`,
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
  const alone = new Set(found.flatMap(({ play }) => (play.kind === 'alone' ? [play.show] : [])));
  /** A show that flashes by itself is told once, not with every way into it. */
  const isToldAlready = ({ kind, events }: FlashPlay): boolean => {
    if (alone.size === 0 || kind === 'alone') return false;
    if (kind === 'recorded' || alone.has(project.attractMode)) return true;
    return (project.gameEvents ?? []).some(({ id, lampshow }) => events.includes(id) && alone.has(lampshow));
  };
  const groups = new Map<string, FlashFound[]>();
  for (const one of found) {
    const { kind, title, events, show } = one.play;
    if (isToldAlready(one.play)) continue;
    const key = kind === 'alone' ? `alone ${show}` : kind === 'join' ? title : `${kind} ${events.join(' ')}`;
    groups.set(key, [...(groups.get(key) ?? []), one]);
  }
  return [...groups.values()].map((group) => {
    const { kind } = group[0]!.play;
    if (kind === 'alone') return showFinding(project, group[0]!, distanceMm);
    if (kind === 'recorded') return recordedFinding(project, group[0]!, distanceMm);
    return kind === 'join'
      ? joinFinding(project, group, distanceMm)
      : pressedFinding(compiled, group, distanceMm);
  });
}
