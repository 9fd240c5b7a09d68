// The outside as the app sees it: files that the builder picks or gets, the browser's own store, and the date. Thin; tests have fakes.
import { fileOpen, fileSave } from 'browser-fs-access';
import { openDB } from 'idb';

export interface PickedFile {
  readonly name: string;
  readonly bytes: Uint8Array<ArrayBuffer>;
  /** Where the browser lets a page write to the same file again. */
  readonly handle: FileSystemFileHandle | undefined;
}

/** A file that was too large to be read. */
export interface UnreadFile {
  readonly name: string;
  readonly sizeBytes: number;
}

export const isUnread = (file: PickedFile | UnreadFile): file is UnreadFile => 'sizeBytes' in file;

export interface FilePorts {
  /** A file of more than `mostBytes` isn't read at all. Undefined where the builder thought better of it. */
  readonly pick: (
    description: string,
    extensions: readonly string[],
    mediaTypes: readonly string[],
    mostBytes: number,
  ) => Promise<PickedFile | UnreadFile | undefined>;
  /** Writes to the file of `handle`, or asks where to. Undefined as above. */
  readonly put: (
    file: Pick<PickedFile, 'name' | 'bytes' | 'handle'>,
    mediaType: string,
  ) => Promise<{ readonly name: string; readonly handle: FileSystemFileHandle | undefined } | undefined>;
  /** Text from the page's own server; undefined where it doesn't come. */
  readonly fetchText: (url: string) => Promise<string | undefined>;
  /** ISO 8601, whole seconds, UTC. */
  readonly now: () => string;
}

/** A picker that was closed rejects with this. */
async function unlessCalledOff<T>(promise: Promise<T>): Promise<T | undefined> {
  try {
    return await promise;
  } catch (error) {
    if (error instanceof DOMException && error.name === 'AbortError') return undefined;
    throw error;
  }
}

export const browserFiles: FilePorts = {
  async pick(description, extensions, mediaTypes, mostBytes) {
    const file = await unlessCalledOff(
      fileOpen({ description, extensions: [...extensions], mimeTypes: [...mediaTypes] }),
    );
    if (!file) return undefined;
    if (file.size > mostBytes) return { name: file.name, sizeBytes: file.size };
    return { name: file.name, bytes: new Uint8Array(await file.arrayBuffer()), handle: file.handle };
  },
  async put({ name, bytes, handle }, mediaType) {
    const blob = new Blob([bytes], { type: mediaType });
    const done = await unlessCalledOff(
      fileSave(blob, { fileName: name }, handle ?? null).then((saved) => ({ saved })),
    );
    if (!done) return undefined;
    return { name: done.saved?.name ?? name, handle: done.saved ?? undefined };
  },
  async fetchText(url) {
    try {
      const response = await fetch(url);
      return response.ok ? await response.text() : undefined;
    } catch {
      return undefined;
    }
  },
  now: () => `${new Date().toISOString().slice(0, 19)}Z`,
};

/** The browser's store: texts of projects by name. Methods reject where the browser refuses. */
export interface ProjectShelf {
  readonly read: (slot: ShelfSlot) => Promise<string | undefined>;
  readonly write: (slot: ShelfSlot, text: string) => Promise<void>;
}
/** `current` is worked on; `aside` holds the list of what was open before (aside.ts). */
export type ShelfSlot = 'current' | 'aside';

const storeName = 'projects';

export function browserShelf(): ProjectShelf {
  const database = openDB('lamploom', 1, {
    upgrade: (db) => {
      db.createObjectStore(storeName);
    },
  });
  // Whoever reads or writes hears of it; alone it must not count as unheard.
  database.catch(() => undefined);
  return {
    read: async (slot) => (await (await database).get(storeName, slot)) as string | undefined,
    write: async (slot, text) => {
      await (await database).put(storeName, text, slot);
    },
  };
}
