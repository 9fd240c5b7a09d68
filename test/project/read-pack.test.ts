// What a file must be to be taken in as a show pack. Whatever comes, the answer is problems in words, never an exception.
import { describe, expect, test } from 'vitest';
import { limits, problemLine } from '../../src/project/index.ts';
import { readPack, type ShowPack, writePack } from '../../src/project/read-pack.ts';
import { sampleText } from '../support/lamploom.ts';

const pack = {
  format: 'lamploom-shows',
  version: 1,
  name: 'Pier',
  panelSize: { widthMm: 600, heightMm: 300 },
  areas: [{ id: 'sky', role: 'sky', order: { kind: 'across' }, box: { x: 0, y: 0, width: 1, height: 0.5 } }],
  gradients: [{ id: 'dusk', stops: [{ at: 0, colour: '#102030' }] }],
  lampshows: [
    {
      id: 'attract',
      lengthMs: 1000,
      rows: [
        {
          id: 'row-1',
          clips: [
            {
              startMs: 0,
              lengthMs: 1000,
              area: 'sky',
              gradient: 'dusk',
              blend: 'over',
              effect: { kind: 'glow', gradientPlace: 0, gradientSpan: 1 },
            },
          ],
        },
      ],
    },
  ],
  gameEvents: [{ id: 'start', lampshow: 'attract' }],
} satisfies ShowPack;

const clip = pack.lampshows[0]!.rows[0]!.clips[0]!;
const withClip = (change: object) => ({
  ...pack,
  lampshows: [{ ...pack.lampshows[0], rows: [{ id: 'row-1', clips: [{ ...clip, ...change }] }] }],
});
const linesOf = (text: string): string[] => {
  const read = readPack(text);
  return read.ok ? [] : read.problems.map(problemLine);
};

describe('[PACK6] reading a show pack', () => {
  test('a pack is read as it was written', () => {
    expect(readPack(writePack(pack))).toEqual({ ok: true, value: pack });
  });

  test.each<[string, unknown, RegExp]>([
    ['a list', [], /expected a Lamploom show pack, found a list of 0/],
    ['nothing', null, /expected a Lamploom show pack, found null/],
    ['another format', { ...pack, format: 'shows' }, /^\/format: expected "lamploom-shows", found "shows"/],
    ['a newer version', { ...pack, version: 2 }, /^\/version: .*Use a newer Lamploom/],
    ['no version', { ...pack, version: undefined }, /^\/version: expected version 1, found nothing/],
    ['an entry of its own', { ...pack, run: 1 }, /^\/run: expected only entries that the schema names/],
    ['a prototype', JSON.parse('{"__proto__": {"a": 1}}'), /expected "lamploom-shows"/],
    ['no shows', { ...pack, lampshows: [] }, /^\/lampshows: expected at least 1 entries/],
    [
      'a panel without width',
      { ...pack, panelSize: { widthMm: 0, heightMm: 1 } },
      /^\/panelSize\/widthMm: expected at least 1, found 0/,
    ],
    [
      'an unknown area',
      withClip({ area: 'sea' }),
      /clips\/0\/area: expected the id of an area of this pack, found "sea"/,
    ],
    [
      'an unknown gradient',
      withClip({ gradient: 'dawn' }),
      /gradient: expected the id of a gradient of this pack/,
    ],
    [
      'an unknown effect',
      withClip({ effect: { kind: 'strobe' } }),
      /expected a "kind" that the schema names/,
    ],
    ['a moment that is none', withClip({ startMs: -1 }), /startMs: expected at least 0, found -1/],
    [
      'an event of no show',
      { ...pack, gameEvents: [{ id: 'a', lampshow: 'b' }] },
      /^\/gameEvents\/0\/lampshow: expected the id of a lampshow of this pack/,
    ],
    [
      'an event with a pin',
      { ...pack, gameEvents: [{ id: 'a', lampshow: 'attract', pin: 3 }] },
      /^\/gameEvents\/0\/pin: /,
    ],
    [
      'two areas of one id',
      { ...pack, areas: [pack.areas[0], pack.areas[0]] },
      /^\/areas\/1\/id: expected an id of its own/,
    ],
    [
      'LEDs',
      { ...pack, areas: [{ ...pack.areas[0], members: [{ kind: 'all' }] }] },
      /^\/areas\/0\/members: /,
    ],
    [
      'painted cells that do not fit',
      withClip({
        effect: {
          kind: 'painted',
          columns: 2,
          rows: 1,
          palette: ['#000000'],
          frames: [{ holdMs: 20, cells: '0' }],
        },
      }),
      /effect\/frames\/0\/cells/,
    ],
  ])('%s is refused', (_, value, line) => {
    const lines = linesOf(JSON.stringify(value));
    expect(lines.length).toBeGreaterThan(0);
    expect(lines.join('\n')).toMatch(line);
  });

  test('a whole project is told where it belongs', () => {
    expect(linesOf(sampleText('first-light'))[0]).toContain('open it from the project menu');
  });

  test('text that is no JSON, is cut off, nested without end or too large is refused', () => {
    expect(linesOf('shows')[0]).toMatch(/expected JSON text/);
    expect(linesOf(writePack(pack).slice(0, 300))[0]).toMatch(/stops being JSON/);
    expect(linesOf('['.repeat(limits.nesting + 1))[0]).toMatch(/nested/);
    expect(linesOf(' '.repeat(limits.fileBytes + 1))[0]).toMatch(/a file of at most 20.0 MiB/);
  });

  test('as many clips as a show can hold are read, one more is refused', () => {
    const filled = (count: number) => ({
      ...pack,
      lampshows: [
        {
          ...pack.lampshows[0],
          rows: [
            { id: 'row-1', clips: Array(256).fill(clip) },
            { id: 'row-2', clips: Array(count - 256).fill(clip) },
          ],
        },
      ],
    });
    expect(linesOf(JSON.stringify(filled(limits.clipsPerShow)))).toEqual([]);
    expect(linesOf(JSON.stringify(filled(limits.clipsPerShow + 1)))[0]).toMatch(
      /at most 512 clips in a show, found 513/,
    );
  });

  test('every bit of a pack that is turned over gives a pack or problems', () => {
    const bytes = new TextEncoder().encode(writePack(pack));
    for (let at = 0; at < bytes.length; at++) {
      const other = bytes.slice();
      other[at]! ^= 1 << (at % 7);
      expect(() => readPack(new TextDecoder().decode(other))).not.toThrow();
    }
  });
});
