// The project as a file: opening, saving, and keeping a copy in the browser's store after every edit. Whatever is wrong with a file is told in
// words, and the project that was open stays open.
import { mostPhotoBytes, setPanelWidthKeepingShape } from '../../panel/index.ts';
import {
  failed,
  limits,
  ok,
  type PanelImage,
  type Problem,
  type Project,
  problemLine,
  type Result,
  readProject,
  setArtwork,
  setOpacity,
  sizeProblem,
  writeProject,
} from '../../project/index.ts';
import { Watched } from '../canvas/viewport.ts';
import type { Workbench } from '../workbench/workbench.ts';
import {
  artworkExtensions,
  artworkTypes,
  nameArtwork,
  type Picture,
  pictureFrom,
  tooLarge,
} from './artwork.ts';
import { type AsideProject, readAside, withAside } from './aside.ts';
import { newProject } from './new-project.ts';
import { keptPicture } from './photo-work.ts';
import { type FilePorts, isUnread, type PickedFile, type ProjectShelf, type ShelfSlot } from './ports.ts';

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
  /** A picture that was picked as artwork, and waits to be told how wide it is. */
  readonly picture = new Watched<Picture | undefined>(undefined);
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
    const file = await this.ports.pick('Lamploom project', ['.json'], [projectType], limits.fileBytes);
    if (!file) return;
    const problem = sizeProblem(isUnread(file) ? file.sizeBytes : file.bytes.length);
    if (problem) this.tellProblems(`${file.name} can't be opened`, [problem]);
    else if (!isUnread(file)) await this.openText(new TextDecoder().decode(file.bytes), file, file.name);
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

  /** The text of a file that isn't the project, or why it can't be read; whoever asks tells it. Undefined where the builder thought better of it. */
  async pickText(
    description: string,
    extension: string,
  ): Promise<{ readonly name: string; readonly text: Result<string> } | undefined> {
    const file = await this.ports.pick(description, [extension], [projectType], limits.fileBytes);
    if (!file) return undefined;
    const problem = sizeProblem(isUnread(file) ? file.sizeBytes : file.bytes.length);
    if (problem) return { name: file.name, text: failed([problem]) };
    if (isUnread(file)) throw new Error('a file that is not too large was not read');
    return { name: file.name, text: ok(new TextDecoder().decode(file.bytes)) };
  }

  /** Hands the builder a file that isn't the project: an export. */
  async saveBytes(name: string, bytes: Uint8Array<ArrayBuffer>, mediaType: string): Promise<void> {
    await this.putOrTell({ name, bytes, handle: undefined }, mediaType);
  }

  /** What is picked waits in `picture` for its width; the stage Panel asks for it. */
  async pickArtwork(): Promise<void> {
    const picture = await this.pickPicture('Artwork');
    if (!picture) return;
    if (this.workbench.state.stage !== 'panel') this.workbench.enter('panel');
    // What was told of a file before is over.
    this.workbench.set({ message: undefined });
    this.picture.set(picture);
  }

  /** Artwork that is ready to be kept: the panel becomes so wide, and as high as the picture's shape says, with all that lies on it. */
  placeArtwork(label: string, artwork: PanelImage, name: string, widthMm: number, aspect: number): void {
    this.workbench.edit(label, (draft) => {
      setArtwork(artwork)(draft);
      setPanelWidthKeepingShape(widthMm, aspect)(draft);
    });
    nameArtwork(artwork, name);
  }

  async pickOpacity(): Promise<void> {
    const picture = await this.pickPicture('Opacity layer');
    if (!picture) return;
    const kept = await keptPicture(picture, this.workbench.project.panel);
    if (!kept.ok) {
      this.tellProblems(`${picture.name} can't be used`, kept.problems);
      return;
    }
    this.workbench.edit('Load the opacity layer', setOpacity(kept.value.image));
    if (picture.removed.length > 0)
      this.tell(`${picture.name} was cleaned`, [`Taken out: ${picture.removed.join(', ')}.`]);
  }

  private async pickPicture(what: string): Promise<Picture | undefined> {
    const file = await this.ports.pick(what, artworkExtensions, artworkTypes, mostPhotoBytes);
    if (!file) return undefined;
    const picture = isUnread(file) ? tooLarge(file.sizeBytes) : await pictureFrom(file);
    if (picture.ok) return picture.value;
    this.tellProblems(`${file.name} can't be used`, picture.problems);
    return undefined;
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
