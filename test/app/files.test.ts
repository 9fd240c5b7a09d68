// The project as a file, with fakes for the outside: what is opened, saved, kept in the browser, and told where it can't be.
import { describe, expect, test } from 'vitest';
import { fileNameOf } from '../../src/app/files/file-store.ts';
import { newProject } from '../../src/app/files/new-project.ts';
import { checkProject, moveRun, readProject, renameProject, writeProject } from '../../src/project/index.ts';
import { sample, sampleText } from '../support/lamploom.ts';
import { benchFor, textOf } from './bench.ts';

const first = sample('first-light');
const picked = (name: string, text: string) => ({
  name,
  bytes: new Uint8Array(new TextEncoder().encode(text)),
  handle: undefined,
});

describe('files', () => {
  test('what is saved is read back as the document, with the day of saving', async () => {
    const { workbench, files, store } = await benchFor(first);
    workbench.edit('Move run', moveRun(first.runs[0]!.id, 12.5, 40));
    await store.save();
    const [written] = files.written;
    expect(written).toMatchObject({ name: 'first-light.lamploom.json', mediaType: 'application/json' });
    expect(written!.text).toBe(textOf(workbench));
    expect(readProject(written!.text)).toEqual({ ok: true, value: workbench.project });
    expect(workbench.project.savedOn).toBe('2031-02-03T04:05:06Z');
    expect(workbench.state.kept.file).toMatchObject({ name: 'first-light.lamploom.json' });
    expect(workbench.state.kept.file!.project).toBe(workbench.project);
  });

  test('saving is no step back, and what was done before can still be undone', async () => {
    const { workbench, store } = await benchFor(first);
    workbench.edit('Move run', moveRun(first.runs[0]!.id, 12.5, 40));
    await store.save();
    expect(workbench.state.history.past).toHaveLength(1);
    workbench.undo();
    expect(workbench.project).toEqual({ ...first, savedOn: '2031-02-03T04:05:06Z' });
  });

  test('a saving that is called off changes nothing', async () => {
    const { workbench, files, store } = await benchFor(first);
    files.isCalledOff = true;
    await store.save();
    expect(workbench.project).toBe(first);
    expect(workbench.state.kept.file).toBeUndefined();
  });

  test('a file that is no project is told in words, and the open project stays', async () => {
    const { workbench, files, store } = await benchFor(first);
    files.next = picked('broken.lamploom.json', sampleText('deep-sea').slice(0, 4000));
    await store.open();
    expect(workbench.project).toBe(first);
    expect(workbench.state.message!.title).toContain('broken.lamploom.json');
    expect(workbench.state.message!.lines[0]).toMatch(/expected JSON text, found text that stops being JSON/);
  });

  test('a file is opened in the place of the project before, which can be brought back', async () => {
    const { workbench, files, store, clock } = await benchFor(first);
    store.watch();
    workbench.edit('Move run', moveRun(first.runs[0]!.id, 12.5, 40));
    const edited = textOf(workbench);
    files.next = picked('deep.lamploom.json', sampleText('deep-sea'));
    await store.open();
    expect(workbench.project).toEqual(sample('deep-sea'));
    expect(workbench.playback.current().show).toBe(sample('deep-sea').attractMode);
    clock.pass(1000);
    await store.bringBack();
    expect(textOf(workbench)).toBe(edited);
  });

  test('every edit is kept in the browser, the last of a burst once', async () => {
    const { workbench, store, shelf, clock } = await benchFor(first);
    store.watch();
    for (const xMm of [10, 11, 12]) workbench.edit('Move run', moveRun(first.runs[0]!.id, xMm, 40), 'drag');
    expect(shelf.texts.size).toBe(0);
    clock.pass(1000);
    await expect.poll(() => shelf.texts.get('current')).toBe(textOf(workbench));
    await expect.poll(() => workbench.state.kept.browser).toBe(workbench.project);
  });

  test('undoing back to the beginning is no other project: nothing is put aside', async () => {
    const { workbench, store, shelf, clock } = await benchFor(first);
    store.watch();
    workbench.edit('Rename project', renameProject('Other'));
    workbench.undo();
    clock.pass(1000);
    await expect.poll(() => shelf.texts.get('current')).toBe(writeProject(first));
    expect(shelf.texts.has('previous')).toBe(false);
  });

  test('a browser that refuses to keep anything is told', async () => {
    const { workbench, store, shelf } = await benchFor(first);
    shelf.fault = 'storage is full';
    await store.keep();
    expect(workbench.state.kept.browserFault).toBe('storage is full');
  });

  test('a new project is a sound one without runs', () => {
    const project = newProject('2031-02-03');
    expect(checkProject(project)).toEqual({ ok: true, value: project });
    expect(project.runs).toEqual([]);
  });

  test.each([
    ['Midnight Carnival', 'midnight-carnival.lamploom.json'],
    ['Fête d’été 2', 'fete-d-ete-2.lamploom.json'],
    ['***', 'panel.lamploom.json'],
  ])('%s is saved as %s', (name, file) => {
    expect(fileNameOf(name)).toBe(file);
  });
});
