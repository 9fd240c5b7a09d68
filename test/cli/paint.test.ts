// The paint command: pictures of every kind become painted frames in a new project, the figures it prints, and its refusals.
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import jpeg from 'jpeg-js';
import { PNG } from 'pngjs';
import { beforeAll, describe, expect, test } from 'vitest';
import { type Project, problemLine, readProject, writeProject } from '../../src/project/index.ts';
import { lamploom, type Outcome, temporaryFile, temporaryFolder } from '../support/command-line.ts';
import { gifOf } from '../support/gif-writer.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

/** Four rows of 30 LEDs, each with its own feed. */
const rows = rowsOfStrip(120);
const panel = projectOf({
  runs: rows,
  power: {
    supply: { volts: 5, amps: 40 },
    feeds: rows.map((run) => ({ run: run.id, led: 0, lengthMm: 300, wire: 'AWG 18', fuseAmps: 5 })),
  },
});
const project = (change: (copy: Project) => void = () => {}): string => {
  const copy = structuredClone(panel);
  change(copy);
  return temporaryFile(writeProject(copy));
};

function png(rows: readonly (readonly (readonly [number, number, number])[])[]): Buffer {
  const image = new PNG({ width: rows[0]!.length, height: rows.length });
  image.data = Buffer.from(rows.flat().flatMap(([red, green, blue]) => [red, green, blue, 255]));
  return PNG.sync.write(image);
}
const black = [0, 0, 0] as const;
const red = [255, 0, 0] as const;
const amber = [255, 160, 0] as const;

interface Figures {
  readonly columns: number;
  readonly rows: number;
  readonly frames: number;
  readonly colours: number;
  readonly bytes: number;
  readonly meanError: number;
  readonly worstError: number;
}

const read = (path: string): Project => {
  const result = readProject(readFileSync(path, 'utf8'));
  if (!result.ok) throw new Error(result.problems.map(problemLine).join('\n'));
  return result.value;
};

/** Paints and returns the figures, the new project and the effect on its new uppermost row. */
function painted(file: string, picture: string, ...more: string[]) {
  const out = join(temporaryFolder(), 'new.lamploom.json');
  const outcome = lamploom(
    'paint',
    file,
    '--picture',
    picture,
    '--area',
    'everything',
    '--columns',
    '3',
    '--rows',
    '2',
    '--out',
    out,
    '--json',
    ...more,
  );
  expect(outcome.stderr).toBe('');
  const made = read(out);
  const show = made.lampshows.find((one) => one.id === 'attract')!;
  const clip = show.rows.at(-1)!.clips[0]!;
  const { effect } = clip;
  if (effect.kind !== 'painted') throw new Error(`painted a ${effect.kind}`);
  return { status: outcome.status, figures: JSON.parse(outcome.stdout) as Figures, made, show, clip, effect };
}

function expectUnusable({ status, stdout, stderr }: Outcome, line: RegExp): void {
  expect([status, stdout]).toEqual([2, '']);
  expect(stderr.trimEnd().split('\n')).toHaveLength(1);
  expect(stderr).toMatch(line);
  expect(stderr).not.toMatch(/\bat .+:\d+:\d+|node:internal/);
}

beforeAll(() => {
  // The first call builds the command line; it must not spend a test's time.
  expect(lamploom('schema').status).toBe(0);
});

describe('[PAI1] a picture', () => {
  test('becomes one clip on a new uppermost row, as long as the show; all else stays', () => {
    const picture = temporaryFile(
      png([
        [red, black, black],
        [black, amber, amber],
      ]),
      'Sun set.png',
    );
    const { status, made, show, clip, effect, figures } = painted(project(), picture);
    expect(status).toBe(0);
    expect(effect).toEqual({
      kind: 'painted',
      columns: 3,
      rows: 2,
      palette: ['#000000', '#ff0000', '#ffa000'],
      frames: [{ holdMs: 1000, cells: '100022' }],
    });
    expect(show.rows.map((row) => row.id)).toEqual(['sun-set']);
    expect(clip).toMatchObject({ startMs: 0, lengthMs: 20_000, area: 'everything', blend: 'over' });
    expect({ ...made, lampshows: [] }).toEqual({ ...panel, lampshows: [] });
    // show_data.h: 7 + 8 bytes of tables, 120 LEDs of 2 bits, and a palette of 2 + 3 x 3 bytes.
    expect(figures).toEqual({
      columns: 3,
      rows: 2,
      frames: 1,
      colours: 3,
      bytes: 7 + 8 + 30 + 11,
      meanError: expect.closeTo(0, 5) as number,
      worstError: expect.closeTo(0, 5) as number,
    });
  });

  test('is painted into a project that has errors too, which the exit status tells', () => {
    const unfed = project((copy) => {
      copy.power.feeds = [];
    });
    const { status, effect } = painted(unfed, temporaryFile(png([[red]]), 'red.png'));
    expect([status, effect.palette]).toEqual([1, ['#ff0000']]);
  });

  test('needs no gradient: a project without any gets a plain one, since every clip names one', () => {
    const bare = project((copy) => {
      copy.gradients = [];
    });
    const { made, clip } = painted(bare, temporaryFile(png([[red]]), 'red.png'));
    expect(made.gradients).toEqual([{ id: 'plain', stops: [{ at: 0, colour: '#ffffff' }] }]);
    expect(clip.gradient).toBe('plain');
  });

  test('may be a JPEG, told by its bytes', () => {
    const data = Buffer.from(
      Array.from({ length: 48 * 32 }, (_, i) => [...(i % 48 < 16 ? red : amber), 255]).flat(),
    );
    const picture = temporaryFile(jpeg.encode({ data, width: 48, height: 32 }, 100).data, 'photo.png');
    const { effect } = painted(project(), picture, '--colours', '2');
    expect(effect.frames).toHaveLength(1);
    expect(effect.frames[0]!.cells).toBe('011011');
  });

  test('goes on the show that is named; a row of that name gets a number; fewer colours are told', () => {
    const file = project((copy) => {
      copy.lampshows.push({ id: 'jackpot', lengthMs: 3000, rows: [{ id: 'sun', clips: [] }] });
    });
    const picture = temporaryFile(png([[red, amber, black]]), 'sun.png');
    const out = join(temporaryFolder(), 'out.lamploom.json');
    const outcome = lamploom(
      ...['paint', file, '--picture', picture, '--area', 'everything', '--columns', '3', '--rows', '1'],
      ...['--out', out, '--show', 'jackpot', '--colours', '2'],
    );
    expect(outcome).toMatchObject({ status: 0, stderr: '' });
    expect(outcome.stdout).toMatch(/^1 frame of 3 x 1 cells in 2 colours on a new row of "jackpot"/);
    const made = read(out);
    expect(made.lampshows[0]).toEqual(panel.lampshows[0]);
    expect(made.lampshows[1]!.rows.map((row) => row.id)).toEqual(['sun', 'sun-2']);
    expect(made.lampshows[1]!.rows[1]!.clips[0]!.lengthMs).toBe(3000);
  });
});

describe('[PAI2] an animation', () => {
  const palette = [black, red, amber, [0, 0, 255]] as const;

  test('of a GIF keeps its times; frames that stay the same are joined', () => {
    const frame = (pixels: number[], delayHundredths: number) => ({
      width: 3,
      height: 2,
      pixels,
      delayHundredths,
    });
    const gif = gifOf(3, 2, palette, [
      frame([0, 1, 2, 0, 0, 0], 5),
      frame([0, 1, 2, 0, 0, 0], 10),
      frame([2, 1, 0, 0, 0, 0], 20),
    ]);
    const { effect, figures } = painted(project(), temporaryFile(gif, 'move.gif'));
    expect(effect.frames).toEqual([
      { holdMs: 150, cells: '012000' },
      { holdMs: 200, cells: '210000' },
    ]);
    expect(figures.frames).toBe(2);
  });

  test('of a folder takes its PNGs by name, 100 ms each unless told', () => {
    const folder = join(temporaryFolder(), 'frames');
    mkdirSync(folder);
    writeFileSync(join(folder, 'b.PNG'), png([[red, red, red]]));
    writeFileSync(join(folder, 'a.png'), png([[black, black, black]]));
    writeFileSync(join(folder, 'notes.txt'), 'no picture');
    // Characters of capitals stand before small ones: 'a.png' < 'b.PNG'.
    const frames = (holdMs: number) => [
      { holdMs, cells: '000000' },
      { holdMs, cells: '111111' },
    ];
    expect(painted(project(), folder).effect.frames).toEqual(frames(100));
    expect(painted(project(), folder, '--frame-ms', '40').effect.frames).toEqual(frames(40));
  });
});

describe('[PAI3] refusals write nothing', () => {
  const folder = () => join(temporaryFolder(), 'results');
  const whole = () => temporaryFile(png([[red]]), 'picture.png');

  /** Calls with these options in place of good ones, and looks that nothing was written. */
  function refused(
    change: Readonly<Record<string, string | undefined>>,
    line: RegExp,
    file = project(),
  ): void {
    const results = folder();
    mkdirSync(results);
    const options = {
      picture: whole(),
      area: 'everything',
      columns: '3',
      rows: '2',
      out: join(results, 'new.lamploom.json'),
      ...change,
    };
    const args = Object.entries(options).flatMap(([name, value]) =>
      value === undefined ? [] : [`--${name}`, value],
    );
    expectUnusable(lamploom('paint', file, ...args, '--json'), line);
    expect(readdirSync(results)).toEqual([]);
  }

  test('of options', () => {
    refused({ area: undefined }, /^--area: expected the id of an area, found none/);
    refused({ area: 'nowhere' }, /^--area: .*"nowhere".*everything/);
    refused({ columns: undefined }, /^--columns: /);
    refused({ columns: '65' }, /^--columns: expected a whole number from 1 to 64/);
    refused({ rows: '0' }, /^--rows: expected a whole number from 1 to 64/);
    refused({ colours: '17' }, /^--colours: expected a whole number from 1 to 16/);
    refused({ show: 'none-such' }, /^--show: /);
    refused({ picture: undefined }, /^--picture: /);
    refused({ 'frame-ms': '50' }, /^--frame-ms: expected a folder/);
  });

  test('of pictures that are missing, none, broken or too large', () => {
    refused({ picture: '/nowhere/at-all.png' }, /no such file/);
    refused({ picture: temporaryFolder() }, /PNG files in the folder/);
    refused({ picture: temporaryFile('<svg/>', 'drawing.svg') }, /PNG, JPEG or GIF/);
    refused({ picture: temporaryFile('', 'empty.png') }, /PNG, JPEG or GIF/);
    const good = png([[red, amber]]);
    refused({ picture: temporaryFile(good.subarray(0, good.length - 20), 'cut.png') }, /can't be unpacked/);
    const huge = Buffer.from(good);
    huge.writeUInt32BE(100_000, 16);
    huge.writeUInt32BE(100_000, 20);
    refused({ picture: temporaryFile(huge, 'huge.png') }, /million pixels/);
    const gif = Uint8Array.from(gifOf(1, 1, [red], [{ width: 1, height: 1, pixels: [0] }]));
    refused({ picture: temporaryFile(gif.subarray(0, 30), 'cut.gif') }, /cut off/);
    gif.set([0xff, 0xff, 0xff, 0xff], 6);
    refused({ picture: temporaryFile(gif, 'huge.gif') }, /million pixels/);
  });

  test('of more frames than the document holds', () => {
    const frames = Array.from({ length: 251 }, (_, i) => ({ width: 1, height: 1, pixels: [i % 2] }));
    refused(
      { picture: temporaryFile(gifOf(1, 1, [black, red], frames), 'long.gif') },
      /^--picture: expected at most 250 frames/,
    );
  });

  test('of a show that has no room for another row', () => {
    const full = project((copy) => {
      copy.lampshows[0]!.rows = Array.from({ length: 16 }, (_, r) => ({ id: `row-${r}`, clips: [] }));
    });
    refused({}, /^\/lampshows\/0\/rows: /, full);
  });

  test('of a place that can not be written to', () => {
    refused({ out: '/nowhere/at-all/new.lamploom.json' }, /can be written to/);
    expect(existsSync('/nowhere')).toBe(false);
  });
});
