// Reading a project: good files come through untouched, bad ones give one clear problem a fault and never an exception.
import { describe, expect, test } from 'vitest';
import {
  type Problem,
  type Project,
  problemLine,
  projectSchema,
  readProject,
  writeProject,
} from '../../src/project/index.ts';
import { migrate } from '../../src/project/migrations.ts';
import { projectOf, rowsOfStrip } from '../support/projects.ts';

const good = (): Project =>
  projectOf({
    runs: rowsOfStrip(60),
    lampshows: [
      {
        id: 'attract',
        lengthMs: 4000,
        rows: [
          {
            id: 'row',
            clips: [
              {
                startMs: 0,
                lengthMs: 1000,
                area: 'everything',
                gradient: 'ember',
                blend: 'over',
                effect: { kind: 'stars', lifeSeconds: 1, density: 0.5, seed: 1 },
              },
            ],
          },
        ],
      },
    ],
  });

// biome-ignore lint/suspicious/noExplicitAny: the changes make files that no type describes
type Change = (project: any) => void;

/** The problems of a project after a change that types would forbid. */
function problemsAfter(change: Change): readonly Problem[] {
  const project = structuredClone(good());
  change(project);
  const result = readProject(JSON.stringify(project));
  return result.ok ? [] : result.problems;
}

const summary = (problems: readonly Problem[]) => problems.map(({ code, at }) => [code, at]);

describe('[DOC1] a good file', () => {
  test('comes through as it was written', () => {
    const text = writeProject(good());
    const result = readProject(text);
    expect(result).toEqual({ ok: true, value: good() });
    expect(result.ok && writeProject(result.value)).toBe(text);
  });

  test('names the draft of its schema', () => {
    expect(projectSchema.$schema).toBe('http://json-schema.org/draft-07/schema#');
  });
});

describe('[DOC2] a bad file gives a problem at its place', () => {
  test.each<[string, Change, [code: string, at: string][]]>([
    [
      'a text for a number',
      (p) => {
        p.runs[0].ledCount = '30';
      },
      [['schema-type', '/runs/0/ledCount']],
    ],
    [
      'a fraction of an LED',
      (p) => {
        p.runs[0].ledCount = 1.5;
      },
      [['schema-type', '/runs/0/ledCount']],
    ],
    [
      'an entry missing',
      (p) => {
        p.runs[0].firstLed = undefined;
      },
      [['schema-required', '/runs/0']],
    ],
    [
      'an entry too many',
      (p) => {
        p.runs[0].lenght = 3;
      },
      [['schema-additionalProperties', '/runs/0/lenght']],
    ],
    [
      'a version from the future',
      (p) => {
        p.version = 99;
      },
      [['unknown-version', '/version']],
    ],
    [
      'a version that is no number',
      (p) => {
        p.version = 'one';
      },
      [['unknown-version', '/version']],
    ],
    [
      'another program’s file',
      (p) => {
        p.format = 'other';
      },
      [['not-a-project', '/format']],
    ],
    [
      'an unknown blend',
      (p) => {
        p.lampshows[0].rows[0].clips[0].blend = 'mix';
      },
      [['schema-enum', '/lampshows/0/rows/0/clips/0/blend']],
    ],
    [
      'an unknown effect',
      (p) => {
        p.lampshows[0].rows[0].clips[0].effect.kind = 'spin';
      },
      [['schema-discriminator', '/lampshows/0/rows/0/clips/0/effect/kind']],
    ],
    [
      'a parameter of another effect',
      (p) => {
        p.lampshows[0].rows[0].clips[0].effect.width = 1;
      },
      [['schema-additionalProperties', '/lampshows/0/rows/0/clips/0/effect/width']],
    ],
    [
      'an id with a capital',
      (p) => {
        p.runs[0].id = 'Row';
      },
      [['schema-pattern', '/runs/0/id']],
    ],
    [
      'an unknown strip',
      (p) => {
        p.runs[1].strip = 'gold-60';
      },
      [['unknown-id', '/runs/1/strip']],
    ],
    [
      'an unknown run in a chain',
      (p) => {
        p.dataLines[0].chain[1].run = 'row-9';
      },
      [['unknown-id', '/dataLines/0/chain/1/run']],
    ],
    [
      'an unknown area',
      (p) => {
        p.lampshows[0].rows[0].clips[0].area = 'moon';
      },
      [['unknown-id', '/lampshows/0/rows/0/clips/0/area']],
    ],
    [
      'an unknown gradient',
      (p) => {
        p.lampshows[0].rows[0].clips[0].gradient = 'moon';
      },
      [['unknown-id', '/lampshows/0/rows/0/clips/0/gradient']],
    ],
    [
      'an unknown attract mode',
      (p) => {
        p.attractMode = 'moon';
      },
      [['unknown-id', '/attractMode']],
    ],
    [
      'an unknown sheet',
      (p) => {
        p.panel.sheet = 'moon';
      },
      [['unknown-id', '/panel/sheet']],
    ],
    [
      'an unknown wire',
      (p) => {
        p.power.feeds.push({ run: 'row-0', led: 0, wire: 'AWG 17', lengthMm: 1 });
      },
      [['unknown-id', '/power/feeds/0/wire']],
    ],
    [
      'a feed behind the run’s end',
      (p) => {
        p.power.feeds.push({ run: 'row-0', led: 30, wire: 'AWG 18', lengthMm: 1 });
      },
      [['led-outside-run', '/power/feeds/0/led']],
    ],
    [
      'a cyclic chain',
      (p) => {
        p.dataLines[0].chain.push({ run: 'row-0' });
      },
      [['cyclic-chain', '/dataLines/0/chain/2/run']],
    ],
    [
      'a run on two lines',
      (p) => {
        p.dataLines.push({ pin: 7, chain: [{ run: 'row-1' }] });
      },
      [['cyclic-chain', '/dataLines/1/chain/0/run']],
    ],
    [
      'an id twice',
      (p) => {
        p.runs[1].id = 'row-0';
        p.dataLines[0].chain.pop();
      },
      [['duplicate-id', '/runs/1/id']],
    ],
    [
      'two faults at once',
      (p) => {
        p.name = 3;
        p.panel.widthMm = -1;
      },
      [
        ['schema-type', '/name'],
        ['schema-exclusiveMinimum', '/panel/widthMm'],
      ],
    ],
  ])('%s', (_name, change, expected) => {
    expect(summary(problemsAfter(change))).toEqual(expected);
  });

  test('every problem is one line that says where, expected, found and how to mend it', () => {
    const [problem] = problemsAfter((project) => {
      project.runs[0].ledCount = '30';
    });
    expect(problem && problemLine(problem)).toBe(
      '/runs/0/ledCount: expected a whole number, found "30". Write it in that form.',
    );
  });
});

describe('[DOC3] text that is not JSON', () => {
  const text = writeProject(good());

  test('every truncation is refused as not JSON', () => {
    for (let length = 0; length < text.length - 1; length += 97) {
      const result = readProject(text.slice(0, length));
      expect(result.ok).toBe(false);
      if (!result.ok) expect(summary(result.problems)).toEqual([['not-json', '']]);
    }
  });

  test('the place where it breaks is told', () => {
    const result = readProject('{\n  "format": lamploom\n}');
    expect(!result.ok && result.problems[0]?.found).toMatch(/line 2, column 13/);
  });

  test.each(['null', '3', '"text"', '[]', '{}', 'true'])('%s is JSON, but no project', (value) => {
    const result = readProject(value);
    expect(!result.ok && result.problems[0]?.code).toBe('not-a-project');
  });

  test('50 MB of nested arrays is refused by its size, and as much as is allowed by its depth', () => {
    const huge = readProject('['.repeat(50 * 1024 * 1024));
    expect(!huge.ok && summary(huge.problems)).toEqual([['file-too-large', '']]);
    const deep = readProject('['.repeat(10 * 1024 * 1024));
    expect(!deep.ok && summary(deep.problems)).toEqual([['json-too-deep', '']]);
  });

  test('a million empty lists are refused before they are parsed', () => {
    const result = readProject(`{"format":"lamploom","version":1,"runs":[${'[],'.repeat(1_000_000)}[]]}`);
    expect(!result.ok && summary(result.problems)).toEqual([['json-too-many-values', '']]);
  });

  test('brackets inside texts are no nesting', () => {
    const project = { ...good(), name: `${'['.repeat(100)}\\"` };
    expect(readProject(JSON.stringify(project)).ok).toBe(true);
  });
});

describe('[DOC4] migration', () => {
  const steps = {
    1: (project: Readonly<Record<string, unknown>>) => ({ ...project, colour: 'red' }),
    2: (project: Readonly<Record<string, unknown>>) => ({
      ...project,
      colour: `${project['colour']} and blue`,
    }),
  };

  test('an old file passes every step up to the current version', () => {
    expect(migrate({ format: 'lamploom', version: 1 }, steps, 3)).toEqual({
      ok: true,
      value: { format: 'lamploom', version: 3, colour: 'red and blue' },
    });
    expect(migrate({ format: 'lamploom', version: 2, colour: 'green' }, steps, 3)).toEqual({
      ok: true,
      value: { format: 'lamploom', version: 3, colour: 'green and blue' },
    });
  });

  test('a current file passes none', () => {
    const current = { format: 'lamploom', version: 3 };
    expect(migrate(current, steps, 3)).toEqual({ ok: true, value: current });
  });

  test('a file is never changed in place', () => {
    const old = Object.freeze({ format: 'lamploom', version: 1 });
    migrate(old, steps, 3);
    expect(old).toEqual({ format: 'lamploom', version: 1 });
  });
});
