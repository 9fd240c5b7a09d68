// Where an export goes: all of it or nothing, whatever happens; nothing of the builder's is lost.

import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  appendFileSync,
  cpSync,
  existsSync,
  lstatSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { inspectTarget } from '../../src/cli/earlier-export.ts';
import { writeFolderWhole } from '../../src/cli/files.ts';
import { lamploom, lamploomIn, startLamploom, temporaryFolder } from '../support/command-line.ts';
import { root } from '../support/lamploom.ts';

const file = 'samples/first-light.lamploom.json';
const exportTo = (out: string, ...more: string[]) => lamploom('export', file, '--out', out, ...more);

/** The folder's report if every file that it lists is there with its content and no other, else what is wrong. */
function wholeOrFault(out: string): string {
  const report = JSON.parse(readFileSync(join(out, 'report.json'), 'utf8')) as {
    start: string;
    files: { path: string; sha256: string }[];
  };
  for (const { path, sha256 } of report.files)
    if (
      createHash('sha256')
        .update(readFileSync(join(out, path)))
        .digest('hex') !== sha256
    )
      return `${path} is not what the report says`;
  const present = readdirSync(out, { recursive: true, withFileTypes: true }).filter((item) =>
    item.isFile(),
  ).length;
  return present === report.files.length + 1
    ? report.start
    : `${present} files instead of ${report.files.length + 1}`;
}
const leftovers = (parent: string) => readdirSync(parent).filter((name) => name.startsWith('.'));

describe('[EXP1] the target', () => {
  test('an absent folder, an empty one and an earlier export are written to', () => {
    const parent = temporaryFolder();
    const out = join(parent, 'export');
    expect(exportTo(out).status).toBe(0);
    expect(wholeOrFault(out)).toBe('attract');
    const other = JSON.parse(readFileSync(join(root, file), 'utf8')).lampshows[1].id;
    expect(exportTo(out, '--start', other).status).toBe(0);
    expect(wholeOrFault(out)).toBe(other);
    const empty = join(parent, 'empty');
    mkdirSync(empty);
    expect(exportTo(empty).status).toBe(0);
    expect(wholeOrFault(empty)).toBe('attract');
    expect(leftovers(parent)).toEqual([]);
  });

  test('a folder with other files is refused and left as it is', () => {
    const out = temporaryFolder();
    writeFileSync(join(out, 'holiday.txt'), 'sun');
    const { status, stderr } = exportTo(out);
    expect(status).toBe(2);
    expect(stderr).toMatch(/expected no folder, an empty one, or an earlier export/);
    expect(readdirSync(out)).toEqual(['holiday.txt']);
  });

  test('a file of the builder’s inside an earlier export, or a changed one, is not lost', () => {
    const out = join(temporaryFolder(), 'export');
    exportTo(out);
    writeFileSync(join(out, 'notes.txt'), 'remember');
    expect(exportTo(out).stderr).toMatch(/"notes\.txt", which no export wrote/);
    expect(readFileSync(join(out, 'notes.txt'), 'utf8')).toBe('remember');
    const again = join(temporaryFolder(), 'export');
    exportTo(again);
    const sketch = readdirSync(join(again, 'sketch'))[0]!;
    appendFileSync(join(again, 'sketch', sketch, `${sketch}.ino`), '// mine\n');
    const refused = exportTo(again);
    expect(refused.status).toBe(2);
    expect(refused.stderr).toMatch(/changed since the export/);
    expect(readFileSync(join(again, 'sketch', sketch, `${sketch}.ino`), 'utf8')).toMatch(/\/\/ mine\n$/);
  });

  test('the builder’s own code survives byte for byte, and the report knows it', () => {
    const out = join(temporaryFolder(), 'export');
    exportTo(out);
    const own = join(out, 'sketch', readdirSync(join(out, 'sketch'))[0]!, 'own-code.h');
    const code = Buffer.from([0x2f, 0x2f, 0x20, 0xe9, 0xff, 0x0a]);
    writeFileSync(own, code);
    expect(exportTo(out).status).toBe(0);
    expect(readFileSync(own).equals(code)).toBe(true);
    expect(wholeOrFault(out)).toBe('attract');
    expect(exportTo(out).status).toBe(0);
  });

  test('an empty name is no folder, least of all the one that one stands in', () => {
    const here = temporaryFolder();
    writeFileSync(join(here, 'letter.txt'), 'dear');
    for (const nothing of ['', ' ']) {
      const { status, stderr } = lamploomIn(here, 'export', join(root, file), '--out', nothing);
      expect(status).toBe(2);
      expect(stderr).toMatch(/^--out: expected a value/);
      expect(readdirSync(here)).toEqual(['letter.txt']);
    }
  });

  test('a folder is taken for an export only by its report, however it is named', () => {
    const home = temporaryFolder();
    writeFileSync(join(home, 'letter.txt'), 'dear');
    const link = join(temporaryFolder(), 'link');
    symlinkSync(home, link);
    for (const name of [home, `${home}/`, `${home}/.`, link, '/']) {
      expect(exportTo(name).status).toBe(2);
      expect(readdirSync(home)).toEqual(['letter.txt']);
    }
  });

  test('through a link, the folder that it names is written', () => {
    const home = join(temporaryFolder(), 'home');
    mkdirSync(home);
    const link = join(temporaryFolder(), 'link');
    symlinkSync(home, link);
    for (const _again of [1, 2]) expect(exportTo(link).status).toBe(0);
    expect(wholeOrFault(home)).toBe('attract');
    expect(lstatSync(link).isSymbolicLink()).toBe(true);
  });

  test('a file that comes to stand in an earlier export while it is being replaced is not removed with it', () => {
    const target = join(temporaryFolder(), 'export');
    exportTo(target);
    const earlier = inspectTarget(target)!;
    writeFileSync(join(target, 'late.txt'), 'just now');
    writeFolderWhole(target, new Map([['report.json', Buffer.from('{}')]]), earlier.files);
    expect(readdirSync(target)).toEqual(['report.json']);
    const kept = leftovers(join(target, '..'));
    expect(kept).toHaveLength(1);
    expect(readFileSync(join(target, '..', kept[0]!, 'late.txt'), 'utf8')).toBe('just now');
  });

  test('a place that can not be written to is one line', () => {
    const { status, stderr } = exportTo('/proc/nowhere/export');
    expect(status).toBe(2);
    expect(stderr.trimEnd().split('\n')).toHaveLength(1);
    expect(stderr).toMatch(/expected a place that can be written to/);
  });
});

describe('[EXP2] killed at any moment', () => {
  test('there is no folder or a whole one, and the next call is not disturbed', {
    timeout: 180_000,
  }, async () => {
    const parent = temporaryFolder();
    const out = join(parent, 'export');
    // What the first call works out is kept for the others.
    exportTo(out);
    const started = performance.now();
    exportTo(out);
    const usualMs = performance.now() - started;
    const attempts = 40;
    let killed = 0;
    for (let i = 0; i < attempts; i++) {
      const { child, ended } = startLamploom(root, 'export', file, '--out', out);
      // The writing happens in the last part of the call; a little longer than usual, so that it is never missed.
      const timer = setTimeout(() => child.kill('SIGKILL'), usualMs * (0.55 + (0.6 * i) / attempts));
      const { status } = await ended;
      clearTimeout(timer);
      if (status === null) killed++;
      if (existsSync(out)) expect(wholeOrFault(out)).toBe('attract');
    }
    expect(killed).toBeGreaterThan(5);
    expect(exportTo(out).status).toBe(0);
    expect(wholeOrFault(out)).toBe('attract');
    expect(leftovers(parent)).toEqual([]);
  });
});

test('[EXP3] two calls started at once on a fresh clone both succeed', { timeout: 120_000 }, async () => {
  const clone = join(temporaryFolder(), 'clone');
  const files = execFileSync('git', ['ls-files', '--cached', '--others', '--exclude-standard'], {
    cwd: root,
    encoding: 'utf8',
  });
  for (const path of files.split('\n').filter((name) => name !== '' && existsSync(join(root, name))))
    cpSync(join(root, path), join(clone, path));
  symlinkSync(join(root, 'node_modules'), join(clone, 'node_modules'));
  const calls = [
    startLamploom(clone, 'check', file, '--json'),
    startLamploom(clone, 'frames', file, '--show', 'attract', '--json'),
  ];
  for (const { ended } of calls) {
    const { status, stdout, stderr } = await ended;
    expect([status, stderr]).toEqual([0, '']);
    expect(() => JSON.parse(stdout)).not.toThrow();
  }
});
