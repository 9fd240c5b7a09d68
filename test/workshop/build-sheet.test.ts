// The build sheet, read back from its PDF by standard programs: its figures are those of the power report and of report.json, nothing stands over
// anything else, and the same project gives the same bytes wherever it is made.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { PNG } from 'pngjs';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { layOut, runTitle } from '../../src/panel/index.ts';
import {
  assessPower,
  fuseRuleFindings,
  lostVoltsFigure,
  powerFindings,
  powerReport,
  voltsFigure,
} from '../../src/power/index.ts';
import type { Project } from '../../src/project/index.ts';
import { wireWords } from '../../src/workshop/build-sheet-words.ts';
import { buildSheetContent, buildSheetPath, numberedRuns, planExport } from '../../src/workshop/index.ts';
import { buildPanel } from '../power/build-project.ts';
import { exportTools, sample, samples, templates } from '../support/lamploom.ts';
import { projectOf } from '../support/projects.ts';

const folder = mkdtempSync(join(tmpdir(), 'build-sheet-'));
let fileCount = 0;

const sheetOf = (project: Project): Uint8Array => {
  const layout = layOut(project);
  return exportTools.writeSheet(buildSheetContent(project, layout, assessPower(project, layout)));
};
/** What a program of poppler says of a PDF. */
function told(program: 'pdftotext' | 'pdfinfo', pdf: Uint8Array, ...options: string[]): string {
  const path = join(folder, `${fileCount++}.pdf`);
  writeFileSync(path, pdf);
  const output = program === 'pdftotext' ? ['-'] : [];
  return execFileSync(program, [...options, path, ...output], { encoding: 'utf8' });
}
/** Lines with each run of blanks as one, also those that hold a figure and its unit together. */
const textOf = (pdf: Uint8Array): string =>
  told('pdftotext', pdf, '-layout').replaceAll('\u00a0', ' ').replace(/ +/g, ' ').replace(/^ /gm, '');

/** The sheet's rounding: volts down, so that no value reads like a limit that it misses; all others to the nearest. */
const volts = (value: number): string => (Math.floor(Number((100 * value).toFixed(6))) / 100).toFixed(2);
const amps = (value: number): string => value.toFixed(2);

// 20 LEDs of 100 mA on thick rails, and 10 on a supply of their own.
const thickReel = {
  currentModel: 'largest',
  channelMilliamps: 100,
  railOhmPerMetre: 0.001,
  boardWidthMm: 12,
} as const;
const twoSupplies = {
  reel: thickReel,
  supply: { amps: 14 },
  moreSupplies: [{ id: 'second', volts: 5.1, amps: 4, ground: { wire: '2.5 mm2', lengthMm: 401 } }],
  limitAmps: 1.5,
  feeds: [
    { run: 'r0', led: 10, wire: '0.75 mm2', lengthMm: 2000, fuseAmps: 3 },
    {
      run: 'r1',
      led: 0,
      wire: 'AWG 18',
      lengthMm: 1998.2,
      supply: 'second',
      plug: 'vh-3.96',
      fuseKind: 'tube' as const,
    },
  ],
};
/** On one line: their grounds share what both draw. */
const severalSupplies = buildPanel({
  ...twoSupplies,
  lines: [[{ leds: 20 }, { leds: 10, jumper: { power: 'cut', lengthMm: 1e-3, wire: 'AWG 30' } }]],
}).project;
/** On two lines: two circuits. */
const twoCircuits = buildPanel({ ...twoSupplies, lines: [[{ leds: 20 }], [{ leds: 10 }]] }).project;

/** 100 short runs, each with its feed, under names that no built-in font has all letters of. */
const strangeName = 'Größe → ΩΑθ 👩‍🚀 ';
const longWord = 'W'.repeat(150);
const hundredFeeds: Project = (() => {
  const { project } = buildPanel({
    lines: [
      Array.from({ length: 100 }, (_, run) => ({
        leds: 3,
        jumper: { power: run % 3 === 0 ? ('cut' as const) : ('carried' as const) },
      })),
    ],
    feeds: Array.from({ length: 100 }, (_, run) => ({
      run: `r${run}`,
      led: 1,
      wire: run % 2 === 0 ? 'AWG 18' : '0.75 mm2',
      lengthMm: 500 + run,
    })),
  });
  const named = project.runs.map((run, index) =>
    index % 10 === 0 ? { ...run, name: `${strangeName}${index % 20 === 0 ? longWord : index}` } : run,
  );
  return { ...project, name: `${strangeName}${longWord}`, runs: named };
})();

const cases: readonly (readonly [string, Project])[] = [
  ...samples.map((name) => [name, sample(name)] as const),
  ['several supplies', severalSupplies],
];

describe('[WRK11] the build sheet', () => {
  test.each(cases)('%s: its figures are those of the power report and of report.json', (_, project) => {
    const layout = layOut(project);
    const report = powerReport(project, layout);
    const { files } = planExport(project, templates, exportTools);
    const { power } = JSON.parse(new TextDecoder().decode(files.get('report.json'))) as ReturnType<
      typeof planExport
    >['report'];
    expect(power.feeds).toEqual(report.feeds);
    const numbers = new Map(numberedRuns(layout).map(({ number, placed }) => [placed.run.id, number]));
    const place = (at: { run: string; led: number } | null) => `run ${numbers.get(at!.run)}, LED ${at!.led}`;
    const text = textOf(files.get(buildSheetPath)!);

    const { supply, worstCase, limitAmps } = report;
    const lines = [
      `All white, no limit ${amps(worstCase.amps)} A, lowest ${volts(worstCase.lowestVolts)} V at ${place(worstCase.at)}`,
      limitAmps === null
        ? 'Limit in the player none'
        : `Limit in the player ${amps(limitAmps)} A for the strips; it protects nothing`,
      `White as the player lets it be ${amps(power.inUse.amps)} A, lowest ${volts(power.inUse.lowestVolts)} V at ${place(power.inUse.at)}`,
      `All white at ${power.hot.celsius} °C, fuses included lowest ${volts(power.hot.lowestVolts)} V at ${place(power.hot.at)}`,
      `Board gets ${volts(power.controllerVolts!)} V from Supply 1, all white`,
    ];
    for (const line of lines) expect(text.split('\n')).toContain(line);
    expect(text).toMatch(
      new RegExp(
        `^Supply 1 ${volts(supply.volts)} ${amps(supply.amps)} ${supply.watts.toFixed(1)} \\d+ `,
        'm',
      ),
    );
    for (const [index, one] of power.supplies.entries())
      expect(text).toMatch(
        new RegExp(
          `^Supply ${index + 1} ${volts(one.volts)} ${amps(one.amps)} [\\d.]+ \\d+ ${amps(one.worstAmps)} `,
          'm',
        ),
      );

    const feedRows = text.split('\n').filter((line) => /^F\d+ \d+ /.test(line));
    expect(feedRows).toHaveLength(report.feeds.length);
    for (const [index, feed] of report.feeds.entries()) {
      // Wire is cut in steps of 5 mm, never shorter.
      const cutMm = Math.ceil(feed.lengthMm / 5) * 5;
      expect(feedRows[index]).toMatch(
        new RegExp(`^F${index + 1} ${numbers.get(feed.run)} .* ${feed.led} Supply `),
      );
      expect(feedRows[index]).toContain(` ${cutMm} ${feed.fuseAmps} A `);
      expect(feedRows[index]).toMatch(new RegExp(` ${amps(feed.amps)} [\\d.]+$`));
      expect(feedRows[index]).toContain(feed.wire.replace('mm2', 'mm²'));
    }

    // The runs' names may take several lines, the figures stand on the first one.
    const [, zones] = text.split(/^Zones$/m);
    for (const [index, zone] of power.zones.entries())
      expect(zones).toMatch(
        new RegExp(
          `^${index + 1} .* ${zone.ledCount} ${amps(zone.amps)} ${volts(zone.lowestVolts)} ${place(zone.at)} F\\d`,
          'm',
        ),
      );
  });

  test('with several supplies: figures worked out by hand', () => {
    const text = textOf(sheetOf(twoCircuits));
    // First: white 2 A, held to 1.5 A; with 50 mA of the board 1.55 A, which are 80 % of 1.94 A. Second: white 1 A, under the limit: 80 % of 1.25 A.
    expect(text).toMatch(/^Supply 1 5\.00 14\.00 70\.0 20 2\.00 1\.55 1\.94 enough$/m);
    // 401 mm are cut as 405; 2.5 mm2 need a gauge of 3.31 mm2 (AWG 12; AWG 14 has 2.08).
    expect(text).toMatch(/^Supply 2 5\.10 4\.00 20\.4 10 1\.00 1\.00 1\.25 enough 2\.5 mm² \(AWG 12\),? ?/m);
    expect(text).toContain('405 mm');
    // 2 A over 2 x 2 m of 26.0 mohm/m lose 0.208 V. A fuse whose kind the project doesn't name adds nothing.
    expect(text).toMatch(/^F1 1 r0 10 Supply 1 0\.75 mm² \(AWG 18\) 2000 3 A blade soldered 2\.00 0\.21$/m);
    // 1 A over 2 x 1.9982 m of AWG 18 (20.95 mohm/m) lose 0.0837 V, two contacts of 20 mohm 0.04 V, a tube of 1.25 A, 100 mV at its rating, 0.08 V.
    expect(text).toMatch(/^F2 2 r1 0 Supply 2 AWG 18 \(0\.82 mm²\) 2000 1\.25 A tube VH plug, 1\.00 0\.21$/m);
    expect(text).toContain('There are no jumpers.');
    const joined = textOf(sheetOf(severalSupplies));
    expect(joined).toContain('0 jumpers carry data, + and ground; 1 has its + cut.');
    expect(joined).toMatch(/^1 1 r0 2 r1 data and ground, no \+$/m);
  });

  test('says whether the fuse rule holds, in the findings’ own words, and every finding once', () => {
    // 2 A at most in 10 mm strip that may carry 3, and in wire that may carry 7.
    const holds = buildPanel({
      lines: [[{ leds: 20 }]],
      feeds: [{ run: 'r0', led: 0, wire: 'AWG 18', lengthMm: 500 }],
    });
    expect(textOf(sheetOf(holds.project)).replace(/\s+/g, ' ')).toContain('It holds for 21 shorts.');
    const { project, layout } = buildPanel({
      lines: [[{ leds: 200 }]],
      feeds: [{ run: 'r0', led: 0, wire: 'AWG 24', lengthMm: 5000 }],
    });
    const assessment = assessPower(project, layout);
    const text = textOf(sheetOf(project)).replace(/\s+/g, ' ');
    const findings = powerFindings(project, layout, assessment);
    const { panel, feedSizes, fuseRule } = assessment;
    const broken = fuseRuleFindings(project, panel, feedSizes, fuseRule);
    expect(broken.length).toBeGreaterThan(0);
    expect(text).not.toContain('It holds');
    expect(new Set(findings.map(({ code }) => code))).toContain('fuse-above-wire');
    for (const { message, mend } of [...broken, ...findings])
      expect(text.split(`${message} ${mend}`), message).toHaveLength(2);
  });

  test('has every caution, and a project without LEDs has a sheet too', () => {
    const text = textOf(sheetOf(projectOf({ runs: [], dataLines: [] }))).replace(/\s+/g, ' ');
    for (const word of [
      'Mains',
      'lethal',
      'sized for all white',
      'closed box',
      '50 V',
      'USB must not feed',
      'grounds',
    ])
      expect(text).toContain(word);
    expect(text).toContain('Keep data wires 50 mm from coil wiring');
    expect(text).toContain('This is arithmetic, no certificate: local codes and licensed practice decide.');
    for (const word of ['No LEDs yet.', 'No feed yet.', 'There are no jumpers.', 'no feed to protect'])
      expect(text).toContain(word);
    expect(text).not.toMatch(/NaN|undefined|Infinity|null/);
  });

  describe('its bytes', () => {
    const zone = process.env['TZ'];
    afterAll(() => {
      if (zone === undefined) delete process.env['TZ'];
      else process.env['TZ'] = zone;
    });
    const late = { ...severalSupplies, savedOn: '2026-11-25T23:30:00Z' };
    test('are the same again, and nine hours further east', () => {
      process.env['TZ'] = 'UTC';
      const once = sheetOf(late);
      expect(sheetOf(late)).toEqual(once);
      process.env['TZ'] = 'Asia/Tokyo';
      expect(new Date(0).getTimezoneOffset()).toBe(-9 * 60);
      expect(sheetOf(late)).toEqual(once);
      expect(Buffer.from(once).toString('latin1')).toContain("/CreationDate (D:20261125233000+00'00')");
    });
    test('come for every date that a document may have', () => {
      for (const savedOn of ['1950-01-01', '2099-12-31', '2026-13-45', '2026-11-25T10:30Z'])
        expect(textOf(sheetOf({ ...severalSupplies, savedOn }))).toContain(
          `Saved on ${savedOn.slice(0, 10)}`,
        );
    });
  });

  describe('its pages', () => {
    let pdf: Uint8Array;
    beforeAll(() => {
      pdf = sheetOf(hundredFeeds);
    });

    test('are A4: 210 x 297 mm, which are 2100 x 2970 dots at a tenth of a millimetre', () => {
      const info = told('pdfinfo', pdf);
      expect(info).toMatch(/Page size: +595\.28 x 841\.89 pts \(A4\)/);
      const path = join(folder, 'page.pdf');
      writeFileSync(path, pdf);
      execFileSync('pdftoppm', ['-r', '254', '-png', '-singlefile', path, join(folder, 'page')]);
      const { width, height } = PNG.sync.read(readFileSync(join(folder, 'page.png')));
      expect(Math.abs(width - 2100)).toBeLessThanOrEqual(1);
      expect(Math.abs(height - 2970)).toBeLessThanOrEqual(1);
    });

    test('hold a hundred feeds over several pages, each with the headings again', () => {
      const text = textOf(pdf);
      expect([...text.matchAll(/^F(\d+) \d+ /gm)].map(([, number]) => Number(number))).toEqual(
        Array.from({ length: 100 }, (_, index) => index + 1),
      );
      const withFeeds = text.split('\f').filter((page) => /^F\d+ \d+ /m.test(page));
      expect(withFeeds.length).toBeGreaterThan(1);
      for (const page of withFeeds) {
        expect(page).toContain('Feed To run');
        // Headings break between words only.
        expect(page).toContain('way, mm');
        expect(page).toContain('white, A');
      }
    });

    test('keep letters that the font has, and a mark stands for those it has not', () => {
      // A woman astronaut is two characters and a joiner, which shows nothing.
      expect(textOf(pdf)).toContain('Größe → ΩΑθ \ufffd\ufffd WWW');
      expect(runTitle(hundredFeeds.runs[10]!)).toContain('👩‍🚀');
    });

    test.each([['a hundred feeds', hundredFeeds] as const, ...cases])(
      '%s: every word lies inside the margins, and none over another',
      (_, project) => {
        const words = wordsOf(sheetOf(project));
        expect(words.length).toBeGreaterThan(1);
        for (const page of words)
          for (const [index, word] of page.entries()) {
            // 15 mm of margin; what stands at the foot ends 11 mm above the edge.
            expect(word.left, word.text).toBeGreaterThan(15 * pointsPerMm - 1);
            expect(word.right, word.text).toBeLessThan((210 - 15) * pointsPerMm + 1);
            expect(word.bottom, word.text).toBeLessThan((297 - 11) * pointsPerMm);
            const under = page.slice(index + 1).find((other) => overlap(word, other));
            expect(under && [word.text, under.text]).toBeUndefined();
          }
      },
    );
  });
});

const pointsPerMm = 72 / 25.4;
interface Word {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly text: string;
}
/** Where each word stands, in points from the page's top left, page by page. */
const wordsOf = (pdf: Uint8Array): Word[][] =>
  told('pdftotext', pdf, '-bbox')
    .split('<page ')
    .slice(1)
    .map((page) =>
      [
        ...page.matchAll(
          /<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(.*?)<\/word>/g,
        ),
      ].map(([, left, top, right, bottom, text]) => ({
        left: Number(left),
        top: Number(top),
        right: Number(right),
        bottom: Number(bottom),
        text: text!,
      })),
    );
/** Letters' boxes are taller than the lines are apart by a little; a third of a line is no accident. */
const overlap = (a: Word, b: Word): boolean =>
  Math.min(a.right, b.right) - Math.max(a.left, b.left) > 0.5 &&
  Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 3;

test('figures are rounded to the safe side', () => {
  // 0.35 x 100 is 35.000000000000004 and 4.35 x 100 is 434.99999999999994 in binary arithmetic.
  expect([4.499, 4.5, 4.35, -0.001].map(voltsFigure)).toEqual(['4.49', '4.50', '4.35', '-0.01']);
  expect([0.201, 0.35, 0].map(lostVoltsFigure)).toEqual(['0.21', '0.35', '0.00']);
});

test('wires are told in both systems, and no gauge has less copper', () => {
  // Areas of AWG wire, published in every wire table (ASTM B258): 10: 5.26 mm2, 12: 3.31, 16: 1.31, 18: 0.823, 20: 0.518.
  expect(['AWG 18', '0.75 mm2', '0.5 mm2', '1 mm2', '2.5 mm2', '6 mm2'].map(wireWords)).toEqual([
    'AWG 18 (0.82 mm²)',
    '0.75 mm² (AWG 18)',
    '0.5 mm² (AWG 20)',
    '1 mm² (AWG 16)',
    '2.5 mm² (AWG 12)',
    '6 mm²',
  ]);
});
