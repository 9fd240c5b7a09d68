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

  const aside = (shelf: { texts: ReadonlyMap<string, string> }): { name: string; text: string }[] =>
    JSON.parse(shelf.texts.get('aside') ?? '[]');

  test('undoing to the beginning, and a first drag that is called off, put nothing aside', async () => {
    const { workbench, store, shelf, clock } = await benchFor(first);
    store.watch();
    workbench.edit('Rename project', renameProject('Other'));
    workbench.undo();
    workbench.edit('Move run', moveRun(first.runs[0]!.id, 12.5, 40), 'drag');
    workbench.cancelGesture('drag');
    clock.pass(1000);
    await store.keep();
    expect(aside(shelf)).toEqual([]);
    expect(workbench.project).toEqual(first);
  });

  test('work that was brought up again after a reload is put aside when another project takes its place', async () => {
    const { workbench, store, shelf } = await benchFor(first, false);
    store.watch();
    await store.startNew();
    expect(aside(shelf).map(({ text }) => text)).toEqual([writeProject(first)]);
    await store.bringBack();
    expect(workbench.project).toEqual(first);
  });

  test('an untouched sample, and a project that is safe in its file, are not put aside', async () => {
    const { workbench, store, shelf } = await benchFor(first);
    store.watch();
    await store.startNew();
    expect(aside(shelf)).toEqual([]);
    workbench.edit('Rename project', renameProject('Mine'));
    await store.save();
    await store.startNew();
    expect(aside(shelf)).toEqual([]);
  });

  test('the last five are kept aside, the newest first', async () => {
    const { workbench, store, shelf } = await benchFor(first);
    store.watch();
    for (let number = 1; number <= 7; number++) {
      await store.startNew();
      workbench.edit('Rename project', renameProject(`Panel ${number}`));
    }
    await store.startNew();
    expect(aside(shelf).map(({ name }) => name)).toEqual([7, 6, 5, 4, 3].map((number) => `Panel ${number}`));
    await store.bringBack(2);
    expect(workbench.project.name).toBe('Panel 5');
  });

  test('a new project never goes into the file of the one before', async () => {
    const { workbench, files, store } = await benchFor(first);
    const handle = { name: 'precious' } as FileSystemFileHandle;
    files.next = { ...picked('precious.lamploom.json', sampleText('deep-sea')), handle };
    await store.open();
    await store.save();
    await store.startNew();
    await store.save();
    expect(files.written.map((file) => file.handle)).toEqual([handle, undefined]);
    expect(files.written[1]!.name).toBe('new-panel.lamploom.json');
    expect(workbench.state.kept.file!.name).toBe('new-panel.lamploom.json');
  });

  test('a file that can’t be written is told, and doesn’t count as saved', async () => {
    const { workbench, files, store } = await benchFor(first);
    files.putFault = 'the disk is full';
    await store.save();
    expect(workbench.state.message).toEqual({
      title: 'first-light.lamploom.json was not saved',
      lines: ['the disk is full'],
    });
    expect(workbench.state.kept.file).toBeUndefined();
  });

  test('what is edited while the file is being written doesn’t count as saved', async () => {
    const { workbench, files, store } = await benchFor(first);
    files.meanwhile = () => workbench.edit('Rename project', renameProject('Later'));
    await store.save();
    expect(JSON.parse(files.written[0]!.text).name).toBe(first.name);
    expect(workbench.project.name).toBe('Later');
    expect(workbench.state.kept.file!.project).not.toBe(workbench.project);
  });

  test('a project that was opened while the other was being written keeps its own file', async () => {
    const { workbench, files, store } = await benchFor(first);
    files.meanwhile = () => {
      files.meanwhile = undefined;
      void store.startNew();
    };
    await store.save();
    expect(workbench.project.name).toBe('New panel');
    expect(workbench.state.kept.file).toBeUndefined();
  });

  test('a browser that refuses to keep anything is told', async () => {
    const { workbench, store, shelf } = await benchFor(first);
    shelf.fault = 'storage is full';
    workbench.edit('Rename project', renameProject('Other'));
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
