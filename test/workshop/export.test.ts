// The export's plan: which files it holds in which case, that the report lists them all, and same input, same bytes.
import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { edited, type Project, setPin, startHistory } from '../../src/project/index.ts';
import { planExport } from '../../src/workshop/index.ts';
import { exportTools, sample, samples, templates } from '../support/lamploom.ts';
import { projectOf } from '../support/projects.ts';

const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');
const plan = (project: Project) => planExport(project, templates, exportTools);
const workshop = ['workshop/backing.svg', 'workshop/cut-list.csv', 'workshop/wire-list.csv'];

describe('[WRK10] the export', () => {
  test.each(samples)(
    '%s holds firmware, sketch, workshop files, build sheet and a report that lists them',
    (name) => {
      const { files, report } = plan(sample(name));
      const paths = [...files.keys()];
      expect(paths.at(-1)).toBe('report.json');
      expect(paths.filter((path) => path.startsWith('workshop/'))).toEqual(workshop);
      expect(paths).toContain('build-sheet.pdf');
      expect(paths.some((path) => path.startsWith('firmware/'))).toBe(true);
      expect(paths.some((path) => path.startsWith('sketch/'))).toBe(true);
      expect(report.files).toEqual(
        paths.slice(0, -1).map((path) => ({ path, sha256: sha256(files.get(path)!) })),
      );
      expect(report.files.map((file) => file.path)).toEqual(report.files.map((file) => file.path).sort());
      expect(JSON.parse(new TextDecoder().decode(files.get('report.json')))).toEqual(report);
    },
  );

  test('an error of the firmware keeps no wood from being cut', () => {
    const { files, report } = plan(edited(startHistory(sample('first-light')), 'pin', setPin(0, 42)).project);
    expect(report.findings.map((finding) => finding.code)).toContain('pin-unknown');
    expect([...files.keys()]).toEqual(['build-sheet.pdf', ...workshop, 'report.json']);
  });

  test('a project without runs has nothing to cut, and a sheet all the same', () => {
    const { files } = plan(projectOf({ runs: [], dataLines: [] }));
    expect([...files.keys()]).toEqual(['build-sheet.pdf', 'report.json']);
  });

  test('the same project gives the same bytes', () => {
    const [once, again] = [plan(sample('first-light')), plan(sample('first-light'))];
    expect([...once.files].map(([path, bytes]) => [path, sha256(bytes)])).toEqual(
      [...again.files].map(([path, bytes]) => [path, sha256(bytes)]),
    );
  });
});
