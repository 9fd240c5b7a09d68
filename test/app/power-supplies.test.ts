// Supplies, wires and loads on the page: what a split does to the document, what the worker answers, and the words for both.
// Not here: the arithmetic (test/power, test/board/power-plays.test.ts).
import { describe, expect, test } from 'vitest';
import { newProject } from '../../src/app/files/new-project.ts';
import { marginInWords } from '../../src/app/stages/power/data-line-words.ts';
import { fuseChoices } from '../../src/app/stages/power/feed-choices.ts';
import { lossInWords, percentOf, pressesInWords } from '../../src/app/stages/power/load-words.ts';
import { splitEdit, splitInWords, whyNoSplit, zonesInWords } from '../../src/app/stages/power/split-edit.ts';
import { nearestGauge, wireLabel } from '../../src/app/stages/power/wire-choices.ts';
import {
  type LoadsAnswer,
  loadsTask,
  lossesTask,
  type PowerProgress,
  runPowerTask,
} from '../../src/app/survey/power-task.ts';
import type { WorkerWord } from '../../src/app/survey/use-worker-answer.ts';
import { compileProject, type ShowLoss } from '../../src/board/index.ts';
import { layOut } from '../../src/panel/index.ts';
import {
  assessPower,
  powerReport,
  type SupplySplit,
  splitOverSupplies,
  supplyLoads,
} from '../../src/power/index.ts';
import type { Project } from '../../src/project/index.ts';
import { holdsLaws, withValues } from '../support/edit-laws.ts';
import { loadPlayer, sample, templates } from '../support/lamploom.ts';

const deepSea = sample('deep-sea');

function splitOf(project: Project, amps: number): SupplySplit {
  const split = splitOverSupplies(project, assessPower(project, layOut(project)).panel, amps);
  if (!('supplies' in split)) throw new Error(split.reason);
  return split;
}

describe('spreading zones over supplies', () => {
  const unlimited = withValues(deepSea, { '/power/limitAmps': undefined });
  const split = splitOf(unlimited, 14);
  const apart = holdsLaws(unlimited, 'Spread', splitEdit(unlimited, split));

  test('one step makes the supplies, and each carries what was told', () => {
    const { panel } = assessPower(apart, layOut(apart));
    const loads = supplyLoads(apart, panel);
    // Its 15.86 A of white are more than 80 % of one supply of 14 A, and less than of two.
    expect(loads).toHaveLength(2);
    for (const [index, { supply, zones, drawAmps, verdict }] of loads.entries()) {
      expect(supply.amps).toBe(14);
      expect(verdict).toBe('enough');
      expect(zones).toEqual(split.supplies[index]!.zones);
      expect(drawAmps).toBeCloseTo(split.supplies[index]!.loadAmps, 9);
    }
    // No zone hangs on two supplies, and none on no one.
    expect(loads.flatMap(({ zones }) => zones).sort((a, b) => a - b)).toEqual([...panel.zones.keys()]);
  });

  test('one large supply takes the further ones away again', () => {
    const back = holdsLaws(apart, 'Spread', splitEdit(apart, splitOf(apart, 40)));
    expect(back.power.moreSupplies).toBeUndefined();
    expect(back.power.supply.amps).toBe(40);
    expect(back.power.feeds).toEqual(deepSea.power.feeds);
  });

  test('a supply that is there keeps its place and its ground wire', () => {
    const own = { place: { xMm: 10, yMm: 20 }, ground: { wire: 'AWG 14', lengthMm: 400 } };
    const [further] = apart.power.moreSupplies!;
    const before = withValues(apart, { '/power/moreSupplies/0': { ...further, ...own, amps: 60 } });
    const after = holdsLaws(before, 'Spread', splitEdit(before, splitOf(before, 18)));
    expect(after.power.moreSupplies).toMatchObject([{ id: further!.id, amps: 18, ...own }]);
  });

  test('in words', () => {
    expect(zonesInWords([])).toBe('no zone');
    expect(zonesInWords([3])).toBe('zone 4');
    expect(zonesInWords([0, 1, 4])).toBe('zones 1, 2 and 5');
    expect(splitInWords(split, true)[0]).toContain('and the board');
    expect(splitInWords(split, false)[0]).not.toContain('the board');
    expect(splitInWords(split, true)).toHaveLength(2);
    expect(zonesInWords([0, 1, 2, 3, 6, 8, 9])).toBe('zones 1 to 4, 7, 9 and 10');
    expect(zonesInWords([...Array(40).keys()])).toBe('zones 1 to 40');
    expect(whyNoSplit({ reason: 'zone-too-large', zones: [1] }, 10)).toMatch(
      /^10 A are too few for zone 2\./,
    );
    expect(whyNoSplit({ reason: 'zone-too-large', zones: [] }, 10)).toBe('10 A are too few for the board.');
    expect(whyNoSplit({ reason: 'too-many-supplies', supplyCount: 11 }, 10)).toMatch(/^11 of 10 A are more/);
  });
});

describe('playing shows for their power', () => {
  const project = sample('first-light');
  const compiled = compileProject(project, templates);

  async function run(task: ReturnType<typeof loadsTask>) {
    const player = await loadPlayer();
    const words: WorkerWord<LoadsAnswer | readonly ShowLoss[], PowerProgress>[] = [];
    // As if it had crossed to another thread.
    runPowerTask(structuredClone(task!), player, (word) => words.push(word));
    const progress = words.flatMap((word) => ('progress' in word ? [word.progress] : []));
    const last = words.at(-1)!;
    if (!('answer' in last)) throw new Error('no answer');
    return { progress, answer: last.answer, player };
  }

  test('each show has the figures of the report for it', async () => {
    const { progress, answer, player } = await run(loadsTask(compiled));
    const { shows, plays } = answer as LoadsAnswer;
    expect(shows.map(({ lampshow }) => lampshow)).toEqual(project.lampshows.map(({ id }) => id));
    player.setShowData(compiled.showData!);
    for (const { lampshow, peakAmps, averageAmps, lowestVolts } of shows) {
      const { lengthMs } = project.lampshows.find(({ id }) => id === lampshow)!;
      const frames = Array.from({ length: Math.ceil(lengthMs / compiled.frameMs) }, (_, frame) =>
        player.frame(lampshow, frame).slice(),
      );
      const { show } = powerReport(project, compiled.layout, { lampshow, frames });
      expect({ lampshow, peakAmps, averageAmps, lowestVolts }).toEqual(show);
      expect(plays.highestPeak!.peakAmps).toBeGreaterThanOrEqual(peakAmps - 1e-9);
    }
    expect(progress).toEqual([...progress].sort((a, b) => a - b));
    expect(progress.length).toBeGreaterThan(1);
    for (const done of progress) expect(done > 0 && done <= 1).toBe(true);
  });

  test('a limit far above all peaks dims nothing, one far below them something of every show that is lit', async () => {
    const { answer: high } = await run(lossesTask(compiled, 100));
    for (const { heldFrames } of high as readonly ShowLoss[]) expect(heldFrames).toBe(0);
    const { answer: low } = await run(lossesTask(compiled, 0.1));
    expect((low as readonly ShowLoss[]).some(({ heldFrames }) => heldFrames > 0)).toBe(true);
    expect((low as readonly ShowLoss[]).map(({ lampshow }) => lampshow)).toEqual(
      project.lampshows.map(({ id }) => id),
    );
  });

  test('no LED, no question', () => {
    const empty = compileProject(newProject('2031-02-03'), templates);
    expect(loadsTask(empty)).toBeUndefined();
    expect(lossesTask(empty, 1)).toBeUndefined();
  });
});

describe('in words', () => {
  test('wires by gauge and by area (areas of ASTM B258, from memory: 18 has 0.823 mm2, 10 has 5.26, 30 has 0.0509)', () => {
    expect(wireLabel('AWG 18')).toBe('AWG 18, 0.82 mm²');
    expect(wireLabel('AWG 10')).toBe('AWG 10, 5.3 mm²');
    expect(wireLabel('AWG 30')).toBe('AWG 30, 0.051 mm²');
    expect(wireLabel('0.75 mm2')).toBe('0.75 mm², near AWG 18');
    // 14 has 2.08 mm2 and 12 has 3.31; 16 has 1.31.
    expect(nearestGauge(2.5)).toBe(14);
    expect(nearestGauge(1.5)).toBe(16);
  });

  test('fuses of the kind that is chosen, and one that no list has', () => {
    const amps = (of: Parameters<typeof fuseChoices>[0]) => fuseChoices(of).map(({ id }) => id);
    expect(amps({})).toEqual(['', '2', '3', '4', '5', '7.5', '10', '15', '20', '25', '30']);
    expect(amps({ fuseKind: 'tube' })).toContain('3.15');
    expect(amps({ fuseKind: 'blade', fuseAmps: 3.15 })).toEqual(expect.arrayContaining(['3', '3.15', '4']));
    expect(amps({ fuseKind: 'tube', fuseAmps: 3.15 }).filter((one) => one === '3.15')).toHaveLength(1);
  });

  test('a margin is never told as larger than it is', () => {
    expect(marginInWords(1.5)).toBe('+1.50');
    expect(marginInWords(0.199)).toBe('+0.19');
    expect(marginInWords(-0.001)).toBe('−0.01');
    expect(marginInWords(-0.2)).toBe('−0.20');
    expect(marginInWords(0)).toBe('+0.00');
  });

  test('a little is never told as nothing, and not quite all never as all', () => {
    expect([0, 0.001, 0.5, 0.999, 1].map(percentOf)).toEqual(['0 %', '< 1 %', '50 %', '99 %', '100 %']);
  });

  test('losses and presses', () => {
    const nameOf = (id: string) => id.toUpperCase();
    const loss = { lampshow: 'a', frameMs: 20, frameCount: 100, deepestFrame: undefined };
    const none = { ...loss, heldFrames: 0, heldShare: 0, deepestPercent: 0 };
    const some = { ...loss, lampshow: 'b', heldFrames: 25, heldShare: 0.25, deepestPercent: 40.4 };
    expect(lossInWords([none], nameOf)).toBe('At this limit no show by itself is ever dimmed.');
    expect(lossInWords([none, some], nameOf)).toBe(
      '1 show is dimmed in part. The deepest: B, 25 % of its frames, by 40 % at most.',
    );
    expect(pressesInWords({ log: [] }, 20, nameOf)).toBeUndefined();
    expect(
      pressesInWords(
        {
          log: [
            { frame: 160, event: 'x' },
            { frame: 200, event: 'y', value: 9 },
          ],
        },
        20,
        nameOf,
      ),
    ).toBe('X at 3.2 s, Y = 9 at 4.0 s');
  });
});
