// Cut and wire lists: lengths from LED counts and places by hand; and their files against RFC 4180, read back by a reader of its own.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { layOut } from '../../src/panel/index.ts';
import type { Project } from '../../src/project/index.ts';
import { csv } from '../../src/workshop/csv.ts';
import { cutList, cutListCsv, wireList, wireListCsv } from '../../src/workshop/index.ts';
import { sample, samples } from '../support/lamploom.ts';
import { projectOf } from '../support/projects.ts';
import { wiredProject } from '../support/wired-project.ts';

const cutListOf = (project: Project) => cutList(project, layOut(project));
const wireListOf = (project: Project) => wireList(project, layOut(project));

/** Reads comma-separated values by the grammar of RFC 4180, section 2. */
function readCsv(text: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  for (let at = 0; at < text.length; ) {
    const quoted = /"((?:[^"]|"")*)"/y;
    const bare = /[^",\r\n]*/y;
    quoted.lastIndex = at;
    bare.lastIndex = at;
    const match = quoted.exec(text);
    const field = match ? match[1]!.replaceAll('""', '"') : bare.exec(text)![0];
    at += match ? match[0].length : field.length;
    row.push(field);
    if (text.startsWith('\r\n', at)) {
      rows.push(row);
      row = [];
      at += 2;
    } else if (text[at] === ',') at++;
    else throw new Error(`neither a comma nor a line end at ${at}`);
  }
  if (row.length > 0) throw new Error('the last line has no end');
  return rows;
}

describe('[WRK7] comma-separated values', () => {
  // RFC 4180, section 2, rules 6 and 7: fields with line ends, quotes or commas stand in quotes, a quote inside is doubled. Rule 5 lets the
  // other fields go without.
  test('the examples of the standard', () => {
    expect(
      csv([
        ['aaa', 'b\r\nbb', 'ccc'],
        ['zzz', 'yyy', 'xxx'],
      ]),
    ).toBe('aaa,"b\r\nbb",ccc\r\nzzz,yyy,xxx\r\n');
    expect(csv([['aaa', 'b"bb', 'ccc']])).toBe('aaa,"b""bb",ccc\r\n');
    expect(csv([['a,b', 1.5, null]])).toBe('"a,b",1.5,\r\n');
  });

  test('any text comes back as it was, unless a spreadsheet would run it', () => {
    const text = fc.string({ unit: fc.constantFrom('a', ',', '"', '\r', '\n', ' ', 'ü', '=', '-') });
    fc.assert(
      fc.property(fc.array(fc.tuple(text, text), { minLength: 1, maxLength: 6 }), (rows) => {
        const kept = (one: string): string => (/^[=\-\r]/.test(one) ? `'${one}` : one);
        expect(readCsv(csv(rows))).toEqual(rows.map((row) => row.map(kept)));
      }),
      { seed: 9, numRuns: 300 },
    );
    expect(csv([['=1+1', '@a', '+1', '-x', 'a=b']])).toBe("'=1+1,'@a,'+1,'-x,a=b\r\n");
  });
});

describe('[WRK8] the cut list', () => {
  // LEDs per m of the strips that the samples use, as their names say.
  test.each([
    ['midnight-carnival', 284, 18],
    ['first-light', 62, 6],
    ['deep-sea', 432, 12],
  ] as const)(
    '%s: each piece is its LEDs x 1000 / 60 mm long, in the order of the wire',
    (name, leds, pieces) => {
      const project = sample(name);
      const { pieces: list, totals } = cutListOf(project);
      expect(list).toHaveLength(pieces);
      expect(list.map((piece) => piece.run)).toEqual(
        project.dataLines.flatMap((line) => line.chain.map((link) => link.run)),
      );
      for (const [i, piece] of list.entries()) {
        expect(piece.number).toBe(i + 1);
        const { ledCount } = project.runs.find((run) => run.id === piece.run)!;
        expect(piece.ledCount).toBe(ledCount);
        expect(piece.cutLengthMm).toBeCloseTo((ledCount * 1000) / 60, 9);
        expect(piece.channelLengthMm).toBeCloseTo((ledCount * 1000) / 60 + 1, 9);
        expect(piece.channelWidthMm).toBeCloseTo(10.6, 9);
      }
      expect(totals).toHaveLength(1);
      expect(totals[0]).toMatchObject({
        strip: 'ws2812b-60',
        label: '5 V, 60 per m',
        pieceCount: pieces,
        ledCount: leds,
      });
      expect(totals[0]!.lengthMm).toBeCloseTo((leds * 1000) / 60, 6);
    },
  );

  /** Two lines, a piece outside both, the builder's own reel, and names that need quotes. */
  const mixed = projectOf({
    strips: [
      {
        id: 'own-reel',
        label: 'From the box',
        supplyVolts: 5,
        floorVolts: 4.5,
        ledsPerMetre: 50,
        boardWidthMm: 8,
        colourOrder: 'GRB',
        channelMilliamps: 12,
        quiescentMilliamps: 1,
        currentModel: 'sum',
        railOhmPerMetre: 0.1,
      },
    ],
    runs: [
      { id: 'loose', firstLed: { xMm: 50, yMm: 20 }, arrowDeg: 0, ledCount: 1, strip: 'ws2812b-144' },
      {
        id: 'a',
        name: 'Top, "left"',
        firstLed: { xMm: 50, yMm: 40 },
        arrowDeg: 0,
        ledCount: 5,
        strip: 'own-reel',
      },
      { id: 'b', firstLed: { xMm: 50, yMm: 60 }, arrowDeg: 0, ledCount: 10, strip: 'ws2812b-30' },
      { id: 'c', firstLed: { xMm: 300, yMm: 60 }, arrowDeg: 180, ledCount: 4, strip: 'own-reel' },
    ],
    dataLines: [
      { pin: 6, chain: [{ run: 'c' }, { run: 'a', jumper: { power: 'cut' } }] },
      { chain: [{ run: 'b' }] },
    ],
  });

  // 50 per m: 20 mm an LED, channel 8.6 wide; 30 per m: 33.333; 144 per m: 6.944, strip 12 mm wide.
  test('its file has units in the header, pieces by number, and what each strip needs', () => {
    expect(cutListCsv(cutListOf(mixed))).toBe(
      [
        'Number,Data line,Run,Name,Strip,LEDs,Cut length (mm),Channel length (mm),Channel width (mm)',
        '1,1,c,,own-reel,4,80,81,8.6',
        '2,1,a,"Top, ""left""",own-reel,5,100,101,8.6',
        '3,2,b,,ws2812b-30,10,333.3,334.3,10.6',
        '4,,loose,,ws2812b-144,1,6.9,7.9,12.6',
        ',,altogether,2 pieces,own-reel,9,180,,',
        ',,altogether,1 piece,ws2812b-30,10,333.3,,',
        ',,altogether,1 piece,ws2812b-144,1,6.9,,',
        '',
      ].join('\r\n'),
    );
    expect(cutListOf(mixed).totals.map((total) => total.label)).toEqual([
      'From the box',
      '5 V, 30 per m',
      '5 V, 144 per m',
    ]);
  });

  test('every line of both files has as many fields as the header', () => {
    fc.assert(
      fc.property(wiredProject, (project) => {
        for (const text of [cutListCsv(cutListOf(project)), wireListCsv(wireListOf(project))]) {
          const [header, ...rows] = readCsv(text);
          expect(rows.every((row) => row.length === header!.length)).toBe(true);
        }
        expect(readCsv(cutListCsv(cutListOf(project)))).toHaveLength(
          1 + project.runs.length + new Set(project.runs.map((run) => run.strip)).size,
        );
      }),
      { seed: 10, numRuns: 30 },
    );
  });
});

describe('[WRK9] the wire list', () => {
  // sky-1's DOUT end: 33 + 14.5 x 16.6667 = 274.667, 24. sky-3's DIN end: 278 + 8.333 = 286.333, 70. Apart: hypot(11.667, 46) = 47.46.
  test('a jumper is as long as the ends are apart, rounded up to 5 mm', () => {
    const { jumpers } = wireListOf(sample('first-light'));
    expect(jumpers).toHaveLength(5);
    expect(jumpers[0]).toEqual({
      line: 1,
      from: { run: 'sky-1', number: 1 },
      to: { run: 'sky-3', number: 2 },
      power: 'carried',
      wire: 'AWG 20',
      lengthMm: 50,
    });
  });

  test.each([
    [40, 40],
    [40.001, 45],
    [0.5, 5],
    [44.9, 45],
    // 110.00000000000001 as numbers are kept.
    [100 * 1.1, 110],
  ])('a stated length of %d mm becomes %d mm', (lengthMm, rounded) => {
    const project = sample('first-light');
    const [line] = project.dataLines;
    const chain = line!.chain.map((link, i) =>
      i < 2 ? { ...link, jumper: { power: 'cut' as const, wire: 'AWG 18', lengthMm } } : link,
    );
    const list = wireListOf({ ...project, dataLines: [{ ...line!, chain }] });
    expect(list.jumpers[0]).toMatchObject({ power: 'cut', wire: 'AWG 18', lengthMm: rounded });
    expect(list.boardLinks).toEqual([
      { line: 1, pin: 9, to: { run: 'sky-1', number: 1 }, wire: 'AWG 18', lengthMm: rounded },
    ]);
  });

  test("the carnival's cuts in the supply are those of its file", () => {
    const cut = wireListOf(sample('midnight-carnival')).jumpers.filter((jumper) => jumper.power === 'cut');
    expect(cut.map((jumper) => jumper.to)).toEqual([
      { run: 'sky-2', number: 2 },
      { run: 'sky-3', number: 3 },
      { run: 'tent-1', number: 6 },
      { run: 'wheel-2', number: 12 },
      { run: 'ground', number: 18 },
    ]);
  });

  test.each(samples)('%s: feeds have the wire, length and fuse of the file', (name) => {
    const project = sample(name);
    const { feeds } = wireListOf(project);
    expect(
      feeds.map(({ to, led, wire, lengthMm, fuseAmps }) => [to.run, led, wire, lengthMm, fuseAmps]),
    ).toEqual(
      project.power.feeds.map(({ run, led, wire, lengthMm, fuseAmps }) => [
        run,
        led,
        wire,
        lengthMm,
        fuseAmps,
      ]),
    );
  });

  // 30 LEDs x (3 x 12 + 0.6) mA = 1.098 A, under 80 % of a 2 A fuse. 120 LEDs: 4.392 A, under 80 % of 7.5 A, over 80 % of 5 A.
  test.each([
    [30, 2],
    [120, 7.5],
  ])('without a chosen fuse, %d LEDs at white get one of %d A', (ledCount, fuseAmps) => {
    const project = projectOf({
      runs: [{ id: 'a', firstLed: { xMm: 20, yMm: 20 }, arrowDeg: 0, ledCount, strip: 'ws2812b-60' }],
      power: { supply: { volts: 5, amps: 10 }, feeds: [{ run: 'a', led: 0, wire: 'AWG 16', lengthMm: 301 }] },
    });
    expect(wireListOf(project).feeds).toEqual([
      { to: { run: 'a', number: 1 }, led: 0, wire: 'AWG 16', lengthMm: 305, fuseAmps },
    ]);
    expect(wireListCsv(wireListOf(project))).toBe(
      [
        'Kind,Data line,From,To,Conductors,Wire,Length one way (mm),Fuse (A)',
        'board link,1,"board, pin 6","1 a, DIN","data, ground",AWG 20,,',
        `feed,,supply,"1 a, LED 0","supply, ground",AWG 16,305,${fuseAmps}`,
        '',
      ].join('\r\n'),
    );
  });
});
