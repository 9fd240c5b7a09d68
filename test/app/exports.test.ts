// What the page gives away is what the command line writes: the same files with the same bytes, the build sheet written once for them.
import { expect, test } from 'vitest';
import { exportPlan, mediaTypes } from '../../src/app/files/exports.ts';
import type { WriteSheet } from '../../src/workshop/build-sheet-pdf.ts';
import { planExport } from '../../src/workshop/index.ts';
import { exportTools, sample, templates } from '../support/lamploom.ts';

test('[EXP4] the page exports the same bytes as the command line', async () => {
  const project = sample('first-light');
  let written = 0;
  const counted: WriteSheet = (sheet) => {
    written++;
    return exportTools.writeSheet(sheet);
  };
  const { files, report } = await exportPlan(project, templates, counted);
  const expected = planExport(project, templates, exportTools);
  expect(written).toBe(1);
  expect(report).toEqual(expected.report);
  expect([...files.keys()]).toEqual([...expected.files.keys()]);
  for (const [path, bytes] of expected.files) expect(Buffer.compare(bytes, files.get(path)!), path).toBe(0);
  expect(report.files.map(({ path }) => path)).toContain('build-sheet.pdf');
  expect(mediaTypes['pdf']).toBe('application/pdf');
});
