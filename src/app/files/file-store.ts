// The project as a file: opening, saving, and keeping a copy in the browser's store after every edit. Whatever is wrong with a file is told in
// words, and the project that was open stays open.
import {
  type Problem,
  problemLine,
  readProject,
  setArtwork,
  setPanelSize,
  sizeProblem,
  writeProject,
} from '../../project/index.ts';
import type { Workbench } from '../workbench/workbench.ts';
import { type Artwork, artworkExtensions, artworkFrom, artworkTypes } from './artwork.ts';
import type { FilePorts, PickedFile, ProjectShelf } from './ports.ts';

export const projectExtension = '.lamploom.json';
const projectType = 'application/json';
/** After the last edit of a burst; short enough that a crash costs next to nothing. */
const shelfDelayMs = 400;
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
  private readonly workbench: Workbench;
  private readonly ports: FilePorts;
  private readonly shelf: ProjectShelf;
  private handle: FileSystemFileHandle | undefined;
  private callOff: (() => void) | undefined;
  private writing: Promise<void> = Promise.resolve();

  constructor(workbench: Workbench, ports: FilePorts, shelf: ProjectShelf) {
    this.workbench = workbench;
    this.ports = ports;
    this.shelf = shelf;
  }

  today(): string {
    return this.ports.now();
  }

  /** Keeps the browser's copy up to date from here on; returns how to stop. */
  watch(): () => void {
    const { store } = this.workbench;
    return store.subscribe((state, before) => {
      if (state.history.project === before.history.project) return;
      const isReplaced = state.history.past.length === 0 && state.history.future.length === 0;
      if (isReplaced && before.history.past.length > 0)
        void this.shelve('previous', writeProject(before.history.project));
      this.callOff?.();
      this.callOff = this.workbench.ports.later(() => void this.keep(), shelfDelayMs);
    });
  }

  /** Writes the browser's copy now. */
  async keep(): Promise<void> {
    this.callOff?.();
    this.callOff = undefined;
    const { project } = this.workbench;
    await this.shelve('current', writeProject(project));
    const { kept } = this.workbench.state;
    if (kept.browserFault === undefined) this.workbench.set({ kept: { ...kept, browser: project } });
  }

  async bringBack(): Promise<void> {
    const text = await this.shelf.read('previous').catch(() => undefined);
    if (text === undefined) this.tell('There is no earlier project in this browser.', []);
    else this.openText(text, undefined);
  }

  async open(): Promise<void> {
    const file = await this.ports.pick('Lamploom project', ['.json'], [projectType]);
    if (!file) return;
    const tooLarge = sizeProblem(file.bytes.length);
    if (tooLarge) return this.tellProblems(`${file.name} can't be opened`, [tooLarge]);
    this.openText(new TextDecoder().decode(file.bytes), file);
  }

  /** A sample of the page's own server. */
  async openUrl(url: string): Promise<void> {
    const text = await this.ports.fetchText(url);
    if (text === undefined) this.tell('The sample did not come', ['Is the server still running?']);
    else this.openText(text, undefined);
  }

  async save(): Promise<void> {
    await this.put(this.handle);
  }

  async saveAs(): Promise<void> {
    await this.put(undefined);
  }

  /** Hands the builder a file that isn't the project: an export. */
  async saveBytes(name: string, bytes: Uint8Array<ArrayBuffer>, mediaType: string): Promise<void> {
    await this.ports.put({ name, bytes, handle: undefined }, mediaType);
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

  private openText(text: string, file: PickedFile | undefined): void {
    const read = readProject(text);
    if (!read.ok) {
      this.tellProblems(`${file?.name ?? 'This project'} can't be opened`, read.problems);
      return;
    }
    this.handle = file?.handle;
    const atMs = this.workbench.ports.nowMs();
    this.workbench.replace(
      read.value,
      file ? { file: { name: file.name, project: read.value, atMs } } : { file: undefined },
    );
  }

  private async put(handle: FileSystemFileHandle | undefined): Promise<void> {
    const { kept } = this.workbench.state;
    const savedOn = this.ports.now();
    const project = { ...this.workbench.project, savedOn };
    const name = kept.file?.name ?? fileNameOf(project.name);
    const put = await this.ports.put(
      { name, bytes: new TextEncoder().encode(writeProject(project)), handle },
      projectType,
    );
    if (!put) return;
    this.handle = put.handle;
    this.workbench.amend({ savedOn });
    this.workbench.set({
      kept: {
        ...this.workbench.state.kept,
        file: {
          name: put.name,
          project: this.workbench.project,
          atMs: this.workbench.ports.nowMs(),
        },
      },
    });
  }

  private async shelve(slot: 'current' | 'previous', text: string): Promise<void> {
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
