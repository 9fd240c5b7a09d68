// The sums behind what the stage Runs asks and tells: the automatic layout's task and outlook, channels from outlines, a measured rail, what was
// built in words. Expected values follow from sizes, counts and the catalogue's own figures.
import { describe, expect, test } from 'vitest';
import { builtWords } from '../../src/app/stages/runs/as-built-words.ts';
import { chainColumns } from '../../src/app/stages/runs/chain-columns.ts';
import { channelsOfRuns } from '../../src/app/stages/runs/channel-outlines.ts';
import { exchangeEdit, exchangeOf } from '../../src/app/stages/runs/exchanges.ts';
import { findingsOfRun } from '../../src/app/stages/runs/findings-of-run.ts';
import { isMisfit, remarks } from '../../src/app/stages/runs/fit-words.ts';
import {
  areasEmptied,
  outlineOfArea,
  outlookOf,
  placesToFill,
  roomForLeds,
  taskOf,
  whyEmpty,
} from '../../src/app/stages/runs/lay-out-tasks.ts';
import { railOhmPerMetre } from '../../src/app/stages/runs/measured-rail.ts';
import { withRuns } from '../../src/app/stages/runs/members-with-runs.ts';
import { darkSpots, withMovedSpot, withNewSpot, withoutSpot } from '../../src/app/stages/runs/spot-places.ts';
import { stripChoices } from '../../src/app/stages/runs/strip-choices.ts';
import { compileProject } from '../../src/board/index.ts';
import { asBuiltFindings } from '../../src/panel/as-built-findings.ts';
import { autoLayoutEdit, channelFindings, fitChannels, layOut } from '../../src/panel/index.ts';
import {
  type Area,
  addChannels,
  type Edit,
  edited,
  type OwnStrip,
  type Project,
  startHistory,
} from '../../src/project/index.ts';
import { templates } from '../support/lamploom.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const applied = (project: Project, edit: Edit): Project =>
  edited(startHistory(project), 'edit', edit).project;

const plain = projectOf({ runs: rowsOfStrip(60, 20) });
const square: Area = {
  id: 'opening',
  name: 'Square',
  members: [{ kind: 'rectangle', xMm: 100, yMm: 50, widthMm: 200, heightMm: 100 }],
  order: { kind: 'across' },
};
const listed: Area = { id: 'listed', members: [{ kind: 'runs', runs: [] }], order: { kind: 'across' } };

describe('the automatic layout’s questions', () => {
  test('areas that were drawn can be filled, lists of runs can not; an area’s id is no clash', () => {
    const project: Project = { ...plain, areas: [square, listed] };
    expect(placesToFill(project).map(({ id }) => id)).toEqual(['opening', 'area opening']);
    expect(outlineOfArea(listed)).toBeUndefined();
    const choices = {
      pattern: 'rows',
      strip: 'ws2812b-60',
      marginMm: 0,
      mostLeds: 500,
      replace: true,
    } as const;
    expect(taskOf(project, { ...choices, where: 'opening' }).outline).toBeUndefined();
    const { runs } = autoLayoutEdit(project, taskOf(project, { ...choices, where: 'area opening' })).layout;
    expect(runs.length).toBeGreaterThan(0);
    for (const { firstLed } of runs) {
      expect(firstLed.xMm).toBeGreaterThan(100);
      expect(firstLed.xMm).toBeLessThan(300);
    }
  });

  test('areas whose runs are taken away are named, those that still hold LEDs are not', () => {
    const project: Project = {
      ...plain,
      areas: [
        square,
        { ...listed, name: 'By list', members: [{ kind: 'runs', runs: [plain.runs[0]!.id] }] },
        { ...listed, id: 'never-lit' },
      ],
    };
    const settled = compileProject(project, templates);
    const task = { pattern: 'rows', strip: 'ws2812b-60', mostLeds: 200 } as const;
    const outlook = (replace: boolean) =>
      outlookOf(project, autoLayoutEdit(project, { ...task, replace }).edit);
    expect(areasEmptied(settled, outlook(true))).toEqual(['By list']);
    expect(areasEmptied(settled, outlook(false))).toEqual([]);
  });

  test('where fewer LEDs are allowed than a piece has, that is the reason given', () => {
    // A piece has at least 3 LEDs (auto-layout.ts).
    expect(whyEmpty(2)).toContain('2 are allowed');
    expect(whyEmpty(0)).toContain('choose a board with more memory');
    expect(whyEmpty(3)).toContain('leaves no room');
  });

  test('the outlook counts every LED at the strip’s white', () => {
    const { edit, layout } = autoLayoutEdit(plain, {
      pattern: 'rows',
      strip: 'ws2812b-60',
      replace: true,
      mostLeds: 200,
    });
    const outlook = outlookOf(plain, edit);
    // The catalogue: three colours of 12 mA and 0.6 mA for the chip.
    expect(outlook.amps).toBeCloseTo((layout.ledCount * (3 * 12 + 0.6)) / 1000, 6);
    expect(outlook.layout.runs.map(({ run }) => run.id)).toEqual(layout.runs.map(({ id }) => id));
  });

  test('as many LEDs as the board has memory for: three bytes each, and what is taken away first is free again', () => {
    const compiled = compileProject(plain, templates);
    const more = roomForLeds(compiled, false);
    expect(roomForLeds(compiled, true)).toBe(more + 60);
    const full = projectOf({ runs: rowsOfStrip(60 + more) });
    expect(roomForLeds(compileProject(full, templates), false)).toBe(0);
  });
});

describe('channels from outlines', () => {
  const channels = channelsOfRuns(plain, ['row-0', 'row-1']);

  test('as wide and long as board and cut piece, and the tool’s allowance of 0.6 mm', () => {
    // 20 LEDs at 60 per metre are 333.33 mm; the catalogue’s board is 10 mm wide; row 0 begins with its first LED at 20, 20.
    const [{ points }] = channels as [(typeof channels)[number]];
    const xs = points.map(({ xMm }) => xMm);
    const ys = points.map(({ yMm }) => yMm);
    expect(Math.max(...xs) - Math.min(...xs)).toBeCloseTo(1000 / 3 + 0.6, 2);
    expect(Math.max(...ys) - Math.min(...ys)).toBeCloseTo(10.6, 3);
    expect((Math.max(...ys) + Math.min(...ys)) / 2).toBeCloseTo(20, 3);
    expect(Math.min(...xs)).toBeCloseTo(20 - 1000 / 120 - 0.3, 2);
  });

  test('the runs fit into them as they are', () => {
    const locked = applied(plain, addChannels(channels));
    expect(locked.channels!.map(({ id }) => id)).toEqual(['channel-1', 'channel-2']);
    expect(fitChannels(locked, locked.channels!).report.map(({ run, lostLeds }) => [run, lostLeds])).toEqual([
      ['row-0', 0],
      ['row-1', 0],
    ]);
    const told = channelFindings(locked).filter(({ code }) => code !== 'channel-misfit');
    expect(told.map(({ code, at }) => `${code} ${at}`)).toEqual(['run-without-channel /runs/2']);
  });

  test('ring boards lie in none, and a slanting run’s channel slants', () => {
    const odd: Project = {
      ...plain,
      runs: plain.runs.map((run, i) =>
        i === 0 ? { ...run, ring: { radiusMm: 50 } } : i === 1 ? { ...run, arrowDeg: 30 } : run,
      ),
    };
    const found = channelsOfRuns(odd, ['row-0', 'row-1']);
    expect(found).toHaveLength(1);
    const [a, b, c] = found[0]!.points as unknown as { xMm: number; yMm: number }[];
    // y points down, so that 30 degrees counter-clockwise rise to the right.
    expect(Math.atan2(a!.yMm - b!.yMm, b!.xMm - a!.xMm)).toBeCloseTo(Math.PI / 6, 4);
    expect(Math.hypot(b!.xMm - c!.xMm, b!.yMm - c!.yMm)).toBeCloseTo(10.6, 2);
  });
});

describe('fitting in words', () => {
  const fit = {
    channel: 'channel-1',
    run: 'row-0',
    isNew: false,
    lengthMm: 340,
    widthMm: 10.6,
    ledCount: 20,
    usedMm: 333.3,
    leftOverMm: 6.7,
    misfitMm: 6.7,
    lostLeds: 0,
    pitchMismatch: undefined,
    obstacle: undefined,
  } as const;

  test('more than half a millimetre left over is warned of', () => {
    expect(isMisfit(fit)).toBe(true);
    expect(isMisfit({ ...fit, leftOverMm: 0.4 })).toBe(false);
    expect(isMisfit({ ...fit, leftOverMm: 0.4, run: undefined })).toBe(true);
  });

  test('remarks', () => {
    expect(remarks(fit)).toBe('');
    expect(
      remarks({
        ...fit,
        lostLeds: 1,
        obstacle: 'limit',
        pitchMismatch: { ledsPerMetre: 144, ledCount: 49, misfitMm: 0.1 },
      }),
    ).toBe('more than a project holds, 1 LED lost, 49 of 144 per m come out even');
  });
});

test('a rail is half of what both read, by the metre', () => {
  // Ohm’s law: 0.2 V at 1 A over 1 m are 0.2 ohm for both rails; over half a metre twice as much a metre.
  expect(railOhmPerMetre(0.2, 1, 1000)).toBeCloseTo(0.1, 12);
  expect(railOhmPerMetre(0.2, 1, 500)).toBeCloseTo(0.2, 12);
  expect(railOhmPerMetre(0.2, 2, 1000)).toBeCloseTo(0.05, 12);
});

test('own reels come first, and take the place of the catalogue’s with the same id', () => {
  const reel: OwnStrip = {
    id: 'ws2812b-60',
    label: 'Measured',
    supplyVolts: 5,
    floorVolts: 4.5,
    ledsPerMetre: 60,
    boardWidthMm: 10,
    colourOrder: 'GRB',
    channelMilliamps: 12,
    quiescentMilliamps: 0.6,
    currentModel: 'sum',
    railOhmPerMetre: 0.1,
  };
  const all = stripChoices({ strips: [reel] });
  expect(all[0]).toEqual({ id: 'ws2812b-60', label: 'Measured' });
  expect(all.filter(({ id }) => id === 'ws2812b-60')).toHaveLength(1);
  expect(stripChoices({}).find(({ id }) => id === 'ws2812b-60')?.label).toBe('5 V, 60 per m');
});

test('runs join the one list of whole runs, each once', () => {
  expect(withRuns([{ kind: 'runs', runs: ['a', 'b'] }, { kind: 'all' }], ['b', 'c'])).toEqual([
    { kind: 'runs', runs: ['a', 'b', 'c'] },
    { kind: 'all' },
  ]);
  expect(withRuns(square.members, ['a'])).toEqual([...square.members, { kind: 'runs', runs: ['a'] }]);
});

describe('what was built, in words', () => {
  const wordsOf = (project: Project) => {
    const layout = layOut(project);
    return builtWords(project, layout, chainColumns(project, layout));
  };
  const built = (asBuilt: Project['asBuilt'], dead?: number[]): Project => ({
    ...plain,
    asBuilt: asBuilt!,
    runs: plain.runs.map((run, i) => (i === 2 && dead ? { ...run, deadLeds: dead } : run)),
  });

  test('as planned', () => {
    expect(wordsOf(plain)).toEqual({
      soldered: '3 runs soldered',
      differing: [],
      follows: 'All as planned.',
    });
  });

  test('reversed and dead: the shows follow', () => {
    const words = wordsOf(built({ runs: [{ run: 'row-1', laidReversed: true }], swaps: [] }, [5]));
    expect(words).toEqual({
      soldered: '3 runs soldered',
      differing: ['run 2 reversed', 'run 3 LED 5 dead'],
      follows: 'The shows follow.',
    });
  });

  test('left out: the next runs move up, and the one without a number goes by its id', () => {
    const words = wordsOf(built({ runs: [{ run: 'row-1', skipped: true }], swaps: [] }, [1, 2]));
    expect(words.soldered).toBe('2 runs soldered');
    expect(words.differing).toEqual(['run row-1 left out', 'run 2 LEDs 1, 2 dead']);
  });

  test('fed at DOUT: dark from there on', () => {
    const words = wordsOf(built({ runs: [{ run: 'row-1', fedAtDout: true }], swaps: [] }));
    expect(words.follows).toBe('Dark from run 2 on.');
  });

  test('exchanged runs, and the findings of each', () => {
    const swapped = applied(plain, exchangeEdit(plain, 'row-0', 'row-2'));
    expect(exchangeOf(swapped, 'row-2')).toEqual({ index: 0, other: 'row-0' });
    expect(exchangeOf(swapped, 'row-1')).toBeUndefined();
    expect(wordsOf(swapped).differing).toEqual(['runs 3 and 1 exchanged']);
    const told = asBuiltFindings(swapped, layOut(swapped));
    for (const id of ['row-0', 'row-2'])
      expect(findingsOfRun(swapped, id, told).map(({ code }) => code)).toEqual(['runs-swapped']);
    expect(findingsOfRun(swapped, 'row-1', told)).toEqual([]);
    const other = applied(swapped, exchangeEdit(swapped, 'row-0', 'row-1'));
    expect(other.asBuilt!.swaps).toEqual([{ first: 'row-0', second: 'row-1' }]);
    expect(applied(other, exchangeEdit(other, 'row-1', undefined)).asBuilt!.swaps).toEqual([]);
  });

  test('findings of run 1 are not those of run 10', () => {
    const many = projectOf({ runs: rowsOfStrip(110, 10) });
    const about = (index: number) =>
      ({ severity: 'note', code: 'c', at: `/runs/${index}/deadLeds`, message: '', mend: '' }) as const;
    expect(findingsOfRun(many, 'row-1', [about(1), about(10)])).toEqual([about(1)]);
  });
});

describe('marked spots', () => {
  const panel = { widthMm: 600, heightMm: 400 };
  const middle = { xMm: 300, yMm: 200 };

  test('a new one stands in the middle, and beside the one that stands there already', () => {
    const one = withNewSpot([], panel);
    expect(one).toEqual([middle]);
    expect(withNewSpot(withNewSpot(one, panel), panel)).toEqual([
      middle,
      { xMm: 310, yMm: 200 },
      { xMm: 320, yMm: 200 },
    ]);
  });

  test('one is moved or taken away, the others stay', () => {
    const spots = [middle, { xMm: 1, yMm: 2 }, { xMm: 3, yMm: 4 }];
    expect(withMovedSpot(spots, 1, { yMm: 9 })).toEqual([middle, { xMm: 1, yMm: 9 }, { xMm: 3, yMm: 4 }]);
    expect(withoutSpot(spots, 1)).toEqual([middle, { xMm: 3, yMm: 4 }]);
  });

  test('those that stay dark are named by their number in the list, which begins with 1', () => {
    expect(darkSpots([])).toEqual([]);
    expect(
      darkSpots([
        { spot: 1, reason: 'keep-out' },
        { spot: 4, reason: 'off-panel' },
        { spot: 0, reason: 'off-panel' },
      ]),
    ).toEqual(['spots 1, 5 off the panel', 'spot 2 in a keep-out']);
  });
});
