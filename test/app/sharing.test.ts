// Taking packs in, without a browser: what is told beforehand, that it is what then comes, and the file itself. What can't fit follows from the sample's
// rows, its board and its current limit.
import { describe, expect, test } from 'vitest';
import { packPreview, takeInLabel } from '../../src/app/stages/lampshows/share/pack-preview.ts';
import {
  ampsWords,
  comingWords,
  isTooMuch,
  leftOutWords,
} from '../../src/app/stages/lampshows/share/take-words.ts';
import { compileProject } from '../../src/board/index.ts';
import type { ImportWishes } from '../../src/lampshow/pack-import.ts';
import { matchAreas, packOf } from '../../src/lampshow/show-pack.ts';
import { layOut } from '../../src/panel/index.ts';
import { type Clip, limits, type Project } from '../../src/project/index.ts';
import type { ShowPack } from '../../src/project/read-pack.ts';
import { sample, templates } from '../support/lamploom.ts';
import { benchFor, textOf } from './bench.ts';

const carnival = sample('midnight-carnival');
const packed = (project: Project, shows: readonly string[]): ShowPack =>
  packOf(project, layOut(project), shows, true);

function wishesOf(pack: ShowPack, project: Project): ImportWishes {
  return {
    shows: pack.lampshows.map(({ id }) => id),
    choices: new Map(
      matchAreas(pack, project).map(({ area, by, choice }) => [
        area.id,
        by === 'none' ? ({ kind: 'whole' } as const) : choice,
      ]),
    ),
    keepsOrders: false,
    withEvents: true,
  };
}

const previewOf = (pack: ShowPack, project: Project) =>
  packPreview(pack, compileProject(project, templates), templates, wishesOf(pack, project));

/** First Light with one more show of one clip. */
function withClip(effect: Clip['effect'], area: string): Project {
  const project = sample('first-light');
  const clip: Clip = {
    startMs: 0,
    lengthMs: 1000,
    area,
    gradient: project.gradients[0]!.id,
    blend: 'over',
    effect,
  };
  const show = { id: 'extra', name: 'Extra', lengthMs: 1000, rows: [{ id: 'row-1', clips: [clip] }] };
  return { ...project, lampshows: [...project.lampshows, show] } as Project;
}

describe('[PACK7] what is told before shows are taken in', () => {
  test('what is told is what comes, in one step back', async () => {
    const { workbench } = await benchFor(carnival);
    const before = textOf(workbench);
    const preview = packPreview(
      packed(sample('deep-sea'), ['attract', 'tilt']),
      workbench.state.settled,
      templates,
      wishesOf(packed(sample('deep-sea'), ['attract', 'tilt']), carnival),
    );
    workbench.edit(takeInLabel, preview.plan.edit!);
    expect(workbench.project).toEqual(preview.after!.project);
    expect(workbench.state.settled.showData!.bytes).toEqual(preview.after!.showData!.bytes);
    expect(workbench.state.history.past).toHaveLength(1);
    workbench.undo();
    expect(textOf(workbench)).toBe(before);
  });

  test('letters that are too tall for the area here are told', () => {
    // The sample's tent has four rows; letters need five at least.
    const letters = { kind: 'letters', text: 'TILT' } as const;
    const pack = packed(withClip(letters, 'sky'), ['extra']);
    const onto = (area: string) => {
      const wishes = wishesOf(pack, carnival);
      const choices = new Map([['sky', { kind: 'area', id: area } as const]]);
      return packPreview(pack, compileProject(carnival, templates), templates, { ...wishes, choices });
    };
    const told = onto('tent').findings.filter(({ at }) =>
      at.startsWith(`/lampshows/${carnival.lampshows.length}/rows/0/clips/0/effect`),
    );
    expect(told).toHaveLength(1);
    expect(told[0]!.message).toMatch(/row/i);
  });

  test('findings of shows that were there before are not told again', () => {
    const late: Clip = { ...carnival.lampshows[0]!.rows[0]!.clips[0]!, startMs: limits.showMs };
    const project = structuredClone(carnival);
    project.lampshows[0]!.rows[0]!.clips.push(late);
    const { findings } = previewOf(packed(carnival, ['tilt']), project);
    expect(findings.filter(({ code }) => code === 'clip-after-end')).toEqual([]);
    const other = structuredClone(carnival);
    other.lampshows[5]!.rows[0]!.clips.push(late);
    const told = previewOf(packed(other, ['tilt']), carnival).findings;
    expect(told.map(({ code, at }) => [code, at.split('/')[2]])).toContainEqual([
      'clip-after-end',
      `${carnival.lampshows.length}`,
    ]);
  });

  test('shows that the board’s flash can’t hold are told', () => {
    // 250 frames of 64 x 64 cells over every LED: at 4 bits an LED more than 30 KB, the whole of a small board's flash.
    const cells = Array.from({ length: 64 * 64 }, (_, i) => ((i * 7) % 16).toString(16)).join('');
    const frames = Array.from({ length: 250 }, (_, i) => ({
      holdMs: 20,
      cells: cells.slice(i) + cells.slice(0, i),
    }));
    const palette = Array.from(
      { length: 16 },
      (_, i) => `#${(i * 16).toString(16).padStart(2, '0').repeat(3)}`,
    );
    const painted = { kind: 'painted', columns: 64, rows: 64, palette, frames } as unknown as Clip['effect'];
    const pack = packed(withClip(painted, 'whole'), ['extra']);
    expect(previewOf(pack, carnival).findings.map(({ code }) => code)).toContain('flash-too-small');
    expect(previewOf(packed(carnival, ['tilt']), carnival).findings.map(({ code }) => code)).not.toContain(
      'flash-too-small',
    );
  });

  test('amperes are told without the limit', () => {
    const limited: Project = { ...carnival, power: { ...carnival.power, limitAmps: 0.5 } };
    const { unlimited, after } = previewOf(packed(carnival, ['jackpot']), limited);
    const { limitAmps: _, ...power } = limited.power;
    const free = compileProject({ ...after!.project, power }, templates).showData!;
    expect(unlimited!.bytes).toEqual(free.bytes);
    expect(unlimited!.bytes).not.toEqual(after!.showData!.bytes);
  });

  test('in words', () => {
    const plan = previewOf(packed(carnival, ['tilt']), carnival).plan;
    expect(comingWords(plan)).toMatch(
      /^One show with one game event\. \w+ gradients? (is|are) here already\.$/,
    );
    expect(leftOutWords(plan)).toEqual([]);
    expect(
      leftOutWords({
        ...plan,
        leftOut: [
          { area: 'a', clipCount: 2 },
          { area: 'b', clipCount: 1 },
        ],
        emptyShows: ['Rain', 'Tide', 'Foam'],
      }),
    ).toEqual([
      '3 clips are left out, as their areas have no counterpart here.',
      'No clip is left of Rain, Tide and Foam: not taken in.',
    ]);
  });

  test.each([
    [2.9, undefined, 4, 'of the supply’s 4.00 A', false],
    [4.1, undefined, 4, 'more than the supply’s 4.00 A', true],
    [2.9, 3, 4, 'below the limit of 3.00 A', false],
    [3.1, 3, 4, 'held to the limit of 3.00 A', true],
  ])('%f A at a limit of %s A and a supply of %f A: %s', (peak, limitAmps, amps, words, isMuch) => {
    const power = {
      supply: { volts: 5, amps },
      feeds: [],
      ...(limitAmps === undefined ? {} : { limitAmps }),
    };
    expect(ampsWords(peak, power)).toBe(words);
    expect(isTooMuch(peak, power)).toBe(isMuch);
  });
});

describe('[PACK8] the file of a pack', () => {
  test('its text is given as it is; closing the picker gives nothing', async () => {
    const { store, files } = await benchFor(carnival);
    expect(await store.pickText('Show pack', '.json')).toBeUndefined();
    files.next = { name: 'a.json', bytes: new Uint8Array([0x7b, 0x7d]), handle: undefined };
    expect(await store.pickText('Show pack', '.json')).toEqual({
      name: 'a.json',
      text: { ok: true, value: '{}' },
    });
  });

  test('one that is too large is not read', async () => {
    const { store, files } = await benchFor(carnival);
    files.next = { name: 'a.json', sizeBytes: limits.fileBytes + 1 } as never;
    const file = await store.pickText('Show pack', '.json');
    expect(file!.text).toMatchObject({ ok: false, problems: [{ code: 'file-too-large' }] });
  });
});
