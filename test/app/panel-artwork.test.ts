// Pictures that are picked: what is taken, what is cleaned or refused and in which words, and what the project keeps of them.
import { describe, expect, test } from 'vitest';
import {
  artworkExtensions,
  base64Of,
  bytesInBase64,
  bytesOfBase64,
  checkedFile,
  tooLarge,
} from '../../src/app/files/artwork.ts';
import { isKeptAsItIs, keptOf, wholeOf, workedScale } from '../../src/app/files/photo-work.ts';
import { isUnread } from '../../src/app/files/ports.ts';
import { kilobytes } from '../../src/app/stages/panel/size-words.ts';
import { limits } from '../../src/project/index.ts';
import { sample } from '../support/lamploom.ts';
import { benchFor } from './bench.ts';

const bytesOf = (text: string) => new Uint8Array(new TextEncoder().encode(text));

/** The first bytes of a PNG: signature and IHDR (PNG specification, 5.2 and 11.2.2). */
function pngHead(widthPx: number, heightPx: number) {
  const bytes = new Uint8Array(33);
  bytes.set([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13, 0x49, 0x48, 0x44, 0x52]);
  const view = new DataView(bytes.buffer);
  view.setUint32(16, widthPx);
  view.setUint32(20, heightPx);
  return bytes;
}

describe('a picked file', () => {
  test('an SVG without anything to run or fetch stays as it is', () => {
    const text = '<svg xmlns="http://www.w3.org/2000/svg" width="3" height="2"><path d="M0 0h1"/></svg>';
    const checked = checkedFile({ name: 'Art.SVG', bytes: bytesOf(text) });
    expect(checked).toEqual({
      ok: true,
      value: { mediaType: 'image/svg+xml', bytes: bytesOf(text), removed: [] },
    });
  });

  test('scripts are taken out of an SVG, and it is told', () => {
    const text =
      '<svg xmlns="http://www.w3.org/2000/svg" onload="steal()"><script>steal()</script><path d="M0 0h1"/></svg>';
    const checked = checkedFile({ name: 'art.svg', bytes: bytesOf(text) });
    if (!checked.ok) throw new Error('refused');
    const clean = new TextDecoder().decode(checked.value.bytes);
    expect(clean).not.toContain('steal');
    expect(clean).toContain('<path d="M0 0h1"/>');
    expect(checked.value.removed.length).toBeGreaterThan(0);
    expect(checked.value.removed.join(' ')).toContain('script');
  });

  test('what a picture is, its bytes say, not its name', () => {
    const checked = checkedFile({ name: 'photo.jpg', bytes: pngHead(4, 3) });
    expect(checked).toMatchObject({ ok: true, value: { mediaType: 'image/png' } });
  });

  const refused = [
    { name: 'art.gif', bytes: pngHead(4, 3), code: 'artwork-type' },
    {
      name: 'art.png',
      bytes: bytesOf('<svg xmlns="http://www.w3.org/2000/svg"/>'),
      code: 'artwork-unreadable',
    },
    { name: 'art.jpeg', bytes: new Uint8Array(0), code: 'artwork-unreadable' },
    { name: 'art.png', bytes: pngHead(20_000, 20_000), code: 'artwork-too-large' },
    { name: 'art.svg', bytes: new Uint8Array(limits.imageBytes + 1), code: 'artwork-too-large' },
  ];
  for (const { name, bytes, code } of refused)
    test(`${code}: ${name} of ${bytes.length} bytes`, () => {
      expect(checkedFile({ name, bytes })).toMatchObject({ ok: false, problems: [{ code }] });
    });

  test('a file too large to be read is told with both sizes', () => {
    expect(tooLarge(200 * 2 ** 20)).toMatchObject({
      ok: false,
      problems: [{ code: 'artwork-too-large', expected: 'at most 64 MiB', found: '200 MiB' }],
    });
  });

  test('one of 200 MB is refused in words without being read', async () => {
    const { workbench, store, files } = await benchFor(sample('first-light'));
    const before = workbench.project;
    const asked: number[] = [];
    const unread = { name: 'wall.png', sizeBytes: 200e6 };
    expect(isUnread(unread)).toBe(true);
    Object.assign(files, {
      pick: async (_what: string, extensions: readonly string[], _types: unknown, mostBytes: number) => {
        expect(extensions).toEqual(artworkExtensions);
        asked.push(mostBytes);
        return unread;
      },
    });
    await store.pickArtwork();
    expect(asked).toEqual([64 * 2 ** 20]);
    expect(workbench.state.message?.title).toContain('wall.png');
    expect(workbench.state.message?.lines.join()).toContain('190.7 MiB');
    expect(store.picture.current()).toBeUndefined();
    expect(workbench.project).toBe(before);
  });
});

describe('what the project keeps', () => {
  test('base64 as RFC 4648, section 10 has it, and back', () => {
    for (const [text, base64] of [
      ['', ''],
      ['f', 'Zg=='],
      ['fo', 'Zm8='],
      ['foo', 'Zm9v'],
      ['foobar', 'Zm9vYmFy'],
    ] as const) {
      expect(base64Of(bytesOf(text))).toBe(base64);
      expect(bytesOfBase64(base64)).toEqual(bytesOf(text));
      expect(bytesInBase64(base64)).toBe(text.length);
    }
    expect(bytesOfBase64('%')).toBeUndefined();
  });

  // 4 pixels a mm are what a panel needs: 600 x 400 mm need 2,400 x 1,600.
  const panel = { widthMm: 600, heightMm: 400 };
  const photo = { mediaType: 'image/jpeg', bytes: new Uint8Array(10) } as const;

  test('a picture with no more pixels than the panel needs stays as it is, a finer one does not', () => {
    expect(isKeptAsItIs(photo, { widthPx: 2400, heightPx: 1600 }, panel)).toBe(true);
    expect(isKeptAsItIs(photo, { widthPx: 800, heightPx: 1600 }, panel)).toBe(true);
    expect(isKeptAsItIs(photo, { widthPx: 2401, heightPx: 1600 }, panel)).toBe(false);
    expect(isKeptAsItIs(photo, { widthPx: 2400, heightPx: 1601 }, panel)).toBe(false);
    expect(isKeptAsItIs(photo, { widthPx: 2400, heightPx: 1600 }, { ...panel, widthMm: 300 })).toBe(false);
  });

  test('a drawing always stays; a file larger than the document holds never does', () => {
    const svg = { mediaType: 'image/svg+xml', bytes: new Uint8Array(10) } as const;
    expect(isKeptAsItIs(svg, { widthPx: 9000, heightPx: 9000 }, panel)).toBe(true);
    const heavy = { ...photo, bytes: new Uint8Array(limits.imageBytes + 1) };
    expect(isKeptAsItIs(heavy, { widthPx: 100, heightPx: 100 }, panel)).toBe(false);
    expect(keptOf({ ...heavy, widthPx: 100, heightPx: 100 })).toMatchObject({
      ok: false,
      problems: [{ code: 'artwork-too-large' }],
    });
    expect(keptOf({ ...photo, bytes: bytesOf('foo'), widthPx: 1, heightPx: 2 })).toEqual({
      ok: true,
      value: { image: { mediaType: 'image/jpeg', base64: 'Zm9v' }, widthPx: 1, heightPx: 2, sizeBytes: 3 },
    });
  });

  test('only photos of more than 24 million pixels are worked on smaller', () => {
    expect(workedScale(6000, 4000)).toBe(1);
    expect(workedScale(12_000, 8000)).toBe(0.5);
    expect(wholeOf(3, 2)).toEqual([
      { x: 0, y: 0 },
      { x: 3, y: 0 },
      { x: 3, y: 2 },
      { x: 0, y: 2 },
    ]);
  });

  test('placing sets width and shape in one step, which undo takes back to the byte', async () => {
    const { workbench, store } = await benchFor(sample('first-light'));
    const before = workbench.project;
    const artwork = { mediaType: 'image/png', base64: 'Zm9v' } as const;
    store.placeArtwork('Place artwork', artwork, 'photo.png', 450, 2);
    expect(workbench.project.panel).toMatchObject({ widthMm: 450, heightMm: 225, artwork });
    expect(workbench.state.history.past).toHaveLength(1);
    workbench.undo();
    expect(workbench.project).toEqual(before);
  });

  test('sizes are told in thousands of bytes, never as nothing', () => {
    expect(kilobytes(412_345)).toBe('412');
    expect(kilobytes(7)).toBe('1');
  });
});
