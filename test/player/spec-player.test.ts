// The player in WebAssembly against a second one that was written from SPEC.md alone (spec-player.ts), byte for byte: each effect with each blend by itself, and
// whole random projects. So SPEC.md says enough, and says what the player does. Not here: the director's model (director.test.ts), the board.
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { compileShowData, type Player, type ShowData } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import type { Blend, Clip, EffectKind, Project } from '../../src/project/index.ts';
import { effect, clip as randomClip } from '../support/random-clips.ts';
import { DirectorModel } from './director-model.ts';
import { SpecPlayer } from './spec-player.ts';
import { frameNumbers, loadPlayer, seed, variedProject } from './varied-project.ts';

let wasm: Player;
beforeAll(async () => {
  wasm = await loadPlayer();
});

/** Compares a few frames of the attract mode; how many bytes were not zero, and how many there were. */
function compare(project: Project, data: ShowData, numbers: readonly number[]): { lit: number; all: number } {
  wasm.setShowData(data);
  const second = new SpecPlayer(data.bytes);
  let lit = 0;
  let all = 0;
  for (const number of numbers) {
    const expected = Buffer.from(second.frame(data.showNumbers.get(project.attractMode)!, number));
    const given = Buffer.from(wasm.frame(project.attractMode, number));
    if (!given.equals(expected)) {
      const at = given.findIndex((byte, i) => byte !== expected[i]);
      throw new Error(
        `frame ${number}, byte ${at}: ${given[at]}, by the rules ${expected[at]}: ${JSON.stringify(project)}`,
      );
    }
    all += given.length;
    lit += given.filter((byte) => byte !== 0).length;
  }
  return { lit, all };
}
const compiled = (project: Project, frameMs: number): ShowData =>
  compileShowData(project, layOut(project), { frameMs })!;
const framesOf = (frameMs: number): fc.Arbitrary<[number, number[]]> =>
  fc.tuple(fc.constant(frameMs), frameNumbers(frameMs));

const blends: readonly Blend[] = ['over', 'add', 'brighter-wins', 'tint'];

/** A random project whose rows, over a steady ground, play this effect with each of the blends; levels go to the wire as they are. */
const projectOfKind = (kind: EffectKind): fc.Arbitrary<Project> => {
  const clips = fc.tuple(
    ...blends.map((blend) =>
      fc
        .tuple(
          randomClip,
          effect.filter((one) => one.kind === kind),
        )
        .map(([clip, one]): Clip => ({ ...clip, startMs: clip.startMs % 1000, blend, effect: one })),
    ),
  );
  return fc.tuple(variedProject, clips).map(([project, played]) => {
    const [show] = project.lampshows;
    const { limitAmps: _, ...power } = project.power;
    return {
      ...project,
      power,
      output: { gamma: { red: 1, green: 1, blue: 1 }, brightnessPercent: 100 },
      lampshows: [
        {
          ...show!,
          rows: [
            { id: 'ground', clips: [ground] },
            ...played.map((clip, i) => ({ id: `row-${i}`, clips: [clip] })),
          ],
        },
      ],
    };
  });
};
const ground: Clip = {
  startMs: 0,
  lengthMs: 3_600_000,
  area: 'everything',
  gradient: 'g0',
  blend: 'add',
  levelPercent: 60,
  effect: { kind: 'glow', gradientPlace: 0, gradientSpan: 1 },
};

/** What each of the document's effects comes to in the player, and the rules that it plays by. */
const rulesOfKind: Readonly<Record<EffectKind, string>> = {
  glow: '[A-1, E-1, E-2]',
  band: '[A-2, E-3, E-4, G-4]',
  chase: '[E-3, E-4]',
  spokes: '[E-3, E-4]',
  rings: '[E-3, E-4]',
  stream: '[E-3, E-4, G-1]',
  column: '[A-2, E-5, G-4]',
  bursts: '[E-6]',
  lightning: '[A-3, E-7, E-8]',
  stars: '[A-3, E-9, G-3, X-5]',
  glints: '[E-9, X-5]',
  cloud: '[A-3, E-10, E-11]',
  fire: '[E-12]',
  painted: '[P-4, P-6, P-7]',
  letters: '[G-5, L-6, L-7, L-8]',
};

describe('[X-1, X-2, X-3, X-4, X-6] an effect by itself, with each blend', () => {
  test.each(Object.entries(rulesOfKind) as [EffectKind, string][])('%s %s', (kind) => {
    let changed = 0;
    let frames = 0;
    fc.assert(
      fc.property(
        projectOfKind(kind),
        fc.integer({ min: 5, max: 50 }).chain(framesOf),
        (project, [frameMs, numbers]) => {
          const data = compiled(project, frameMs);
          compare(project, data, numbers);
          const seen = numbers.map((number) => Buffer.from(wasm.frame(project.attractMode, number)));
          const [show] = project.lampshows;
          const bare = { ...project, lampshows: [{ ...show!, rows: show!.rows.slice(0, 1) }] };
          wasm.setShowData(compiled(bare, frameMs));
          for (const [i, number] of numbers.entries()) {
            frames++;
            if (!seen[i]!.equals(Buffer.from(wasm.frame(project.attractMode, number)))) changed++;
          }
        },
      ),
      { seed, numRuns: 25 },
    );
    // Letters need rows, which every third project has; other effects are seen nearly always.
    expect(changed / frames, 'share of frames that the effect changes').toBeGreaterThan(
      kind === 'letters' ? 0.15 : 0.4,
    );
  });
});

test(`[B-1, B-2, T-1, T-3, C-1, C-2, C-3, C-4, C-5, M-1, G-1, G-2, G-6, O-1, O-3, O-4, O-5, O-7, O-8] whole random projects (seed ${seed})`, {
  timeout: 120_000,
}, () => {
  let lit = 0;
  let all = 0;
  fc.assert(
    fc.property(
      variedProject,
      fc.integer({ min: 5, max: 50 }).chain(framesOf),
      (project, [frameMs, numbers]) => {
        const counted = compare(project, compiled(project, frameMs), numbers);
        lit += counted.lit;
        all += counted.all;
      },
    ),
    { seed, numRuns: 60 },
  );
  expect(lit / all).toBeGreaterThan(0.4);
});

test('[T-2, C-3, D-15, D-17, E-5] events: the layers and the value that the director’s model says, as the second player draws them', () => {
  const base = fc.sample(variedProject, { seed, numRuns: 12 });
  let fading = 0;
  for (const [i, project] of base.entries()) {
    const [show] = project.lampshows;
    const other = { ...show!, id: 'other', lengthMs: 700 + 90 * i, rows: show!.rows.slice(i % 2) };
    const scored: Clip = {
      ...ground,
      effect: { kind: 'column', fillSeconds: 1, travel: 'fills', byValue: true, softness: 0.3 },
    };
    const performed: Project = {
      ...project,
      lampshows: [show!, other, { id: 'score', lengthMs: 1000, rows: [{ id: 'row', clips: [scored] }] }],
      gameEvents: [
        { id: 'other', lampshow: 'other', crossfadeMs: 400, plays: 2, delayMs: 70 },
        { id: 'score', lampshow: 'score', plays: 'until-next', hasValue: true },
      ],
    };
    const frameMs = 17 + i;
    const data = compiled(performed, frameMs);
    wasm.setShowData(data);
    const log = [
      { frame: 9, event: 'other' },
      { frame: 60, event: 'score', value: 91 },
      { frame: 75, event: 'score', value: 200 + i },
      { frame: 90, event: 'other' },
    ];
    const frameOf = wasm.perform('attract', log);
    const second = new SpecPlayer(data.bytes);
    const plain = { priority: 100, queues: false, resumes: false, retriggerMs: 0, delayFrames: 0 };
    const model = new DirectorModel(
      {
        frameMs,
        showLengthsMs: performed.lampshows.map(({ lengthMs }) => lengthMs),
        events: [
          {
            ...plain,
            show: 1,
            plays: 2,
            crossfadeMs: 400,
            hasValue: false,
            delayFrames: Math.ceil(70 / frameMs),
          },
          { ...plain, show: 2, plays: 0, crossfadeMs: 0, hasValue: true },
        ],
      },
      0,
    );
    const numbered = log.map((one) => ({ ...one, event: one.event === 'other' ? 0 : 1 }));
    for (let frame = 0; frame < 130; frame++) {
      const { layers, value } = model.frame(frame, numbered);
      if (layers.length > 1) fading++;
      const buffer = second.buffer(
        layers.map(({ show: played, ms, master }) => ({ show: played, timeMs: ms, master })),
        value,
      );
      expect(Buffer.from(frameOf(frame)).equals(Buffer.from(second.wire(buffer))), `frame ${frame}`).toBe(
        true,
      );
    }
  }
  expect(fading).toBeGreaterThan(200);
});
