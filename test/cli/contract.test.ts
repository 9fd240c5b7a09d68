// The command line's contract: exit statuses, what stands on which stream, and the shape of what --json prints.
import { execFileSync, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, lstatSync, readFileSync, statSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv } from 'ajv';
import { beforeAll, describe, expect, test } from 'vitest';
import { type Project, writeProject } from '../../src/project/index.ts';
import { lamploom, type Outcome, temporaryFile, temporaryFolder } from '../support/command-line.ts';
import { loadPlayer, root, sample, sampleText } from '../support/lamploom.ts';

const carnival = 'samples/midnight-carnival.lamploom.json';
const project = sample('midnight-carnival');
const changed = (change: (project: Project) => void): string => {
  const copy = structuredClone(project);
  change(copy);
  return temporaryFile(writeProject(copy));
};

/** Status 2: nothing on stdout, one line a fault on stderr, no trace of our own code. */
function expectUnusable(outcome: Outcome, ...lines: readonly RegExp[]): void {
  expect(outcome.status).toBe(2);
  expect(outcome.stdout).toBe('');
  const printed = outcome.stderr.trimEnd().split('\n');
  expect(printed).toHaveLength(lines.length);
  for (const [i, line] of lines.entries()) expect(printed[i]).toMatch(line);
  expect(outcome.stderr).not.toMatch(/\bat .+:\d+:\d+|Error:|node:internal/);
}

beforeAll(() => {
  // The first call builds the command line; it must not spend a test's time.
  expect(lamploom('schema').status).toBe(0);
});

test('who stops reading early hears no complaint', () => {
  // The schema is far longer than a pipe holds, so the rest finds its reader gone.
  const { stdout, stderr } = spawnSync(
    'sh',
    [
      '-c',
      'node src/cli/launch.mjs schema | head -n 1; node src/cli/launch.mjs frames "$0" --show attract --json | head -c 1',
      carnival,
    ],
    { cwd: root, encoding: 'utf8', timeout: 60_000 },
  );
  expect(stdout.startsWith('{\n{')).toBe(true);
  expect(stderr).toBe('');
});

describe('[CLI1] status 0: done', () => {
  test('check prints counts and findings', () => {
    const { status, stdout } = lamploom('check', carnival, '--json');
    expect(status).toBe(0);
    const report = JSON.parse(stdout);
    expect(Object.keys(report)).toEqual(['ledCount', 'runCount', 'findings']);
    expect(report.ledCount).toBe(project.runs.reduce((sum, run) => sum + run.ledCount, 0));
    expect(report.runCount).toBe(project.runs.length);
    for (const finding of report.findings)
      expect(Object.keys(finding).sort()).toEqual(['at', 'code', 'mend', 'message', 'severity']);
  });

  test('frames writes what the player says, and describes it', async () => {
    const out = join(temporaryFolder(), 'frames.bin');
    const { status, stdout } = lamploom(
      'frames',
      carnival,
      '--show',
      'jackpot',
      '--from',
      '7',
      '--count',
      '5',
      '--out',
      out,
      '--json',
    );
    expect(status).toBe(0);
    const report = JSON.parse(stdout);
    const ledCount = project.runs.reduce((sum, run) => sum + run.ledCount, 0);
    expect(report).toMatchObject({ lampshow: 'jackpot', from: 7, count: 5, bytesPerFrame: 3 * ledCount });
    expect(report.lines).toEqual([
      { pin: 6, ledCount, bytesPerLed: Array.from({ length: ledCount }, () => 3) },
    ]);
    expect(Number.isInteger(report.frameMs)).toBe(true);
    const bytes = readFileSync(out);
    expect(bytes).toHaveLength(5 * 3 * ledCount);
    const { examine, templates } = await import('../support/lamploom.ts');
    const player = await loadPlayer();
    player.setShowData(examine(project, templates, 'jackpot').showData!);
    for (let i = 0; i < 5; i++)
      expect(
        bytes.subarray(i * 3 * ledCount, (i + 1) * 3 * ledCount).equals(player.frame('jackpot', 7 + i)),
      ).toBe(true);
  });

  test('frames counts the whole show where nothing is said', () => {
    const report = JSON.parse(lamploom('frames', carnival, '--show', 'attract', '--json').stdout);
    const lengthMs = project.lampshows.find((show) => show.id === 'attract')!.lengthMs;
    expect([report.from, report.count]).toEqual([0, Math.ceil(lengthMs / report.frameMs)]);
  });

  test('power prints every LED and every feed', () => {
    const { status, stdout } = lamploom('power', carnival, '--show', 'jackpot', '--json');
    expect(status).toBe(0);
    const report = JSON.parse(stdout);
    expect(Object.keys(report)).toEqual(['supply', 'worstCase', 'show', 'limitAmps', 'feeds', 'leds']);
    expect(report.leds).toHaveLength(project.runs.reduce((sum, run) => sum + run.ledCount, 0));
    expect(report.feeds.map((feed: { run: string }) => feed.run)).toEqual(
      project.power.feeds.map((feed) => feed.run),
    );
    expect(report.show.lampshow).toBe('jackpot');
    expect(report.show.peakAmps).toBeLessThanOrEqual(project.power.limitAmps!);
    expect(JSON.parse(lamploom('power', carnival, '--json').stdout).show).toBeNull();
  });

  test('schema prints a draft-07 schema that takes every sample and refuses a broken one', () => {
    const schema = JSON.parse(lamploom('schema').stdout);
    const validate = new Ajv({ strict: false }).compile(schema);
    for (const name of ['midnight-carnival', 'first-light', 'deep-sea'] as const) {
      const value = JSON.parse(sampleText(name));
      expect(validate(value)).toBe(true);
      expect(validate({ ...value, runs: 3 })).toBe(false);
    }
  });
});

describe('[CLI2] status 1: done, but the project has errors', () => {
  test.each<[string, (p: Project) => void, string, boolean]>([
    [
      'a run off the panel',
      (p) => {
        p.runs[0]!.firstLed = { xMm: -50, yMm: 10 };
      },
      'run-off-panel',
      true,
    ],
    [
      'no pin',
      (p) => {
        delete p.dataLines[0]!.pin;
      },
      'pin-missing',
      false,
    ],
    [
      'too large for the board',
      (p) => {
        p.runs.push({ ...p.runs[0]!, id: 'big', ledCount: 300 });
        p.dataLines[0]!.chain.push({ run: 'big' });
      },
      'sram-too-small',
      false,
    ],
    [
      'voltage too low',
      (p) => {
        p.power.feeds = p.power.feeds.slice(0, 1);
        for (const link of p.dataLines[0]!.chain) delete link.jumper;
      },
      'voltage-too-low',
      true,
    ],
  ])(
    '%s: told by check, and export leaves out the firmware only where it would be untrue',
    (_name, change, code, firmware) => {
      const file = changed(change);
      const check = lamploom('check', file, '--json');
      expect(check.status).toBe(1);
      const findings: { severity: string; code: string }[] = JSON.parse(check.stdout).findings;
      expect(
        findings.filter((finding) => finding.severity === 'error').map((finding) => finding.code),
      ).toContain(code);
      const out = join(temporaryFolder(), 'export');
      const exported = lamploom('export', file, '--out', out);
      expect(exported.status).toBe(1);
      expect(exported.stderr).not.toMatch(/\bat .+:\d+:\d+/);
      expect(existsSync(join(out, 'firmware/atmega328p-old.hex'))).toBe(firmware);
      expect(existsSync(join(out, 'sketch'))).toBe(firmware);
      expect(existsSync(join(out, 'report.json'))).toBe(true);
    },
  );

  test('frames and power do their work all the same', () => {
    const file = changed((p) => {
      delete p.dataLines[0]!.pin;
    });
    const frames = lamploom('frames', file, '--show', 'attract', '--count', '1', '--json');
    expect(frames.status).toBe(1);
    expect(JSON.parse(frames.stdout).lines[0].pin).toBeNull();
    const power = lamploom('power', file, '--json');
    expect(power.status).toBe(1);
    expect(JSON.parse(power.stdout).leds.length).toBeGreaterThan(0);
  });
});

describe('[CLI3] status 2: unusable input, a line a fault, nothing written', () => {
  test('truncated', () => {
    const text = sampleText('first-light');
    const cut = (length: number) => temporaryFile(text.slice(0, length));
    expectUnusable(lamploom('check', cut(text.length - 3), '--json'), /expected JSON text.*at its end/);
    expectUnusable(lamploom('check', cut(text.length / 2), '--json'), /expected JSON text/);
  });
  test('mistyped, twice', () => {
    const file = temporaryFile(JSON.stringify({ ...project, name: 7, savedOn: 'yesterday' }));
    expectUnusable(
      lamploom('check', file),
      /^\/name: expected a text in quotes, found 7/,
      /^\/savedOn: expected a text of the form/,
    );
  });
  test('unknown version', () => {
    expectUnusable(
      lamploom('check', temporaryFile(JSON.stringify({ ...project, version: 2 }))),
      /^\/version: expected version 1, found 2/,
    );
  });
  test('unknown id in the file', () => {
    expectUnusable(
      lamploom(
        'power',
        changed((p) => {
          p.attractMode = 'none';
        }),
      ),
      /^\/attractMode: expected the id of a lampshow.*"none"/,
    );
  });
  test('cyclic chain', () => {
    const file = changed((p) => {
      p.dataLines[0]!.chain.push({ run: p.runs[0]!.id });
    });
    expectUnusable(
      lamploom('check', file),
      /^\/dataLines\/0\/chain\/18\/run: expected a run that no chain has passed yet/,
    );
  });
  test('50 MB of nested arrays', () => {
    expectUnusable(
      lamploom('check', temporaryFile('['.repeat(50 * 1024 * 1024))),
      /expected a file of at most 20\.0 MiB, found 50\.0 MiB/,
    );
  });
  test('bytes that are no text', () => {
    expectUnusable(
      lamploom('check', temporaryFile(Uint8Array.from([0xff, 0xfe, 0x00, 0x80]))),
      /expected UTF-8 text/,
    );
  });
  test.each<[string, string[], RegExp]>([
    [
      'no such file',
      ['check', 'nowhere.lamploom.json'],
      /nowhere\.lamploom\.json: expected a readable project file, found no such file/,
    ],
    ['a folder', ['check', 'samples'], /found a folder/],
    ['an unknown option', ['check', carnival, '--jsno'], /Unknown option '--jsno'/],
    [
      'an option twice',
      ['frames', carnival, '--show', 'attract', '--show', 'tilt'],
      /^--show: expected each option once/,
    ],
    ['two files', ['check', carnival, carnival], /expected one project file, found 2/],
    ['no show', ['frames', carnival], /^--show: expected the id of a lampshow, found none/],
    ['an unknown show', ['frames', carnival, '--show', 'waltz'], /^--show: .* found "waltz"/],
    [
      'an unknown show to start with',
      ['export', carnival, '--out', 'x', '--start', 'waltz'],
      /^--start: .* found "waltz"/,
    ],
    [
      'a count of nothing',
      ['frames', carnival, '--show', 'attract', '--count', '0'],
      /^--count: expected a whole number from 1/,
    ],
    [
      'a count that is no number',
      ['frames', carnival, '--show', 'attract', '--count', '1e3'],
      /^--count: .* found "1e3"/,
    ],
    [
      'a game event that the project has not',
      ['frames', carnival, '--show', 'attract', '--events', '3:waltz'],
      /^--events: expected the id of a game event, found "waltz"/,
    ],
    ['no folder for the export', ['export', carnival], /^--out: expected a value/],
  ])('%s', (_name, args, line) => {
    expectUnusable(lamploom(...args), line);
  });
  test('an unknown command tells the known ones', () => {
    const { status, stdout, stderr } = lamploom('illuminate');
    expect([status, stdout]).toEqual([2, '']);
    for (const name of ['check', 'frames', 'power', 'paint', 'export', 'schema'])
      expect(stderr).toContain(name);
  });
});

describe('[CLI5] where frames are written', () => {
  const frames = (out: string) =>
    lamploom('frames', carnival, '--show', 'attract', '--count', '2', '--out', out, '--json');

  test('an empty name, a folder, and a file taken for a folder are refused in one line', () => {
    const file = temporaryFile('keep me', 'notes.txt');
    expectUnusable(frames(''), /^--out: expected a value/);
    expectUnusable(frames(temporaryFolder()), /expected a place that can be written to/);
    expectUnusable(frames(join(file, 'x')), /expected a place that can be written to/);
    expect(readFileSync(file, 'utf8')).toBe('keep me');
  });

  test.skipIf(process.getuid?.() !== 0)('a device stays a device, and a full one is told', () => {
    // Devices of this test's own: 1, 3 takes everything, 1, 7 is always full.
    const folder = temporaryFolder();
    const device = (name: string, minor: number) => {
      execFileSync('mknod', [join(folder, name), 'c', '1', String(minor)]);
      return join(folder, name);
    };
    const [sink, full] = [device('sink', 3), device('full', 7)];
    expect(frames(sink).status).toBe(0);
    expectUnusable(frames(full), /expected a place that can be written to, found an error \(ENOSPC\)/);
    for (const path of [sink, full]) expect(statSync(path).isCharacterDevice()).toBe(true);
  });

  test('through a link, the file that it names is written', () => {
    const file = temporaryFile('old', 'frames.bin');
    const link = join(temporaryFolder(), 'link');
    symlinkSync(file, link);
    expect(frames(link).status).toBe(0);
    expect(lstatSync(link).isSymbolicLink()).toBe(true);
    expect(statSync(file).size).toBe(2 * 3 * 284);
  });
});

test('[CLI6] a fault is one line even where the file holds line ends in a key', () => {
  const text = JSON.stringify(project).replace('"name"', '"na\\nme\\u001b"');
  const { status, stderr } = lamploom('check', temporaryFile(text));
  expect(status).toBe(2);
  for (const line of stderr.trimEnd().split('\n')) expect(line).toMatch(/: expected .*, found .*\./);
  // biome-ignore lint/suspicious/noControlCharactersInRegex: none may come through
  expect(stderr).not.toMatch(/[\u0000-\u0009\u000b-\u001f]/);
});

test('[CLI4] the same input gives the same bytes', () => {
  const hashOf = () => {
    const out = join(temporaryFolder(), 'export');
    lamploom('export', 'samples/first-light.lamploom.json', '--out', out);
    const report = readFileSync(join(out, 'report.json'), 'utf8');
    for (const { path, sha256 } of JSON.parse(report).files)
      expect(
        createHash('sha256')
          .update(readFileSync(join(out, path)))
          .digest('hex'),
      ).toBe(sha256);
    return report;
  };
  expect(hashOf()).toBe(hashOf());
});
