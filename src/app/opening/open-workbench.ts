// Brings the workbench up: loads the player, and the project that was worked on last in this browser, else the sample. Whatever stands in the
// way comes back as problems in words; nothing is thrown for bad input.
import { Player } from '../../lampshow/index.ts';
import { failed, ok, type Project, type Result, readProject } from '../../project/index.ts';
import { Viewport } from '../canvas/viewport.ts';
import { FileStore } from '../files/file-store.ts';
import type { FilePorts, ProjectShelf } from '../files/ports.ts';
import { framesOfShow } from '../playback/frames.ts';
import { Commander } from '../workbench/commander.ts';
import type { Tools } from '../workbench/context.ts';
import { Workbench } from '../workbench/workbench.ts';
import { firmwareTemplates } from './firmware-templates.ts';
import { watchOtherTabs } from './other-tabs.ts';

/** A file that belongs to the page didn't arrive as it should. */
const notLoaded = (at: string, expected: string, found: string): Result<never> =>
  failed([
    {
      code: 'not-loaded',
      at,
      expected,
      found,
      mend: 'Reload the page. If that does not help, stop the server and run npm start again.',
    },
  ]);

async function fetched(url: string, what: string): Promise<Result<Response>> {
  try {
    const response = await fetch(url);
    return response.ok
      ? ok(response)
      : notLoaded(what, 'the file from the server', `status ${response.status}`);
  } catch {
    return notLoaded(what, 'the file from the server', 'no answer');
  }
}

async function loadPlayer(url: string): Promise<Result<Player>> {
  const response = await fetched(url, 'the player');
  if (!response.ok) return response;
  try {
    return ok(await Player.load(await response.value.arrayBuffer()));
  } catch {
    return notLoaded('the player', 'a WebAssembly program', 'something else');
  }
}

interface FirstProject {
  readonly project: Project;
  /** Whether it is the one that was worked on last. */
  readonly isKept: boolean;
  /** What was worked on last, where it can't be read. */
  readonly unreadable: string | undefined;
}

async function firstProject(sampleUrl: string, shelf: ProjectShelf): Promise<Result<FirstProject>> {
  const kept = await shelf.read('current').catch(() => undefined);
  if (kept !== undefined) {
    const read = readProject(kept);
    if (read.ok) return ok({ project: read.value, isKept: true, unreadable: undefined });
  }
  const file = await fetched(sampleUrl, 'the project file');
  if (!file.ok) return file;
  const read = readProject(await file.value.text());
  return read.ok ? ok({ project: read.value, isKept: false, unreadable: kept }) : read;
}

/** Where a still picture stands for someone who asked for less motion: far enough in for every row to have faded up. */
const stillShare = 1 / 3;

export async function openWorkbench(
  urls: { readonly sample: string; readonly player: string },
  files: FilePorts,
  shelf: ProjectShelf,
): Promise<Result<Tools>> {
  const [first, player] = await Promise.all([firstProject(urls.sample, shelf), loadPlayer(urls.player)]);
  if (!player.ok) return player;
  if (!first.ok) return first;
  const { project, isKept, unreadable } = first.value;
  const playing = !matchMedia('(prefers-reduced-motion: reduce)').matches;
  const workbench = new Workbench(
    project,
    {
      templates: firmwareTemplates,
      player: player.value,
      nowMs: () => performance.now(),
      later: (run, delayMs) => {
        const timer = setTimeout(run, delayMs);
        return () => clearTimeout(timer);
      },
    },
    {
      playing,
      kept: { file: undefined, browser: isKept ? project : undefined, browserFault: undefined },
    },
  );
  if (!playing) {
    const show = project.lampshows.find((one) => one.id === project.attractMode)!;
    const { frameMs } = workbench.state.compiled;
    workbench.playback.scrubTo(Math.floor(framesOfShow(show, frameMs) * stillShare));
  }
  const viewport = new Viewport();
  const store = new FileStore(workbench, files, shelf, !isKept);
  store.watch();
  if (unreadable !== undefined) {
    void store.putAside('a project that can’t be read', unreadable);
    workbench.set({
      message: {
        title: 'The project that was worked on last can’t be read',
        lines: ['Its text is put aside: it stays in the project’s menu.'],
      },
    });
  }
  watchOtherTabs(() =>
    workbench.set({
      message: {
        title: 'Lamploom is open in another tab as well',
        lines: [
          'Both keep their work in the same place: whoever edits last is kept. Save to files, or close one.',
        ],
      },
    }),
  );
  return ok({ workbench, commander: new Commander({ workbench, viewport, files: store }) });
}
