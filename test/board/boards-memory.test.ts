// Memory of the boards with other chips than an ATmega328P (that one: test/export/memory.test.ts): what the budget lets through fits flashed and compiled, and
// plays; show data reach as far as the player can read them.
import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { sketchNameOf } from '../../src/board/index.ts';
import { boards, rowById } from '../../src/catalogue/index.ts';
import { limits, type Project } from '../../src/project/index.ts';
import { compareFrames } from '../support/board-frames.ts';
import { temporaryFolder } from '../support/command-line.ts';
import { examine, exportedText, exportedTexts, loadPlayer, templates } from '../support/lamploom.ts';
import { loadProject } from '../support/projects.ts';
import { runInSimavr } from './board-simavr.ts';
import type { Mcu } from './chip-headers.ts';
import { compileSketch, mustCompile } from './sketch-compiler.ts';

const fqbn = { atmega32u4: 'arduino:avr:leonardo', atmega2560: 'arduino:avr:mega:cpu=atmega2560' } as const;
type Id = keyof typeof fqbn;
const ids = Object.keys(fqbn) as Id[];
/** maximum_size of boards.txt: leonardo and mega. */
const uploadableBytes = { atmega32u4: 28_672, atmega2560: 253_952 } as const;
/** Stack of the core's USB interrupt on an ATmega32U4, by -fstack-usage; nobody is on the emulated USB, so it never comes there. */
const usbStackBytes = { atmega32u4: 95, atmega2560: 0 } as const;
const untouchedBytes = 100;
const player = await loadPlayer();

const panel = (id: Id, ledCount: number, hears: boolean): Project => {
  const project = loadProject(ledCount, 4);
  const lampshows = project.lampshows.map((show) => ({
    ...show,
    rows: show.rows.map((row) => ({
      ...row,
      clips: row.clips.map((clip) => ({ ...clip, fadeInMs: 900, fadeOutMs: 900 })),
    })),
  }));
  const heard: Partial<Project> = hears
    ? { gameEvents: [{ id: 'start', lampshow: 'attract' }], inputs: { serial: true, roomPin: 8 } }
    : {};
  return { ...project, lampshows, board: { id }, panel: { ...project.panel, heightMm: 2000 }, ...heard };
};

const tooLarge = (project: Project, code: string): boolean =>
  examine(project, templates).findings.some((finding) => finding.code === code);

/** The largest number up to `most` that is let through, by halving. */
function largest(most: number, isLetThrough: (count: number) => boolean): number {
  let [good, bad] = [1, most + 1];
  while (bad - good > 1) {
    const middle = (good + bad) >> 1;
    if (isLetThrough(middle)) good = middle;
    else bad = middle;
  }
  return good;
}

async function compiledSketch(project: Project) {
  const folder = temporaryFolder();
  for (const [path, text] of exportedTexts(project)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  }
  const path = join(folder, 'sketch', sketchNameOf(project));
  return mustCompile(await compileSketch(path, { fqbn: fqbn[project.board.id as Id] }));
}

/** Plays some frames, compares those that are in time, and says how many bytes of SRAM were never written. */
async function played(project: Project, hexText: string, frames: number): Promise<number> {
  const { frameMs, showData } = examine(project, templates);
  player.setShowData(showData!);
  const run = await runInSimavr(hexText, {
    mcu: project.board.id as Mcu,
    lines: project.dataLines.map((line) => ({ pin: line.pin! })),
    frames: frames + 1,
    // Before the first frame all show data are checked, at most 100 cycles a byte.
    maxCycles: (frames + 4) * frameMs * 16_000 + 100 * showData!.bytes.length,
  });
  const result = compareFrames(
    run.lines.map((line) => line.frames),
    player,
    project.attractMode,
    frameMs,
  );
  expect(result).toMatchObject({ bytesDiffering: 0, blackFirst: true });
  expect(result.framesCompared).toBeGreaterThanOrEqual(frames / 2);
  expect(result.bytesLit).toBeGreaterThan(0);
  return run.untouchedStackBytes;
}

describe.each(ids)('[MEM1] the largest panel on %s', (id) => {
  test.each([
    ['without inputs', false],
    ['with inputs', true],
  ])(
    '%s leaves 100 bytes of stack untouched, flashed or compiled',
    { timeout: 240_000 },
    async (_, hears) => {
      const ledCount = largest(limits.leds, (count) => !tooLarge(panel(id, count, hears), 'sram-too-small'));
      const sramBytes = rowById(boards, id)!.sramBytes;
      // At most 800 bytes for all but the frame buffer, or the document's own limit.
      expect(ledCount).toBeGreaterThanOrEqual(Math.min(limits.leds, Math.floor((sramBytes - 1100) / 3)));
      const project = panel(id, ledCount, hears);
      expect(await played(project, exportedText(project, '.hex'), 6)).toBeGreaterThanOrEqual(untouchedBytes);
      const { hexText } = await compiledSketch(project);
      expect(await played(project, hexText, 6)).toBeGreaterThanOrEqual(untouchedBytes + usbStackBytes[id]);
    },
  );
});

/** A panel whose show data grow with `count`; the clip that plays from the start is the last in the tables, and so is its area. */
function manyClips(id: Id, count: number, hears: boolean): Project {
  const base = panel(id, id === 'atmega2560' ? 200 : 40, hears);
  const [clip] = base.lampshows[0]!.rows[0]!.clips;
  const clips = (from: number, to: number) =>
    Array.from({ length: to - from }, (_, i) => ({
      ...clip!,
      area: areas[(from + i) % areas.length]?.id ?? clip!.area,
      startMs: 5000 + 20 * i,
      lengthMs: 20,
    }));
  const first = Math.min(count, 480);
  // Areas of one order each, so that their tables come on top of the clips.
  const areas = Array.from({ length: Math.min(250, Math.floor(count / 4)) }, (_, i) => ({
    ...base.areas[0]!,
    id: `part-${i}`,
    order: { kind: 'outward' as const, centre: { xMm: 7 * i, yMm: 11 * (i % 13) } },
  }));
  const rows = [
    { id: 'early', clips: clips(0, first) },
    {
      id: 'now',
      clips: [{ ...clip!, area: areas.at(-1)?.id ?? clip!.area, fadeInMs: 0, startMs: 0, lengthMs: 4000 }],
    },
  ];
  const more = {
    id: 'more',
    lengthMs: 20_000,
    rows: [{ id: 'row', clips: clips(first, Math.max(first, count)) }],
  };
  return { ...base, areas: [...base.areas, ...areas], lampshows: [more, { ...base.lampshows[0]!, rows }] };
}

describe.each(ids)('[MEM3] the largest show data on %s', (id) => {
  test.each([
    ['without inputs', false],
    ['with inputs', true],
  ])('%s make programs that fit and play', { timeout: 240_000 }, async (_, hears) => {
    const count = largest(960, (one) => !tooLarge(manyClips(id, one, hears), 'flash-too-small'));
    expect(count).toBeLessThan(960);
    const project = manyClips(id, count, hears);
    const { budget, showData } = examine(project, templates);
    const { flashBytes } = rowById(boards, id)!;
    expect(budget!.flash.usedBytes).toBeLessThanOrEqual(flashBytes);
    // The compiler takes no array of more than 32,767 bytes: the sketch lays such data in another way.
    if (id === 'atmega2560') expect(showData!.bytes.length).toBeGreaterThan(32_767);
    await played(project, exportedText(project, '.hex'), 6);
    const compiled = await compiledSketch(project);
    expect(compiled.flashBytes).toBeLessThanOrEqual(uploadableBytes[id]);
    await played(project, compiled.hexText, 6);
  });
});
