// A workbench without a browser: the real player and templates, a clock that stands until it is moved, and recording fakes of files and shelf.

import { Viewport } from '../../src/app/canvas/viewport.ts';
import { FileStore } from '../../src/app/files/file-store.ts';
import type { FilePorts, PickedFile, ProjectShelf, ShelfSlot } from '../../src/app/files/ports.ts';
import { Commander } from '../../src/app/workbench/commander.ts';
import { Workbench } from '../../src/app/workbench/workbench.ts';
import { type Project, writeProject } from '../../src/project/index.ts';
import { loadPlayer, templates } from '../support/lamploom.ts';

export interface PutFile {
  readonly name: string;
  readonly text: string;
  readonly mediaType: string;
  readonly handle: FileSystemFileHandle | undefined;
}

export class FakeFiles implements FilePorts {
  /** What the builder picks next; undefined: thinks better of it. */
  next: PickedFile | undefined;
  served: ReadonlyMap<string, string> = new Map();
  readonly written: PutFile[] = [];
  /** The builder closes the dialogue. */
  isCalledOff = false;
  /** Why nothing can be written. */
  putFault: string | undefined;
  /** Happens while a file is being written. */
  meanwhile: (() => void) | undefined;

  readonly pick: FilePorts['pick'] = async () => this.next;
  readonly put: FilePorts['put'] = async ({ name, bytes, handle }, mediaType) => {
    if (this.isCalledOff) return undefined;
    if (this.putFault !== undefined) throw new Error(this.putFault);
    this.written.push({ name, text: new TextDecoder().decode(bytes), mediaType, handle });
    this.meanwhile?.();
    return { name, handle };
  };
  readonly fetchText: FilePorts['fetchText'] = async (url) => this.served.get(url);
  readonly now = () => '2031-02-03T04:05:06Z';
}

export class FakeShelf implements ProjectShelf {
  readonly texts = new Map<ShelfSlot, string>();
  fault: string | undefined;

  readonly read: ProjectShelf['read'] = async (slot) => this.texts.get(slot);
  readonly write: ProjectShelf['write'] = async (slot, text) => {
    if (this.fault !== undefined) throw new Error(this.fault);
    this.texts.set(slot, text);
  };
}

/** Time that passes only when told to. */
export class FakeClock {
  ms = 0;
  private readonly waiting: { readonly atMs: number; readonly run: () => void }[] = [];

  readonly later = (run: () => void, delayMs: number): (() => void) => {
    const one = { atMs: this.ms + delayMs, run };
    this.waiting.push(one);
    return () => {
      const at = this.waiting.indexOf(one);
      if (at >= 0) this.waiting.splice(at, 1);
    };
  };

  pass(ms: number): void {
    this.ms += ms;
    for (const one of this.waiting.filter(({ atMs }) => atMs <= this.ms)) {
      this.waiting.splice(this.waiting.indexOf(one), 1);
      one.run();
    }
  }
}

/** `isUntouched`: the project is as it came from a sample, so that leaving it loses nothing. */
export async function benchFor(project: Project, isUntouched = true) {
  const clock = new FakeClock();
  const player = await loadPlayer();
  const workbench = new Workbench(
    project,
    { templates, player, nowMs: () => clock.ms, later: clock.later },
    { playing: false },
  );
  const files = new FakeFiles();
  const shelf = new FakeShelf();
  const store = new FileStore(workbench, files, shelf, isUntouched);
  const viewport = new Viewport();
  const commander = new Commander({ workbench, viewport, files: store });
  return { workbench, commander, viewport, files, shelf, store, clock };
}

export const textOf = (workbench: Workbench): string => writeProject(workbench.project);
