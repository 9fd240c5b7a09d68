// The direction of imports: a layer may use those before it, never those behind it; and what the layers below the app may not touch.
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';

const src = resolve(import.meta.dirname, '../../src');
const layers = ['catalogue', 'project', 'panel', 'lampshow', 'power', 'light', 'board', 'workshop'];
const shells = ['app', 'cli'];

interface Import {
  readonly file: string;
  readonly from: string;
  readonly to: string;
}

const files = readdirSync(src, { recursive: true, encoding: 'utf8' }).filter((name) => /\.tsx?$/.test(name));

function importsOf(file: string, text: string): Import[] {
  const pattern = /(?:\bfrom|\bimport)\s*\(?\s*['"]([^'"]+)['"]/g;
  return [...text.matchAll(pattern)].map(([, to]) => ({ file, from: file.split('/')[0]!, to: to! }));
}

/** What is wrong with an import, or undefined. */
function fault({ file, from, to }: Import): string | undefined {
  const inside = to.startsWith('.');
  const target = inside ? relative(src, resolve(src, file, '..', to)).split('/')[0]! : to;
  const isLayer = layers.includes(from);
  if (!inside) {
    if (isLayer && /^(node:|react|react-dom|@vitejs|vite)/.test(to)) return `${file} imports ${to}`;
    return undefined;
  }
  if (target === from) return undefined;
  if (shells.includes(from))
    return layers.includes(target) || target === '..' ? undefined : `${file} imports from ${target}`;
  return layers.indexOf(target) >= 0 && layers.indexOf(target) < layers.indexOf(from)
    ? undefined
    : `${file} imports from ${target}`;
}

const imports = files.flatMap((file) => importsOf(file, readFileSync(join(src, file), 'utf8')));

describe('[ARC1] imports go one way', () => {
  test('every layer was seen', () => {
    const seen = new Set(files.map((file) => file.split('/')[0]));
    for (const layer of [
      'catalogue',
      'project',
      'panel',
      'lampshow',
      'power',
      'light',
      'board',
      'workshop',
      'app',
      'cli',
    ])
      expect(seen).toContain(layer);
    expect(imports.length).toBeGreaterThan(100);
  });

  test('no file imports from a layer to its right', () => {
    expect(imports.map(fault).filter(Boolean)).toEqual([]);
  });

  test.each([
    { file: 'project/a.ts', from: 'project', to: '../panel/index.ts' },
    { file: 'panel/a.ts', from: 'panel', to: 'react' },
    { file: 'board/a.ts', from: 'board', to: 'node:fs' },
    { file: 'app/a.tsx', from: 'app', to: '../cli/main.ts' },
    { file: 'power/a.ts', from: 'power', to: '../app/store.ts' },
  ])('the check finds $file importing $to', (wrong) => {
    expect(fault(wrong)).toBeDefined();
  });
});

describe('[ARC2] the layers are pure', () => {
  const banned =
    /\b(document|window|localStorage|navigator|Date\.now|new Date\(\)|performance\.now|Math\.random|console\.|process\.|fetch\(|globalThis|setTimeout|crypto\b)/;

  test('no DOM, clock, storage, chance or console below app and cli', () => {
    const guilty = files
      .filter((file) => layers.includes(file.split('/')[0]!))
      .flatMap((file) =>
        readFileSync(join(src, file), 'utf8')
          .split('\n')
          .filter((line) => !/^\s*(\/\/|\*|\/\*)/.test(line) && banned.test(line))
          .map((line) => `${file}: ${line.trim()}`),
      );
    expect(guilty).toEqual([]);
  });
});

describe('[ARC3] files stay readable', () => {
  test('no source file is over 400 lines', () => {
    const long = files.filter((file) => readFileSync(join(src, file), 'utf8').split('\n').length > 401);
    expect(long).toEqual([]);
  });
});
