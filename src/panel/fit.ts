// Fitting runs into engraved channels: in each the most LEDs that fit, centred. Runs that lie in a channel already stay what they are (id, name,
// strip, the way the data goes, their place in the chain); the others are new, behind the last data line's chain.
// Not here: which shapes of a drawing are channels (drawing/channels-from.ts), what is told about them later (channel-findings.ts).
import { strips as catalogueStrips, pitchMm } from '../catalogue/index.ts';
import {
  addRun,
  type Channel,
  type Edit,
  feedPlaces,
  freeId,
  lengthenRun,
  limits,
  type Project,
  type Run,
} from '../project/index.ts';
import { type ChannelRuns, Grooves, matchRuns, mostLeds, stripIdFor } from './channel-runs.ts';
import { inLines } from './drawing/channels-from.ts';
import { type Direction, drawnToMm, type Groove } from './groove.ts';
import { arrowVector } from './layout.ts';
import { distanceMm, type PointMm } from './plane.ts';
import { stripById } from './strips.ts';

export interface OtherPitch {
  readonly ledsPerMetre: number;
  readonly ledCount: number;
  readonly misfitMm: number;
}

export interface ChannelFit {
  readonly channel: string;
  /** Undefined where no LED was laid in it. */
  readonly run: string | undefined;
  readonly isNew: boolean;
  /** The longest piece of the strip's board that lies wholly inside, and the free width; undefined for a middle line. */
  readonly lengthMm: number;
  readonly widthMm: number | undefined;
  readonly ledCount: number;
  /** The cut piece: LEDs x pitch. */
  readonly usedMm: number;
  readonly leftOverMm: number;
  /** How far the length is from the nearest whole number of cut pieces: too long or too short. */
  readonly misfitMm: number;
  /** LEDs that the run had before and that don't fit. */
  readonly lostLeds: number;
  /** Where LEDs don't come out even: another density in the catalogue that does. */
  readonly pitchMismatch: OtherPitch | undefined;
  /** What kept LEDs from being laid. */
  readonly obstacle: 'narrow' | 'short' | 'limit' | undefined;
}

/** More than this and the channel was cut for something else, mm. */
export const mostMisfitMm = 0.5;

/** How far a length is from the nearest whole number of units, at least one. */
const misfitOf = (lengthMm: number, unitMm: number): number =>
  Math.abs(lengthMm - Math.max(1, Math.round(lengthMm / unitMm)) * unitMm);

/** Densities that fit alike well, mm: the one nearest to the strip's own is meant. */
const alikeMm = 0.05;

/** The density of the catalogue whose LEDs come out even in this length, where the strip's own don't. */
export function betterPitch(
  lengthMm: number,
  own: { readonly ledsPerMetre: number; readonly cutEveryLeds?: number | undefined },
): OtherPitch | undefined {
  const units = own.cutEveryLeds ?? 1;
  if (misfitOf(lengthMm, pitchMm(own) * units) <= mostMisfitMm) return undefined;
  const others = [...new Set(catalogueStrips.map((strip) => strip.ledsPerMetre))]
    .filter((ledsPerMetre) => ledsPerMetre !== own.ledsPerMetre)
    .map((ledsPerMetre) => ({
      ledsPerMetre,
      ledCount: Math.round((lengthMm * ledsPerMetre) / 1000),
      misfitMm: misfitOf(lengthMm, pitchMm({ ledsPerMetre })),
    }))
    .filter(({ ledCount, misfitMm }) => ledCount > 0 && misfitMm <= mostMisfitMm);
  const least = Math.min(...others.map(({ misfitMm }) => misfitMm));
  const off = (other: OtherPitch): number => Math.abs(other.ledsPerMetre - own.ledsPerMetre);
  return others.filter(({ misfitMm }) => misfitMm <= least + alikeMm).toSorted((a, b) => off(a) - off(b))[0];
}

/** Upright within this, a new run's arrow points up; else to the right. */
const uprightDeg = 1;
/** A drawing's rounding turns a channel by less; straight rows stay exactly straight. */
const straightDeg = 5e-4;

const angleOf = ({ x, y }: Direction): number => ((Math.atan2(-y, x) * 180) / Math.PI + 360) % 360;

/** The groove's direction or the opposite one, as an arrow's angle: like the run's own arrow, else left to right. */
function arrowDegFor(groove: Groove, run: Run | undefined): number {
  const { x, y } = groove.along;
  const isUpright = Math.abs(x) < Math.sin((uprightDeg * Math.PI) / 180);
  const wanted = run ? arrowVector(run.arrowDeg) : isUpright ? { x: 0, y: -1 } : { x: 1, y: 0 };
  const sign = x * wanted.x + y * wanted.y < 0 ? -1 : 1;
  const deg = angleOf({ x: sign * x, y: sign * y });
  const straight = Math.round(deg / 90) * 90;
  return (Math.abs(deg - straight) <= straightDeg ? straight : Math.round(deg * 1e4) / 1e4) % 360;
}

/** Thousandths of a millimetre are below any tool; + 0, since no file holds a -0. */
const tidy = (value: number): number => Math.round(value * 1e3) / 1e3 + 0;

const middleOf = ({ from, to }: Groove): PointMm => ({
  xMm: (from.xMm + to.xMm) / 2,
  yMm: (from.yMm + to.yMm) / 2,
});

/** First LED of a run centred about a place. */
function firstLedAbout(middle: PointMm, arrowDeg: number, ledCount: number, pitch: number): PointMm {
  const arrow = arrowVector(arrowDeg);
  const back = (pitch * (ledCount - 1)) / 2;
  return { xMm: tidy(middle.xMm - arrow.x * back), yMm: tidy(middle.yMm - arrow.y * back) };
}

interface Laid {
  readonly channel: Channel;
  readonly before: Run | undefined;
  readonly run: Run | undefined;
  readonly fit: ChannelFit;
}

/** What comes to lie in one channel, with at most so many LEDs. */
function layIn(
  project: Project,
  channel: Channel,
  before: Run | undefined,
  grooves: Grooves,
  room: number,
): Laid {
  const stripId = stripIdFor(project, before);
  const strip = stripById(project, stripId);
  const pitch = pitchMm(strip);
  const groove = grooves.of(channel, strip.boardWidthMm);
  const lengthMm = groove?.lengthMm ?? 0;
  const cutEvery = strip.cutEveryLeds ?? 1;
  const fitting = groove?.takesBoard ? mostLeds(strip, lengthMm) : 0;
  const most = Math.min(room, limits.ledsPerRun);
  const ledCount = fitting <= most ? fitting : Math.floor(most / cutEvery) * cutEvery;
  const obstacle =
    groove && !groove.takesBoard
      ? 'narrow'
      : fitting === 0
        ? 'short'
        : ledCount < fitting
          ? 'limit'
          : undefined;
  const run = groove && ledCount > 0 ? fitted(before, stripId, groove, ledCount, pitch) : undefined;
  const fit: ChannelFit = {
    channel: channel.id,
    run: run?.id,
    isNew: run !== undefined && before === undefined,
    lengthMm,
    widthMm: groove?.widthMm,
    ledCount: run ? ledCount : 0,
    usedMm: run ? ledCount * pitch : 0,
    leftOverMm: lengthMm - (run ? ledCount * pitch : 0),
    misfitMm: misfitOf(lengthMm, pitch * cutEvery),
    lostLeds: before ? Math.max(0, before.ledCount - ledCount) : 0,
    pitchMismatch: betterPitch(lengthMm, strip),
    obstacle,
  };
  return { channel, before, run, fit };
}

/** A run that already lies so, to the rounding of a drawing, is left as it is. */
function fitted(
  before: Run | undefined,
  strip: string,
  groove: Groove,
  ledCount: number,
  pitch: number,
): Run {
  const arrowDeg = arrowDegFor(groove, before);
  const firstLed = firstLedAbout(middleOf(groove), arrowDeg, ledCount, pitch);
  const made = { firstLed, arrowDeg, ledCount };
  if (!before) return { id: '', ...made, strip };
  const lastOf = ({ firstLed: { xMm, yMm }, arrowDeg: deg }: Pick<Run, 'firstLed' | 'arrowDeg'>): PointMm => {
    const arrow = arrowVector(deg);
    const lengthMm = pitch * (ledCount - 1);
    return { xMm: xMm + arrow.x * lengthMm, yMm: yMm + arrow.y * lengthMm };
  };
  const lies =
    before.ledCount === ledCount &&
    distanceMm(before.firstLed, firstLed) <= drawnToMm &&
    distanceMm(lastOf(before), lastOf(made)) <= drawnToMm;
  return lies ? before : { ...before, ...made };
}

/** New runs whose left ends lie this near are in one column, and come from the top. */
const columnMm = 0.5;

function named(laid: readonly Laid[], taken: readonly string[]): { channel: Channel; run: Run }[] {
  const fresh = laid.flatMap(({ channel, before, run }) => (run && !before ? [{ channel, run }] : []));
  const ends = (channel: Channel, side: 'xMm' | 'yMm'): number =>
    Math.min(...channel.points.map((p) => p[side]));
  const ids = [...taken];
  const ordered = inLines(
    fresh,
    ({ channel }) => ends(channel, 'xMm'),
    ({ channel }) => ends(channel, 'yMm'),
    columnMm,
  );
  return ordered.map(({ channel, run }) => {
    const id = freeId(ids, 'run-1');
    ids.push(id);
    return { channel, run: { ...run, id } };
  });
}

function editOf(channels: readonly Channel[], kept: readonly Run[], fresh: readonly Run[]): Edit {
  return (project) => {
    const countOf = (id: string): number => project.runs.find((run) => run.id === id)!.ledCount;
    // Those that lose LEDs first, so that the others find room below the limit of the whole panel.
    const changed = kept.toSorted((a, b) => a.ledCount - countOf(a.id) - (b.ledCount - countOf(b.id)));
    for (const { id, firstLed, arrowDeg, ledCount } of changed) {
      // A supply wire at the far end stays at the far end.
      for (const feed of feedPlaces(project))
        if (feed.run === id && feed.led >= ledCount) feed.led = ledCount - 1;
      if (countOf(id) !== ledCount) lengthenRun(id, ledCount)(project);
      const run = project.runs.find((one) => one.id === id)!;
      run.firstLed = firstLed;
      run.arrowDeg = arrowDeg;
    }
    for (const run of fresh) addRun(run, Math.max(0, project.dataLines.length - 1))(project);
    project.channels = structuredClone(channels) as Channel[];
  };
}

export interface Fitting {
  /** One step: all runs, the chain, and the channels as locked outlines. */
  readonly edit: Edit;
  /** In the channels' order. */
  readonly report: readonly ChannelFit[];
  readonly matched: ChannelRuns;
}

/** Lays the most LEDs that fit into each channel. Runs that lie in none stay as they are. */
export function fitChannels(project: Project, channels: readonly Channel[]): Fitting {
  const grooves = new Grooves();
  const matched = matchRuns(project, channels, grooves);
  const inChannel = new Set([...matched.runOf.values()].map((run) => run.id));
  const others = project.runs.filter((run) => !inChannel.has(run.id));
  let room = limits.leds - others.reduce((sum, run) => sum + run.ledCount, 0);
  let runsLeft = limits.runs - project.runs.length;
  const laid: Laid[] = [];
  // Runs that are there first: a new one must not take their LEDs away.
  const known = (channel: Channel): boolean => matched.runOf.has(channel);
  for (const channel of [...channels.filter(known), ...channels.filter((one) => !known(one))]) {
    const before = matched.runOf.get(channel);
    const one = layIn(project, channel, before, grooves, before || runsLeft > 0 ? room : 0);
    // A run that doesn't fit its channel at all stays where it is.
    room -= one.run ? one.run.ledCount : (before?.ledCount ?? 0);
    if (one.run && !before) runsLeft--;
    laid.push(one);
  }
  const fresh = named(
    laid,
    project.runs.map((run) => run.id),
  );
  const idIn = new Map(fresh.map(({ channel, run }) => [channel, run.id]));
  const fits = new Map(
    laid.map(({ channel, fit }) => [channel, { ...fit, run: idIn.get(channel) ?? fit.run }]),
  );
  const kept = laid.flatMap(({ before, run }) => (before && run && run !== before ? [run] : []));
  return {
    edit: editOf(
      channels,
      kept,
      fresh.map(({ run }) => run),
    ),
    report: channels.map((channel) => fits.get(channel)!),
    matched,
  };
}
