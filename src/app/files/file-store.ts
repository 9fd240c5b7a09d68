// The project as a file: opening, saving, and keeping a copy in the browser's store after every edit. Whatever is wrong with a file is told in
// words, and the project that was open stays open.
import {
  type Problem,
  type Project,
  problemLine,
  readProject,
  setArtwork,
  setPanelSize,
  sizeProblem,
  writeProject,
} from '../../project/index.ts';
import { Watched } from '../canvas/viewport.ts';
import type { Workbench } from '../workbench/workbench.ts';
import { type Artwork, artworkExtensions, artworkFrom, artworkTypes } from './artwork.ts';
import { type AsideProject, readAside, withAside } from './aside.ts';
import { newProject } from './new-project.ts';
import type { FilePorts, PickedFile, ProjectShelf, ShelfSlot } from './ports.ts';

export const projectExtension = '.lamploom.json';
const projectType = 'application/json';
/** After the last edit of a burst; short enough that a crash costs next to nothing. */
const shelfDelayMs = 150;
/** No screen helps anyone with more. */
const mostLines = 6;

export const fileNameOf = (name: string): string => {
  const plain = name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '');
  return `${plain === '' ? 'panel' : plain}${projectExtension}`;
};

export class FileStore {
  /** What was put aside, newest first. */
  readonly aside = new Watched<readonly AsideProject[]>([]);
  private readonly workbench: Workbench;
  private readonly ports: FilePorts;
  private readonly shelf: ProjectShelf;
  private handle: FileSystemFileHandle | undefined;
  /** As it came from a sample or from "New": leaving it loses nothing. */
  private untouched: Project | undefined;
  /** Counts the projects opened: an answer that comes late belongs to the one before. */
  private opened = 0;
  private callOff: (() => void) | undefined;
  private writing: Promise<void> = Promise.resolve();
  private asideRead: Promise<void> = Promise.resolve();

  constructor(workbench: Workbench, ports: FilePorts, shelf: ProjectShelf, isUntouched = true) {
    this.workbench = workbench;
    this.ports = ports;
    this.shelf = shelf;
    this.untouched = isUntouched ? workbench.project : undefined;
  }

  /** Keeps the browser's copy up to date from here on; returns how to stop. */
  watch(): () => void {
    const { store } = this.workbench;
    this.asideRead = this.shelf.read('aside').then(
      (text) => this.aside.set(readAside(text)),
      () => undefined,
    );
    return store.subscribe((state, before) => {
      if (state.history.project === before.history.project) return;
      this.callOff?.();
      this.callOff = this.workbench.ports.later(() => void this.keep(), shelfDelayMs);
    });
  }

  /** Writes the browser's copy now, if there is anything new. */
  async keep(): Promise<void> {
    this.callOff?.();
    this.callOff = undefined;
    const { project } = this.workbench;
    if (project === this.untouched || project === this.workbench.state.kept.browser) return;
    await this.shelve('current', writeProject(project));
    const { kept } = this.workbench.state;
    if (kept.browserFault === undefined) this.workbench.set({ kept: { ...kept, browser: project } });
  }

  /** A text that once was a project, or still is one, is kept for the builder. */
  async putAside(name: string, text: string): Promise<void> {
    await this.asideRead;
    const list = withAside(this.aside.current(), { name, on: this.ports.now(), text });
    this.aside.set(list);
    await this.shelve('aside', JSON.stringify(list));
  }

  /** `index` 0 is the project put aside last. */
  async bringBack(index = 0): Promise<void> {
    const one = this.aside.current()[index];
    if (!one) this.tell('No project was put aside in this browser.', []);
    else await this.openText(one.text, undefined, one.name);
  }

  async startNew(): Promise<void> {
    const project = newProject(this.ports.now());
    await this.begin(project, undefined);
    this.untouched = project;
    this.workbench.enter('panel');
  }

  async open(): Promise<void> {
    const file = await this.ports.pick('Lamploom project', ['.json'], [projectType]);
    if (!file) return;
    const tooLarge = sizeProblem(file.bytes.length);
    if (tooLarge) this.tellProblems(`${file.name} can't be opened`, [tooLarge]);
    else await this.openText(new TextDecoder().decode(file.bytes), file, file.name);
  }

  /** A sample of the page's own server. */
  async openUrl(url: string): Promise<void> {
    const text = await this.ports.fetchText(url);
    if (text === undefined) {
      this.tell('The sample did not come', ['Is the server still running?']);
      return;
    }
    await this.openText(text, undefined, 'The sample');
    this.untouched = this.workbench.project;
  }

  async save(): Promise<void> {
    await this.put(this.handle);
  }

  async saveAs(): Promise<void> {
    await this.put(undefined);
  }

  /** Hands the builder a file that isn't the project: an export. */
  async saveBytes(name: string, bytes: Uint8Array<ArrayBuffer>, mediaType: string): Promise<void> {
    await this.putOrTell({ name, bytes, handle: undefined }, mediaType);
  }

  async pickArtwork(): Promise<void> {
    const file = await this.ports.pick('Artwork', artworkExtensions, artworkTypes);
    if (!file) return;
    const artwork = await artworkFrom(file);
    if (artwork.ok) this.placeArtwork(artwork.value);
    else this.tellProblems(`${file.name} can't be used`, artwork.problems);
  }

  /** The panel keeps its width; its height follows the picture's shape. */
  private placeArtwork({ mediaType, base64, aspect }: Artwork): void {
    const { widthMm } = this.workbench.project.panel;
    this.workbench.edit('Place artwork', (draft) => {
      setArtwork({ mediaType, base64 })(draft);
      setPanelSize({ heightMm: Math.round((widthMm / aspect) * 10) / 10 })(draft);
    });
  }

  private async openText(text: string, file: PickedFile | undefined, name: string): Promise<void> {
    const read = readProject(text);
    if (read.ok) await this.begin(read.value, file);
    else this.tellProblems(`${name} can't be opened`, read.problems);
  }

  /** Puts the project that was open aside, unless it is safe elsewhere, and another one in its place. */
  private async begin(project: Project, file: PickedFile | undefined): Promise<void> {
    const left = this.workbench.project;
    const isSafe = left === this.untouched || left === this.workbench.state.kept.file?.project;
    const isAside = isSafe || this.putAside(left.name, writeProject(left));
    this.opened++;
    this.handle = file?.handle;
    this.untouched = undefined;
    const atMs = this.workbench.ports.nowMs();
    this.workbench.replace(project, file ? { file: { name: file.name, project, atMs } } : {});
    await isAside;
  }

  private async put(handle: FileSystemFileHandle | undefined): Promise<void> {
    const { opened } = this;
    const { kept } = this.workbench.state;
    const before = this.workbench.project;
    const savedOn = this.ports.now();
    const project = { ...before, savedOn };
    const put = await this.putOrTell(
      {
        name: kept.file?.name ?? fileNameOf(project.name),
        bytes: new TextEncoder().encode(writeProject(project)),
        handle,
      },
      projectType,
    );
    if (!put || opened !== this.opened) return;
    this.handle = put.handle;
    const isLatest = this.workbench.project === before;
    this.workbench.amend({ savedOn });
    // What was edited while the file was being written is not in it.
    const saved = isLatest ? this.workbench.project : project;
    this.workbench.set({
      kept: {
        ...this.workbench.state.kept,
        file: { name: put.name, project: saved, atMs: this.workbench.ports.nowMs() },
      },
    });
  }

  private async putOrTell(...args: Parameters<FilePorts['put']>): ReturnType<FilePorts['put']> {
    try {
      return await this.ports.put(...args);
    } catch (error) {
      this.tell(`${args[0].name} was not saved`, [error instanceof Error ? error.message : String(error)]);
      return undefined;
    }
  }

  private async shelve(slot: ShelfSlot, text: string): Promise<void> {
    const write = this.writing.then(() => this.shelf.write(slot, text));
    this.writing = write.catch((error: unknown) => {
      const browserFault = error instanceof Error ? error.message : String(error);
      this.workbench.set({ kept: { ...this.workbench.state.kept, browserFault } });
    });
    await this.writing;
  }

  private tell(title: string, lines: readonly string[]): void {
    this.workbench.set({ message: { title, lines } });
  }

  private tellProblems(title: string, problems: readonly Problem[]): void {
    const lines = problems.slice(0, mostLines).map(problemLine);
    const more = problems.length - lines.length;
    this.tell(title, more > 0 ? [...lines, `And ${more} more.`] : lines);
  }
}
