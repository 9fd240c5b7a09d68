// What writes the build sheet in the page: its library and fonts are large, so they come when the first export is planned.

import regularUrl from 'dejavu-fonts-ttf/ttf/DejaVuSansCondensed.ttf?url';
import boldUrl from 'dejavu-fonts-ttf/ttf/DejaVuSansCondensed-Bold.ttf?url';
import type { WriteSheet } from '../../workshop/build-sheet-pdf.ts';

/** They didn't come: the server is gone. */
export class SheetNotLoaded extends Error {}

async function font(url: string): Promise<Uint8Array> {
  const response = await fetch(url);
  if (!response.ok) throw new Error(`status ${response.status}`);
  return new Uint8Array(await response.arrayBuffer());
}

async function load(): Promise<WriteSheet> {
  try {
    const [{ sheetWriter }, regular, bold] = await Promise.all([
      import('../../workshop/build-sheet-pdf.ts'),
      font(regularUrl),
      font(boldUrl),
    ]);
    return sheetWriter({ regular, bold });
  } catch (error) {
    throw new SheetNotLoaded(error instanceof Error ? error.message : String(error));
  }
}

let loading: Promise<WriteSheet> | undefined;

/** Rejects with SheetNotLoaded; asked again, it tries again. */
export function loadSheetWriter(): Promise<WriteSheet> {
  loading ??= load().catch((error: unknown) => {
    loading = undefined;
    throw error;
  });
  return loading;
}
