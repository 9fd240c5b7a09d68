// Any edit in any order on any project: sound after each, undone and redone to the same bytes. What each means is tested by subject beside this file.
import { readdirSync } from 'node:fs';
import { resolve } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import * as group from '../../src/panel/group-edits.ts';
import * as runPlaces from '../../src/panel/run-edits.ts';
import * as scale from '../../src/panel/true-scale.ts';
import * as areas from '../../src/project/edits-areas.ts';
import * as asBuilt from '../../src/project/edits-as-built.ts';
import * as baffles from '../../src/project/edits-baffles.ts';
import * as beats from '../../src/project/edits-beats.ts';
import * as channels from '../../src/project/edits-channels.ts';
import * as clips from '../../src/project/edits-clips.ts';
import * as events from '../../src/project/edits-events.ts';
import * as guides from '../../src/project/edits-guides.ts';
import * as keepOuts from '../../src/project/edits-keep-outs.ts';
import * as measures from '../../src/project/edits-measures.ts';
import * as painted from '../../src/project/edits-painted.ts';
import * as panel from '../../src/project/edits-panel.ts';
import * as power from '../../src/project/edits-power.ts';
import * as pressLogs from '../../src/project/edits-press-logs.ts';
import * as runs from '../../src/project/edits-runs.ts';
import * as sheets from '../../src/project/edits-sheets.ts';
import * as shows from '../../src/project/edits-shows.ts';
import * as strips from '../../src/project/edits-strips.ts';
import {
  type Channel,
  type Clip,
  type ClipSpot,
  copiedClips,
  type Edit,
  edited,
  freeId,
  type History,
  limits,
  type OwnStrip,
  type PaintedEffect,
  type Project,
  redone,
  startHistory,
  undone,
  writeProject,
} from '../../src/project/index.ts';
import { faultsOf } from '../support/edit-laws.ts';
import { wiredProject } from '../support/wired-project.ts';

/** Exported beside the edits, but none: they answer a question, or serve other edits. */
const notEdits = [
  'hasRoomForRun',
  'dropBuiltRun',
  'dropFromPressLogs',
  'isSwapped',
  'inSequence',
  'groupMiddle',
  'canJoin',
] as const;
const all = {
  ...panel,
  ...baffles,
  ...keepOuts,
  ...guides,
  ...measures,
  ...sheets,
  ...strips,
  ...channels,
  ...scale,
  ...runs,
  ...areas,
  ...shows,
  ...clips,
  ...painted,
  ...beats,
  ...events,
  ...pressLogs,
  ...power,
  ...runPlaces,
  ...asBuilt,
  ...group,
};
type EditName = Exclude<keyof typeof all, (typeof notEdits)[number]>;

/** Draws whole numbers below a bound; the same throw gives the same draws. */
type Draw = (below: number) => number;

const one = <T>(draw: Draw, list: readonly T[]): T => list[draw(list.length)]!;
const maybe = <T>(draw: Draw, value: T): T | undefined => (draw(2) === 0 ? value : undefined);

function led(p: Project, draw: Draw): { readonly run: string; readonly led: number } {
  const run = one(draw, p.runs);
  return { run: run.id, led: draw(run.ledCount) };
}
const feed = (p: Project, draw: Draw) => ({ ...led(p, draw), wire: 'AWG 16', lengthMm: 1 + draw(900) });
const link = (p: Project, draw: Draw): readonly [line: number, place: number, length: number] => {
  const line = draw(p.dataLines.length);
  const { length } = p.dataLines[line]!.chain;
  return [line, draw(length), length];
};
const newRun = (p: Project, draw: Draw) => ({
  ...one(draw, p.runs),
  id: freeId(
    p.runs.map((run) => run.id),
    'run-0',
  ),
});
const members = (p: Project, draw: Draw) =>
  one(draw, [
    [],
    [{ kind: 'all' as const }],
    [{ kind: 'runs' as const, runs: [one(draw, p.runs).id, one(draw, p.runs).id] }],
  ]);
const clip = (p: Project, draw: Draw): Clip => ({
  startMs: draw(9000) - 500,
  lengthMs: draw(4000),
  area: one(draw, p.areas).id,
  gradient: one(draw, p.gradients).id,
  blend: 'add',
  effect: { kind: 'glow', gradientPlace: 0, gradientSpan: 1 },
});

const rowsOf = (p: Project) =>
  p.lampshows.flatMap((show) =>
    show.rows.map((row, index) => ({ show: show.id, row: index, clips: row.clips })),
  );
const clipsOf = (p: Project) =>
  rowsOf(p).flatMap(({ show, row, clips }) => clips.map((_, index) => ({ show, row, clip: index })));

const gameEvent = (p: Project, draw: Draw) => ({
  lampshow: one(draw, p.lampshows).id,
  ...maybe(draw, { delayMs: draw(900) - 100 }),
  plays: one(draw, [undefined, draw(400) - 20, 'until-next' as const]),
});
const presses = (p: Project, draw: Draw) =>
  (p.gameEvents ?? []).map(({ id }) => ({
    atMs: draw(5_000_000) - 9,
    event: id,
    ...maybe(draw, { value: draw(400) }),
  }));
const expectedOf = (p: Project, draw: Draw) =>
  p.lampshows.map(({ id }, i) => ({ atMs: i * draw(900), lampshow: id }));

type Throw = (p: Project, draw: Draw) => Edit | undefined;
const withRow =
  (make: (row: { show: string; row: number }, p: Project, draw: Draw) => Edit): Throw =>
  (p, draw) =>
    rowsOf(p).length > 0 ? make(one(draw, rowsOf(p)), p, draw) : undefined;
const withClip =
  (make: (place: shows.ClipPlace, p: Project, draw: Draw) => Edit): Throw =>
  (p, draw) =>
    clipsOf(p).length > 0 ? make(one(draw, clipsOf(p)), p, draw) : undefined;
/** Some clips of a show, each once. */
const withClips =
  (make: (show: string, spots: readonly ClipSpot[], draw: Draw, p: Project) => Edit): Throw =>
  (p, draw) => {
    const places = clipsOf(p);
    if (places.length === 0) return undefined;
    const { show } = one(draw, places);
    const ofShow = places.filter((place) => place.show === show);
    const some = ofShow.filter(() => draw(2) === 1);
    const spots = (some.length > 0 ? some : ofShow).map(({ row, clip: index }) => ({ row, clip: index }));
    return make(show, spots, draw, p);
  };
/** Any marker; where there is none, one is set first. */
const withMarker =
  (make: (show: string, index: number, draw: Draw) => Edit): Throw =>
  (p, draw) => {
    const { id, markers = [] } = one(draw, p.lampshows);
    if (markers.length > 0) return make(id, draw(markers.length), draw);
    return (draft) => {
      beats.addMarker(id, { atMs: 77 })(draft);
      make(id, 0, draw)(draft);
    };
  };
/** Any clip with painted frames; where there is none, the clip is given some first. */
const withPainting =
  (make: (place: shows.ClipPlace, painting: PaintedEffect, draw: Draw) => Edit): Throw =>
  (p, draw) => {
    const places = clipsOf(p);
    if (places.length === 0) return undefined;
    const place = one(draw, places);
    const { effect } = rowsOf(p).find(({ show, row }) => show === place.show && row === place.row)!.clips[
      place.clip
    ]!;
    if (effect.kind === 'painted') return make(place, effect, draw);
    return (draft) => {
      shows.setEffect(place, structuredClone(firstFrames))(draft);
      make(place, firstFrames, draw)(draft);
    };
  };
const firstFrames: PaintedEffect = {
  kind: 'painted',
  columns: 2,
  rows: 1,
  palette: ['#000000', '#ff0000'],
  frames: [
    { holdMs: 100, cells: '01' },
    { holdMs: 80, fadeMs: 30, cells: '10' },
  ],
};
/** Cells that fit, or a cell too many. */
const someCells = ({ columns, rows, palette }: PaintedEffect, draw: Draw): string =>
  Array.from({ length: columns * rows + (draw(9) === 0 ? 1 : 0) }, () =>
    draw(palette.length).toString(16),
  ).join('');
const someFrames = ({ frames }: PaintedEffect, draw: Draw): number[] => {
  const some = frames.flatMap((_, index) => (draw(2) === 0 ? [index] : []));
  return some.length > 0 ? some : [draw(frames.length)];
};
const withArea =
  (make: (id: string, p: Project, draw: Draw) => Edit): Throw =>
  (p, draw) =>
    p.areas.length > 0 ? make(one(draw, p.areas).id, p, draw) : undefined;
const withGradient =
  (make: (id: string) => Edit): Throw =>
  (p, draw) =>
    p.gradients.length > 0 ? make(one(draw, p.gradients).id) : undefined;
const withGameEvent =
  (make: (id: string, p: Project, draw: Draw) => Edit): Throw =>
  (p, draw) =>
    p.gameEvents?.length ? make(one(draw, p.gameEvents).id, p, draw) : undefined;
const withPressLog =
  (make: (id: string, p: Project, draw: Draw) => Edit): Throw =>
  (p, draw) =>
    p.pressLogs?.length ? make(one(draw, p.pressLogs).id, p, draw) : undefined;
const withRun =
  (make: (id: string, draw: Draw, p: Project) => Edit): Throw =>
  (p, draw) =>
    p.runs.length > 0 ? make(one(draw, p.runs).id, draw, p) : undefined;
const withSome =
  (make: (ids: string[], draw: Draw) => Edit): Throw =>
  (p, draw) => {
    const ids = p.runs.filter(() => draw(2) === 0).map((run) => run.id);
    return ids.length > 0 ? make(ids, draw) : undefined;
  };
const withLink =
  (make: (at: ReturnType<typeof link>, draw: Draw) => Edit): Throw =>
  (p, draw) =>
    p.dataLines.length > 0 ? make(link(p, draw), draw) : undefined;
const withFeed =
  (make: (index: number, p: Project, draw: Draw) => Edit): Throw =>
  (p, draw) =>
    p.power.feeds.length > 0 ? make(draw(p.power.feeds.length), p, draw) : undefined;

const withSupply =
  (make: (id: string, draw: Draw) => Edit): Throw =>
  (p, draw) =>
    p.power.moreSupplies?.length ? make(one(draw, p.power.moreSupplies).id, draw) : undefined;

const withEntry =
  <T>(
    list: (p: Project) => readonly T[] | undefined,
    make: (index: number, entry: T, draw: Draw) => Edit,
  ): Throw =>
  (p, draw) => {
    const entries = list(p) ?? [];
    if (entries.length === 0) return undefined;
    const index = draw(entries.length);
    return make(index, entries[index]!, draw);
  };
const keepOutsOf = (p: Project) => p.panel.keepOuts;
const bafflesOf = (p: Project) => p.panel.baffles?.walls;
const guidesOf = (p: Project) => p.panel.guides;
const measuresOf = (p: Project) => p.panel.measures;
const drawnPoint = (draw: Draw) => ({ xMm: draw(600), yMm: draw(300) });
const screw = (draw: Draw) => ({
  kind: 'circle' as const,
  centre: drawnPoint(draw),
  diameterMm: 1 + draw(20),
});

const newReel = (p: Project, draw: Draw): OwnStrip => ({
  id: freeId(
    (p.strips ?? []).map((reel) => reel.id),
    one(draw, ['own', 'ws2812b-60']),
  ),
  supplyVolts: 5,
  floorVolts: 4.5,
  ledsPerMetre: 5 + draw(300),
  boardWidthMm: 10,
  colourOrder: 'GRB',
  channelMilliamps: 12,
  quiescentMilliamps: 0.6,
  currentModel: 'sum',
  railOhmPerMetre: 0.1,
  label: 'Own',
});
const newChannel = (p: Project, draw: Draw): Channel => ({
  id: freeId(
    (p.channels ?? []).map((channel) => channel.id),
    'channel-1',
  ),
  points: [drawnPoint(draw), drawnPoint(draw)],
});

const throws: { readonly [K in EditName]: Throw } = {
  renameProject: (_, draw) => panel.renameProject(one(draw, ['', 'Other'])),
  setSavedOn: () => panel.setSavedOn('2027-03-04'),
  setPanelSize: (_, draw) => panel.setPanelSize({ widthMm: 1 + draw(900) }),
  setOpening: (_, draw) => panel.setOpening(maybe(draw, { xMm: 1, yMm: 2, widthMm: 3, heightMm: 4 })),
  setAirGap: (_, draw) => panel.setAirGap(1 + draw(90)),
  setSheet: () => panel.setSheet('opal-pc'),
  setArtwork: (_, draw) => panel.setArtwork(maybe(draw, { mediaType: 'image/png', base64: 'AA==' })),
  setOpacity: (_, draw) => panel.setOpacity(maybe(draw, { mediaType: 'image/png', base64: 'AA==' })),
  setGlass: (_, draw) => panel.setGlass(maybe(draw, 1 + draw(9))),
  setBacking: (_, draw) =>
    panel.setBacking(maybe(draw, { thicknessMm: 1 + draw(20), bitMm: maybe(draw, 6), material: undefined })),
  setBoard: () => panel.setBoard('atmega328p-old'),
  setBoardPlace: (_, draw) => panel.setBoardPlace(maybe(draw, drawnPoint(draw))),
  addKeepOut: (p, draw) =>
    keepOuts.addKeepOut({
      id: freeId(
        (p.panel.keepOuts ?? []).map((one) => one.id),
        'screw',
      ),
      purpose: 'screw',
      shape: screw(draw),
    }),
  changeKeepOut: withEntry(keepOutsOf, (_, { id }, draw) =>
    keepOuts.changeKeepOut(id, { name: maybe(draw, 'Name'), shape: screw(draw) }),
  ),
  removeKeepOut: withEntry(keepOutsOf, (_, { id }) => keepOuts.removeKeepOut(id)),
  addBaffles: (_, draw) => baffles.addBaffles([{ from: drawnPoint(draw), to: drawnPoint(draw) }]),
  changeBaffle: withEntry(bafflesOf, (index, _, draw) =>
    baffles.changeBaffle(index, { from: drawnPoint(draw) }),
  ),
  removeBaffle: withEntry(bafflesOf, (index) => baffles.removeBaffle(index)),
  setBaffles: (_, draw) =>
    baffles.setBaffles(
      maybe(draw, {
        thicknessMm: 1 + draw(9),
        finish: maybe(draw, 'black'),
        belowSheetMm: maybe(draw, draw(9)),
      }),
    ),
  setGrid: (_, draw) =>
    guides.setGrid(maybe(draw, { origin: drawnPoint(draw), rowMm: 1 + draw(90), strip: 'ws2812b-60' })),
  addGuide: (_, draw) => guides.addGuide(one(draw, ['x', 'y']), draw(600)),
  moveGuide: withEntry(guidesOf, (index, _, draw) => guides.moveGuide(index, draw(600))),
  removeGuide: withEntry(guidesOf, (index) => guides.removeGuide(index)),
  addMeasure: (_, draw) =>
    measures.addMeasure({ from: drawnPoint(draw), to: drawnPoint(draw), measuredMm: 1 + draw(600) }),
  changeMeasure: withEntry(measuresOf, (index, _, draw) =>
    measures.changeMeasure(index, { to: drawnPoint(draw) }),
  ),
  removeMeasure: withEntry(measuresOf, (index) => measures.removeMeasure(index)),
  addSheet: (p, draw) =>
    sheets.addSheet({
      id: freeId(
        (p.sheets ?? []).map((one) => one.id),
        one(draw, ['own', 'opal-pmma']),
      ),
      transmission: 0.5,
      thicknessMm: 1 + draw(5),
      spreadMm: draw(5),
      label: 'Own',
    }),
  changeSheet: withEntry(
    (p) => p.sheets,
    (_, { id }, draw) => sheets.changeSheet(id, { spreadMm: draw(9), label: undefined }),
  ),
  removeSheet: withEntry(
    (p) => p.sheets,
    (_, { id }) => sheets.removeSheet(id),
  ),
  addStrip: (p, draw) => strips.addStrip(newReel(p, draw)),
  // Laid in first where there is none: few random projects have reels or channels of their own.
  changeStrip: (p, draw) => {
    const reel = p.strips?.[0] ?? newReel(p, draw);
    return group.inSequence([
      ...(p.strips?.length ? [] : [strips.addStrip(reel)]),
      strips.changeStrip(reel.id, { ledsPerMetre: 5 + draw(300), label: undefined }),
    ]);
  },
  removeStrip: withRun((id, draw, p) => {
    const reel = p.strips?.[0] ?? newReel(p, draw);
    return group.inSequence([
      ...(p.strips?.length ? [] : [strips.addStrip(reel)]),
      runs.setRunStrip(id, reel.id),
      strips.removeStrip(reel.id),
    ]);
  }),
  addChannels: (p, draw) => channels.addChannels([newChannel(p, draw)]),
  removeChannel: (p, draw) => {
    const channel = p.channels?.[0] ?? newChannel(p, draw);
    return group.inSequence([
      ...(p.channels?.length ? [] : [channels.addChannels([channel])]),
      channels.removeChannel(channel.id),
    ]);
  },
  setTrueScale: (_, draw) => scale.setTrueScale(drawnPoint(draw), drawnPoint(draw), 1 + draw(900)),
  setPanelWidthKeepingShape: (_, draw) =>
    scale.setPanelWidthKeepingShape(1 + draw(1500), maybe(draw, (1 + draw(30)) / 10)),
  setPin: withLink(([line], draw) => panel.setPin(line, draw(20))),
  setOutput: (_, draw) => panel.setOutput({ brightnessPercent: 1 + draw(100), whiteBalance: undefined }),
  addRun: (p, draw) =>
    p.runs.length > 0 ? runs.addRun(newRun(p, draw), draw(p.dataLines.length + 1)) : undefined,
  deleteRun: withRun((id) => runs.deleteRun(id)),
  moveRun: withRun((id, draw) => runs.moveRun(id, draw(600), draw(300))),
  turnRun: withRun((id, draw) => runs.turnRun(id, draw(2000) - 1000)),
  lengthenRun: withRun((id, draw) => runs.lengthenRun(id, draw(800))),
  setRunStrip: withRun((id, draw) => runs.setRunStrip(id, one(draw, ['ws2812b-30', 'ws2815-60']))),
  setRunColourOrder: withRun((id, draw) => runs.setRunColourOrder(id, maybe(draw, 'BGR'))),
  renameRun: withRun((id, draw) => runs.renameRun(id, one(draw, ['', 'Name']))),
  setSpareLeds: (p, draw) => {
    if (p.runs.length === 0) return undefined;
    const spare = led(p, draw);
    return runs.setSpareLeds(spare.run, draw(2) === 0 ? [] : [spare.led, 0]);
  },
  setDeadLeds: (p, draw) => {
    if (p.runs.length === 0) return undefined;
    const dead = led(p, draw);
    return runs.setDeadLeds(dead.run, draw(2) === 0 ? [] : [0, dead.led]);
  },
  setBypassedLeds: (p, draw) => {
    if (p.runs.length === 0) return undefined;
    const past = led(p, draw);
    return runs.setBypassedLeds(past.run, draw(2) === 0 ? [] : [0, past.led]);
  },
  setRing: withRun((id, draw) =>
    runs.setRing(
      id,
      maybe(draw, draw(2) === 0 ? { radiusMm: 1 + draw(90), clockwise: true } : { radiusMm: 40 }),
    ),
  ),
  changeBuiltRun: withRun((id, draw) =>
    asBuilt.changeBuiltRun(id, {
      laidReversed: draw(2) === 0,
      skipped: maybe(draw, true),
      colourOrder: maybe(draw, 'BGR'),
      strip: maybe(draw, 'ws2813-60'),
    }),
  ),
  swapBuiltRuns: (p, draw) =>
    p.runs.length > 0 ? asBuilt.swapBuiltRuns(one(draw, p.runs).id, one(draw, p.runs).id) : undefined,
  removeBuiltSwap: withEntry(
    (p) => p.asBuilt?.swaps,
    (index) => asBuilt.removeBuiltSwap(index),
  ),
  clearAsBuilt: () => asBuilt.clearAsBuilt,
  moveRuns: withSome((ids, draw) => group.moveRuns(ids, draw(40) - 20, draw(40) - 20)),
  turnRuns: withSome((ids, draw) => group.turnRuns(ids, draw(720) - 360)),
  mirrorRuns: withSome((ids, draw) => group.mirrorRuns(ids, one(draw, ['left-right', 'up-down']))),
  copyInRows: withSome((ids, draw) => group.copyInRows(ids, 1 + draw(3), draw(30), 20, draw(2) === 0)),
  deleteRuns: withSome((ids) => group.deleteRuns(ids)),
  // Cut twice and joined once: few random runs go on from each other by themselves.
  joinRuns: withRun((id, _, p) => (draft) => {
    if (p.runs.find((run) => run.id === id)!.ledCount < 3 || p.runs.length + 2 > limits.runs) return;
    runPlaces.splitRun(id, 2)(draft);
    runPlaces.splitRun(id, 1)(draft);
    const next = draft.runs[draft.runs.findIndex((run) => run.id === id) + 1];
    if (next && group.canJoin(draft, id, next.id)) group.joinRuns(id, next.id)(draft);
  }),
  moveInChain: withLink(([line, from, length], draw) => runs.moveInChain(line, from, draw(length))),
  moveRunToChain: withRun((id, draw, p) => runs.moveRunToChain(id, draw(p.dataLines.length + 1), draw(4))),
  unchainRun: withRun((id) => runs.unchainRun(id)),
  setJumper: withLink(([line, place], draw) =>
    runs.setJumper(line, place, maybe(draw, { power: 'cut', lengthMm: undefined })),
  ),
  addArea: (p, draw) =>
    p.runs.length > 0
      ? areas.addArea({
          id: freeId(
            p.areas.map((area) => area.id),
            'area',
          ),
          members: [{ kind: 'leds', from: 0, to: 0, run: one(draw, p.runs).id }],
          order: { kind: 'wiring' },
        })
      : undefined,
  deleteArea: withArea((id) => areas.deleteArea(id)),
  renameArea: withArea((id, _, draw) => areas.renameArea(id, one(draw, ['', 'Name']))),
  setAreaRole: withArea((id, _, draw) => areas.setAreaRole(id, one(draw, ['', 'sky', 'Été 2']))),
  setAreaMembers: (p, draw) =>
    p.areas.length > 0 && p.runs.length > 0
      ? areas.setAreaMembers(one(draw, p.areas).id, members(p, draw))
      : undefined,
  setAreaOrder: withArea((id) => areas.setAreaOrder(id, { kind: 'up', reversed: true })),
  addLampshow: (p, draw) =>
    p.areas.length > 0 && p.gradients.length > 0
      ? shows.addLampshow({
          id: freeId(
            p.lampshows.map((show) => show.id),
            'show',
          ),
          lengthMs: 1000,
          rows: [{ id: 'a', clips: [{ ...clip(p, draw), startMs: 0, lengthMs: 10 }] }],
        })
      : undefined,
  deleteLampshow: (p, draw) => shows.deleteLampshow(one(draw, p.lampshows).id),
  renameLampshow: (p, draw) => shows.renameLampshow(one(draw, p.lampshows).id, one(draw, ['', 'Name'])),
  setLampshowLength: (p, draw) => shows.setLampshowLength(one(draw, p.lampshows).id, draw(9_000_000) - 100.5),
  setAttractMode: (p, draw) => shows.setAttractMode(one(draw, p.lampshows).id),
  addRow: (p, draw) => {
    const show = one(draw, p.lampshows);
    const id = freeId(
      show.rows.map((row) => row.id),
      'row',
    );
    return shows.addRow(show.id, { id, clips: [] }, maybe(draw, draw(show.rows.length + 1)));
  },
  deleteRow: withRow(({ show, row }) => shows.deleteRow(show, row)),
  moveRow: withRow(({ show, row }, _, draw) => shows.moveRow(show, row, draw(4))),
  muteRow: withRow(({ show, row }, _, draw) => shows.muteRow(show, row, one(draw, [true, false]))),
  renameRow: withRow(({ show, row }, _, draw) => shows.renameRow(show, row, one(draw, ['', 'Name']))),
  addClip: (p, draw) =>
    rowsOf(p).length > 0 && p.areas.length > 0 && p.gradients.length > 0
      ? shows.addClip(one(draw, rowsOf(p)), clip(p, draw))
      : undefined,
  deleteClip: withClip((place) => shows.deleteClip(place)),
  changeClip: withClip((place, p, draw) =>
    shows.changeClip(place, {
      ...maybe(draw, clip(p, draw)),
      fadeInMs: maybe(draw, draw(90_000)),
      id: undefined,
    }),
  ),
  moveClip: withClip((place, p, draw) => {
    const { rows } = p.lampshows.find((show) => show.id === place.show)!;
    return shows.moveClip(place, draw(rows.length), draw(4_000_000) - 1000.5);
  }),
  setCells: withPainting((place, painting, draw) =>
    painted.setCells(place, [{ frame: draw(painting.frames.length), cells: someCells(painting, draw) }]),
  ),
  addFrames: withPainting((place, painting, draw) =>
    painted.addFrames(place, draw(painting.frames.length + 2), [
      { holdMs: draw(900), fadeMs: draw(900), cells: someCells(painting, draw) },
    ]),
  ),
  deleteFrames: withPainting((place, painting, draw) =>
    painted.deleteFrames(place, someFrames(painting, draw)),
  ),
  moveFrames: withPainting((place, painting, draw) =>
    painted.moveFrames(place, someFrames(painting, draw), draw(7) - 3),
  ),
  changeFrameTimes: withPainting((place, painting, draw) =>
    painted.changeFrameTimes(place, someFrames(painting, draw), {
      ...maybe(draw, { holdMs: draw(70_000) - 0.5 }),
      ...maybe(draw, { fadeMs: draw(3) * 40 }),
    }),
  ),
  addPaletteColour: withPainting((place) => painted.addPaletteColour(place, '#13579b')),
  changePaletteColour: withPainting((place, { palette }, draw) =>
    painted.changePaletteColour(place, draw(palette.length), '#abcdef'),
  ),
  deletePaletteColour: withPainting((place, { palette }, draw) =>
    painted.deletePaletteColour(place, draw(palette.length), draw(palette.length)),
  ),
  movePaletteColour: withPainting((place, { palette }, draw) =>
    painted.movePaletteColour(place, draw(palette.length), draw(palette.length)),
  ),
  setPaintedGrid: withPainting((place, _, draw) =>
    painted.setPaintedGrid(place, draw(70) - 0.5, 1 + draw(8)),
  ),
  changeClips: withClips((show, spots, draw) =>
    clips.changeClips(show, spots, { levelPercent: maybe(draw, 1 + draw(99)) }),
  ),
  deleteClips: withClips((show, spots) => clips.deleteClips(show, spots)),
  moveClips: withClips((show, spots, draw) =>
    clips.moveClips(show, spots, draw(9_000_000) - 4_500_000.5, draw(5) - 2),
  ),
  splitClips: withClips((show, spots, draw) => clips.splitClips(show, spots, draw(20_000) + 0.5)),
  trimClips: withClips((show, spots, draw) =>
    clips.trimClips(show, spots, one(draw, ['start', 'end'] as const), draw(20_000) + 0.5),
  ),
  stretchClips: withClips((show, spots, draw) =>
    clips.stretchClips(show, spots, draw(50) / 10, one(draw, ['start', 'end'] as const)),
  ),
  pasteClips: withClips((show, spots, draw, p) => {
    const { rows } = p.lampshows.find(({ id }) => id === show)!;
    const to = one(draw, p.lampshows).id;
    return clips.pasteClips(to, draw(3), draw(20_000) + 0.5, copiedClips(rows, spots));
  }),
  repeatClips: withClips((show, spots, draw) => clips.repeatClips(show, spots, draw(6))),
  // Two that overlap are put on a row first.
  crossfadeClips: withRow(({ show, row }, p, draw) => (draft) => {
    if (p.areas.length === 0 || p.gradients.length === 0) return;
    const [first, second] = [clip(p, draw), clip(p, draw)];
    shows.addClip({ show, row }, { ...first, startMs: 0, lengthMs: 500 + draw(500) })(draft);
    shows.addClip({ show, row }, { ...second, startMs: 1 + draw(400), lengthMs: 1000 })(draft);
    const { length } = draft.lampshows.find(({ id }) => id === show)!.rows[row]!.clips;
    const spots = [length - 2, length - 1].filter((at) => at >= 0).map((at) => ({ row, clip: at }));
    clips.crossfadeClips(show, spots)(draft);
  }),
  setBeats: (p, draw) =>
    beats.setBeats(
      one(draw, p.lampshows).id,
      Array.from({ length: draw(5) }, () => draw(9_000_000) - 3.5),
    ),
  addBeat: (p, draw) => beats.addBeat(one(draw, p.lampshows).id, draw(9_000_000) - 3.5),
  addMarker: (p, draw) =>
    beats.addMarker(one(draw, p.lampshows).id, { atMs: draw(9_000_000), ...maybe(draw, { name: 'Name' }) }),
  changeMarker: withMarker((show, index, draw) =>
    beats.changeMarker(show, index, { atMs: draw(90_000) - 3.5, name: one(draw, ['', 'Name']) }),
  ),
  deleteMarker: withMarker((show, index) => beats.deleteMarker(show, index)),
  setEffect: withClip((place) =>
    shows.setEffect(place, { kind: 'stars', lifeSeconds: 1, density: 1, seed: 1 }),
  ),
  addGradient: (p) =>
    shows.addGradient({
      id: freeId(
        p.gradients.map((gradient) => gradient.id),
        'gradient',
      ),
      stops: [{ at: 0, colour: '#123456' }],
    }),
  deleteGradient: withGradient((id) => shows.deleteGradient(id)),
  setGradientStops: withGradient((id) => shows.setGradientStops(id, [{ at: 1, colour: '#abcdef' }])),
  renameGradient: withGradient((id) => shows.renameGradient(id, 'Name')),
  addGameEvent: (p, draw) => {
    const { plays, ...event } = gameEvent(p, draw);
    const id = freeId(
      (p.gameEvents ?? []).map((one) => one.id),
      'event',
    );
    return events.addGameEvent({ id, ...event, ...(plays === undefined ? {} : { plays }) });
  },
  changeGameEvent: withGameEvent((id, p, draw) => events.changeGameEvent(id, gameEvent(p, draw))),
  deleteGameEvent: withGameEvent((id) => events.deleteGameEvent(id)),
  moveGameEvent: (p, draw) =>
    p.gameEvents?.length ? events.moveGameEvent(draw(p.gameEvents.length), draw(4)) : undefined,
  changeInputs: (_, draw) =>
    events.changeInputs({
      serial: maybe(draw, draw(2) === 0),
      i2cAddress: maybe(draw, draw(300)),
      roomPercents: maybe(
        draw,
        [draw(200), draw(99), draw(9)].slice(0, 2 + draw(2)) as [number, number, number],
      ),
    }),
  addPressLog: (p, draw) =>
    pressLogs.addPressLog({
      id: freeId(
        (p.pressLogs ?? []).map((log) => log.id),
        'game',
      ),
      lengthMs: draw(9_000_000) - 99,
      presses: presses(p, draw),
    }),
  deletePressLog: withPressLog((id) => pressLogs.deletePressLog(id)),
  renamePressLog: withPressLog((id, _, draw) => pressLogs.renamePressLog(id, one(draw, ['', 'Name']))),
  changePressLog: withPressLog((id, p, draw) =>
    pressLogs.changePressLog(id, {
      lampshow: maybe(draw, one(draw, p.lampshows).id),
      expected: maybe(draw, expectedOf(p, draw)),
      ...maybe(draw, { presses: presses(p, draw) }),
    }),
  ),
  setSupply: (_, draw) => power.setSupply({ amps: 1 + draw(40), outputMilliohms: maybe(draw, draw(50)) }),
  setLimit: (_, draw) => power.setLimit(maybe(draw, 1 + draw(9))),
  addFeed: (p, draw) => (p.runs.length > 0 ? power.addFeed(feed(p, draw)) : undefined),
  removeFeed: withFeed((index) => power.removeFeed(index)),
  addSupply: (_, draw) =>
    power.addSupply({
      volts: 5,
      amps: 1 + draw(40),
      ...maybe(draw, { ground: { wire: 'AWG 14', lengthMm: 300 } }),
    }),
  changeFurtherSupply: withSupply((id, draw) =>
    power.changeFurtherSupply(id, { amps: 1 + draw(500), outputMilliohms: maybe(draw, draw(2000)) }),
  ),
  removeFurtherSupply: withSupply((id) => power.removeFurtherSupply(id)),
  setPlanning: (_, draw) =>
    power.setPlanning({
      places: maybe(draw, 'anywhere'),
      mostDropVolts: maybe(draw, (1 + draw(100)) / 10),
      plug: maybe(draw, 'clip'),
    }),
  setForbidden: withRun((id, draw) => power.setForbidden(id, 0, draw(2) === 0)),
  setController: (_, draw) =>
    power.setController({ from: maybe(draw, 'usb'), milliamps: maybe(draw, draw(3000)) }),
  setPowerSurroundings: (_, draw) =>
    power.setPowerSurroundings({ hotCelsius: maybe(draw, draw(120)), eveningHours: maybe(draw, draw(30)) }),
  applyFeedPlan: (p, draw) =>
    p.runs.length > 0
      ? power.applyFeedPlan({
          feeds: [feed(p, draw)],
          jumpers:
            p.dataLines.length > 0 ? [{ line: 0, place: 0, power: one(draw, ['cut', 'carried']) }] : [],
        })
      : undefined,
  setBoardOutput: (_, draw) => panel.setBoardOutput(maybe(draw, 3.3)),
  setDataLineParts: withLink(([line], draw) =>
    panel.setDataLineParts(line, { resistorOhms: maybe(draw, draw(12_000)), hasShifter: maybe(draw, true) }),
  ),
  changeFeed: withFeed((index, p, draw) =>
    power.changeFeed(index, {
      ...feed(p, draw),
      fuseAmps: maybe(draw, 3),
      fuseKind: maybe(draw, 'tube'),
      plug: maybe(draw, 'vh-3.96'),
      isKept: maybe(draw, true),
      supply: maybe(draw, p.power.moreSupplies?.[0]?.id),
    }),
  ),
  reverseRun: withRun((id) => runPlaces.reverseRun(id)),
  splitRun: (p, draw) => {
    const long = p.runs.filter((run) => run.ledCount > 1);
    if (long.length === 0) return undefined;
    const run = one(draw, long);
    return runPlaces.splitRun(run.id, 1 + draw(run.ledCount - 1));
  },
  turnRunAboutMiddle: withRun((id, draw) => runPlaces.turnRunAboutMiddle(id, draw(2000) - 1000)),
  duplicateRun: withRun((id, draw) => runPlaces.duplicateRun(id, draw(100), draw(100))),
};

/** Draws from one number, a digit at a time in whatever base is asked for. */
function drawFrom(seed: number): Draw {
  let left = seed;
  return (below) => {
    left = (Math.imul(left, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((left / 2 ** 32) * below);
  };
}

const names = Object.keys(throws) as EditName[];

/** Applies an edit and holds it to the laws of one step. */
function step(history: History, name: EditName, seed: number): History {
  const edit = throws[name](history.project, drawFrom(seed));
  if (!edit) return history;
  const next = edited(history, name, edit);
  expect(faultsOf(next.project), name).toEqual([]);
  if (next === history) return history;
  expect(writeProject(undone(next).project), `${name} undone`).toBe(writeProject(history.project));
  expect(writeProject(redone(undone(next)).project), `${name} redone`).toBe(writeProject(next.project));
  return next;
}

describe('[EDIT7] any edit on any project', () => {
  test.each(names)('%s leaves it sound and is undone to the same bytes', (name) => {
    let applied = 0;
    fc.assert(
      fc.property(wiredProject, fc.nat(), (project, seed) => {
        const before = startHistory(project);
        if (step(before, name, seed) !== before) applied++;
      }),
      { seed: 77, numRuns: 30 },
    );
    expect(applied).toBeGreaterThan(0);
  });

  test('any series of 40 edits leaves it sound and is undone to the same bytes', () => {
    const series = fc.array(fc.tuple(fc.constantFrom(...names), fc.nat()), { minLength: 40, maxLength: 40 });
    fc.assert(
      fc.property(wiredProject, series, (project, choices) => {
        let history = startHistory(project);
        for (const [name, seed] of choices) history = step(history, name, seed);
        const after = writeProject(history.project);
        while (history.past.length > 0) history = undone(history);
        expect(writeProject(history.project)).toBe(writeProject(project));
        while (history.future.length > 0) history = redone(history);
        expect(writeProject(history.project)).toBe(after);
      }),
      { seed: 78, numRuns: 40 },
    );
  });

  test('no edit and no module of edits is left out', () => {
    const modules = readdirSync(resolve(import.meta.dirname, '../../src/project')).filter((name) =>
      name.startsWith('edits'),
    );
    const seen = [
      'areas',
      'as-built',
      'baffles',
      'beats',
      'channels',
      'clips',
      'events',
      'guides',
      'keep-outs',
      'measures',
      'painted',
      'panel',
      'parts',
      'power',
      'press-logs',
      'runs',
      'sheets',
      'shows',
      'strips',
    ].map((name) => `edits-${name}.ts`);
    expect(modules.sort()).toEqual(seen);
    expect([...names, ...notEdits].sort()).toEqual(Object.keys(all).sort());
  });
});
