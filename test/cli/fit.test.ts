// The fit command: the new project, what it prints, its exit statuses, and that nothing is written where it refuses.
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { readProject, writeProject } from '../../src/project/index.ts';
import {
  lamploom,
  lamploomIn,
  type Outcome,
  temporaryFile,
  temporaryFolder,
} from '../support/command-line.ts';
import { sheet } from '../support/drawings.ts';
import { sample, sampleText } from '../support/lamploom.ts';
import { projectOf } from '../support/projects.ts';

const pitch = 1000 / 60;
const samplePath = 'samples/midnight-carnival.lamploom.json';

const projectFile = (): string =>
  temporaryFile(
    writeProject(
      projectOf({
        panel: { widthMm: 600, heightMm: 300, airGapMm: 30, sheet: 'opal-pmma' },
        runs: [
          {
            id: 'row',
            firstLed: { xMm: 20 + pitch / 2, yMm: 50 },
            arrowDeg: 0,
            ledCount: 7,
            strip: 'ws2812b-60',
          },
        ],
        power: {
          supply: { volts: 5, amps: 10 },
          feeds: [{ run: 'row', led: 0, lengthMm: 300, wire: 'AWG 18', fuseAmps: 3 }],
        },
      }),
    ),
  );

function fitted(file: string, drawing: string, name = 'channels.svg'): Outcome & { readonly out: string } {
  const out = join(temporaryFolder(), 'new.lamploom.json');
  return { ...lamploom('fit', file, '--channels', temporaryFile(drawing, name), '--out', out), out };
}

const rect = (x: number, y: number, width: number, height = 11): string =>
  `<rect x="${x}" y="${y}" width="${width}" height="${height}"/>`;

describe('[CLIFIT1] what it does', () => {
  test('channels round the sample’s runs, as lines in a DXF: the same project and its channels', () => {
    const project = sample('midnight-carnival');
    const lines = project.runs.flatMap((run) => {
      const [dx, dy] = [Math.cos((run.arrowDeg * Math.PI) / 180), -Math.sin((run.arrowDeg * Math.PI) / 180)];
      const at = (led: number) => [
        run.firstLed.xMm + dx * pitch * led,
        300 - (run.firstLed.yMm + dy * pitch * led),
      ];
      const [[x1, y1], [x2, y2]] = [at(-0.5), at(run.ledCount - 0.5)] as [number[], number[]];
      return ['0', 'LINE', '8', 'channels', '10', x1, '20', y1, '11', x2, '21', y2];
    });
    const dxf = ['0', 'SECTION', '2', 'ENTITIES', ...lines, '0', 'ENDSEC', '0', 'EOF', ''].join('\n');
    const { status, stdout, stderr, out } = fitted(samplePath, dxf, 'CHANNELS.DXF');
    expect([status, stderr]).toEqual([0, '']);
    expect(stdout.match(/^channel-\d+: \d+ LEDs in run "[a-z]+[-0-9]*" \(kept\)/gm)).toHaveLength(18);
    expect(stdout).not.toContain('warning');
    const made = readProject(readFileSync(out, 'utf8'));
    if (!made.ok) throw new Error('unreadable');
    const { channels, ...rest } = made.value;
    expect(rest).toEqual(JSON.parse(sampleText('midnight-carnival')));
    expect(channels).toHaveLength(18);
  });

  test('one line a channel; a rest and lost LEDs are findings, and warnings keep the status 0', () => {
    const body = `<g id="channels">${rect(20, 44.5, 104.2)}${rect(200, 44.5, 4 * pitch)}</g>`;
    const { status, stdout, stderr, out } = fitted(projectFile(), sheet(body));
    expect([status, stderr]).toEqual([0, '']);
    expect(stdout.split('\n')).toEqual([
      'channel-1: 6 LEDs in run "row" (kept), 1 lost, 100.00 mm of 104.20 mm, 4.20 mm left over. 10 LEDs of 96 per metre would come out even.',
      'channel-2: 4 LEDs in run "run-1" (new), 66.67 mm of 66.67 mm, 0.00 mm left over.',
      'warning channel-lost-leds at /channels/0: Channel "channel-1" takes 6 LEDs; run "row" had 7, so it loses 1 LED. Cut the channel longer, or accept the shorter run.',
      'warning channel-misfit at /channels/0: Channel "channel-1" is 104.20 mm long: 6 LEDs leave 4.20 mm over, and 12.47 mm are missing to one piece more. Cut it to a whole number of LEDs; 10 LEDs of 96 per metre would come out even.',
      '',
    ]);
    const made = JSON.parse(readFileSync(out, 'utf8'));
    expect(made.dataLines).toEqual([{ pin: 6, chain: [{ run: 'row' }, { run: 'run-1' }] }]);
    // Centred: half of 4.2 mm on each side.
    expect(made.runs[0].firstLed.xMm).toBeCloseTo(20 + 2.1 + pitch / 2, 2);
    // `check` says the same of the new file.
    expect(lamploom('check', out).stdout).toContain('channel-misfit at /channels/0');
  });

  test('a project with errors is written all the same, and the status is 1', () => {
    const { status, stdout, out } = fitted(
      projectFile(),
      sheet(`<g id="channels">${rect(560, 44.5, 100)}</g>`),
    );
    expect(status).toBe(1);
    expect(stdout).toContain('error run-off-panel at /runs/1');
    expect(existsSync(out)).toBe(true);
    const narrow = fitted(projectFile(), sheet(`<g id="channels">${rect(20, 200, 100, 9)}</g>`));
    expect(narrow.status).toBe(1);
    expect(narrow.stdout).toContain("channel-1: no LEDs (narrower than the strip's board), 100.00 mm long.");
    expect(narrow.stdout).toContain('error channel-narrow at /channels/0');
  });

  test('what was taken for granted is told', () => {
    const { stdout } = fitted(
      projectFile(),
      `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 600 300">${rect(20, 44.5, 7 * pitch)}</svg>`,
    );
    expect(stdout).toContain('note: No unit in the drawing: 1 unit is taken as 1 mm.');
    expect(stdout).toContain('note: No layer or group "channels": all closed outlines and lines are taken.');
  });

  test('the project itself may be the target, and stays whole', () => {
    const file = projectFile();
    const drawing = temporaryFile(sheet(rect(20, 44.5, 7 * pitch)), 'a.svg');
    const { status } = lamploom('fit', file, '--channels', drawing, '--out', file);
    expect(status).toBe(0);
    expect(readProject(readFileSync(file, 'utf8')).ok).toBe(true);
    expect(readdirSync(dirname(file))).toHaveLength(1);
  });
});

describe('[CLIFIT2] what it refuses: status 2, one line, nothing written', () => {
  const good = sheet(rect(20, 44.5, 100));
  const cases: readonly (readonly [string, (drawing: string) => string[], RegExp])[] = [
    ['no drawing named', () => ['--out', 'new.json'], /^--channels: expected a value, found none\./],
    ['no target named', (drawing) => ['--channels', drawing], /^--out: expected a value, found none\./],
    [
      'a drawing that is not there',
      () => ['--channels', 'nowhere.svg', '--out', 'new.json'],
      /^--channels: expected a readable drawing/,
    ],
    ['a folder', () => ['--channels', '.', '--out', 'new.json'], /^--channels: expected a readable drawing/],
    [
      'another option',
      (drawing) => ['--channels', drawing, '--out', 'new.json', '--json'],
      /Unknown option '--json'/,
    ],
  ];
  test.each(cases)('%s', (_, args, line) => {
    const folder = temporaryFolder();
    const outcome = lamploomIn(folder, 'fit', projectFile(), ...args(temporaryFile(good, 'a.svg')));
    expect([outcome.status, outcome.stdout]).toEqual([2, '']);
    expect(outcome.stderr.trimEnd().split('\n')).toHaveLength(1);
    expect(outcome.stderr).toMatch(line);
    expect(readdirSync(folder)).toEqual([]);
  });
  test.each([
    [
      'no channels',
      'a.svg',
      sheet('<text>x</text>'),
      /^--channels: expected closed outlines, or straight middle lines, found none\./,
    ],
    ['another kind of file', 'a.png', good, /^a\.png: expected a file whose name ends in \.svg or \.dxf/],
    [
      'entities',
      'a.svg',
      `<!DOCTYPE svg [<!ENTITY a "b">]>${good.replace(/^<\?xml[^\n]*\n/, '')}`,
      /^a\.svg: expected a drawing without entities/,
    ],
    [
      '1e9',
      'a.svg',
      sheet('<line x2="1e9"/>'),
      /^a\.svg line 2: expected places within 100 m, found 1000000000, 0\./,
    ],
    ['rubbish', 'a.dxf', '\u0000\u0001'.repeat(50), /^a\.dxf/],
  ])('%s', (_, name, drawing, line) => {
    const { status, stdout, stderr, out } = fitted(projectFile(), drawing, name);
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr.trimEnd().split('\n')).toHaveLength(1);
    expect(stderr).toMatch(line);
    expect(existsSync(out)).toBe(false);
  });
  test('200 MB are refused by their size alone', () => {
    const path = temporaryFile('', 'huge.svg');
    writeFileSync(path, Buffer.alloc(200 * 1024 * 1024, 32));
    const started = performance.now();
    const out = join(temporaryFolder(), 'new.json');
    const outcome = lamploom('fit', projectFile(), '--channels', path, '--out', out);
    expect(outcome.status).toBe(2);
    expect(outcome.stderr).toBe(
      'huge.svg: expected a drawing of at most 20.0 MiB, found 200.0 MiB. Save a drawing that holds little besides the channels.\n',
    );
    expect(performance.now() - started).toBeLessThan(20_000);
    expect(existsSync(out)).toBe(false);
  });
  test('a target that can’t be written to', () => {
    const outcome = lamploom(
      'fit',
      projectFile(),
      '--channels',
      temporaryFile(good, 'a.svg'),
      '--out',
      '/proc/nowhere/new.json',
    );
    expect([outcome.status, outcome.stdout]).toEqual([2, '']);
    expect(outcome.stderr).toMatch(/expected a place that can be written to/);
  });
});
