// The show data read by the names of show_data.h, and a project that has some of everything in it, for the tests of both.
import { readFileSync } from 'node:fs';
import { compileShowData } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Clip, PaintedEffect, Project } from '../../src/project/index.ts';
import { root } from '../support/lamploom.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

export const headerText = readFileSync(`${root}/firmware-templates/player/show_data.h`, 'utf8');
/** Every name = value of the enums in show_data.h. */
const constants = new Map(
  [...headerText.matchAll(/\b(\w+) = (0x[0-9A-Fa-f]+|\d+)/g)].map(([, name, value]) => [
    name!,
    Number(value),
  ]),
);
/** Throws for a name that show_data.h does not have. */
export const at = (name: string): number => {
  const value = constants.get(name);
  if (value === undefined) throw new Error(`show_data.h has no ${name}`);
  return value;
};
export const namesOf = (pattern: RegExp): string[] =>
  [...constants.keys()].filter((name) => pattern.test(name));

const wholeShow = { startMs: 0, lengthMs: 1000, area: 'left', gradient: 'ember', blend: 'over' } as const;
const glow = {
  kind: 'glow',
  breathSeconds: 2,
  depth: 0.5,
  gradientPlace: 0.5,
  gradientSpan: 0.25,
} as const;
const painted: PaintedEffect = {
  kind: 'painted',
  columns: 3,
  rows: 1,
  palette: ['#102030', '#405060', '#708090'],
  frames: [
    { holdMs: 100, cells: '012' },
    { holdMs: 250, fadeMs: 50, cells: '210' },
  ],
};
const envelope: Clip['envelope'] = [
  { atMs: 500, percent: 100 },
  { atMs: 40, percent: 20 },
];
/** In the order in which they stand; they are drawn by time. */
export const clips: Clip[] = [
  {
    ...wholeShow,
    startMs: 123,
    lengthMs: 70_000,
    fadeInMs: 300,
    fadeOutMs: 40_000,
    levelPercent: 50,
    envelope,
    cycle: { seconds: 2 },
    effect: glow,
  },
  { ...wholeShow, startMs: 200_000, blend: 'add', effect: glow, cycle: { seconds: 2, backward: true } },
  {
    ...wholeShow,
    area: 'right',
    gradient: 'sea',
    blend: 'brighter-wins',
    effect: { kind: 'letters', text: 'TILT' },
  },
  { ...wholeShow, area: 'right', blend: 'tint', effect: painted },
];
/** Two runs of 30 LEDs on one line in two colour orders, three areas of which two are used, two shows, two events, inputs, a limiter. */
export const project: Project = projectOf({
  runs: rowsOfStrip(60).map((run, i) => ({
    ...run,
    colourOrder: i === 0 ? ('GRB' as const) : ('RGB' as const),
  })),
  areas: [
    { id: 'left', members: [{ kind: 'runs', runs: ['row-0'] }], order: { kind: 'across' } },
    { id: 'nobody', members: [{ kind: 'all' }], order: { kind: 'across' } },
    { id: 'right', members: [{ kind: 'runs', runs: ['row-1'] }], order: { kind: 'across' } },
  ],
  lampshows: [
    { id: 'attract', lengthMs: 300_000, rows: [{ id: 'row', clips }] },
    { id: 'win', lengthMs: 5000, rows: [] },
  ],
  gameEvents: [
    { id: 'first', lampshow: 'win' },
    { id: 'second', lampshow: 'attract' },
  ],
  inputs: { serial: true, i2cAddress: 42, roomPin: 7, roomPercents: [100, 50, 20] },
  power: { supply: { volts: 5, amps: 10 }, limitAmps: 1, feeds: [] },
  output: { gamma: { red: 2.2, green: 2.2, blue: 2.2 }, brightnessPercent: 40 },
});

/** A project's show data and its numbers by place. */
export function compiled(one: Project, start?: string) {
  const { bytes, frameMs } = compileShowData(one, layOut(one), { frameMs: 25, ...(start ? { start } : {}) })!;
  const view = new DataView(bytes.buffer);
  const u8 = (n: number) => view.getUint8(n);
  const u16 = (n: number) => view.getUint16(n, true);
  const u32 = (n: number) => view.getUint32(n, true);
  /** Offset number `index` of the table that the header's field names. */
  const entry = (table: string, index: number) => u16(u16(at(table)) + 2 * index);
  const clip = (show: number, index: number) =>
    entry('headerShows', show) + at('showClips') + index * at('clipSize');
  return { bytes, frameMs, u8, u16, u32, entry, clip };
}
