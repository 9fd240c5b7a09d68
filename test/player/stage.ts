// A bare stage for looking at one effect: RGB strip, gamma 1, brightness 100, no limiter, so that wire bytes are colour levels; a frame
// each millisecond, so that frame numbers are times. Not here: what the effects should look like (the tests' matter).
import { compileShowData, type Player } from '../../src/lampshow/index.ts';
import { type Led, layOut } from '../../src/panel/index.ts';
import type { Area, Clip, Effect, Gradient, Project, Run } from '../../src/project/index.ts';
import { projectOf } from '../support/projects.ts';

export const densestPitchMm = 1000 / 144;

/** One straight run of the densest strip from the left, at a height. */
export const rowAt = (id: string, yMm: number, ledCount: number, xMm = 0): Run => ({
  id,
  firstLed: { xMm, yMm },
  arrowDeg: 0,
  ledCount,
  strip: 'ws2812b-144',
  colourOrder: 'RGB',
});

/** Rows one pitch apart. */
export const gridOf = (rows: number, ledsPerRow: number): Run[] =>
  Array.from({ length: rows }, (_, row) => rowAt(`row-${row}`, row * densestPitchMm, ledsPerRow));

export const plain = (colour: string): Gradient => ({ id: 'g', stops: [{ at: 0, colour }] });
export const white = plain('#ffffff');

const longMs = 3_600_000;

export interface Scene {
  readonly runs: readonly Run[];
  readonly widthMm?: number;
  readonly heightMm?: number;
  readonly order?: Area['order'];
  readonly gradients?: readonly Gradient[];
  readonly lengthMs?: number;
  readonly gamma?: number;
  readonly clips: readonly (Partial<Clip> & { readonly effect: Effect })[];
}

/** A project whose rows are these clips, each over everything, white and for an hour unless told. */
export function projectOfScene(scene: Scene): Project {
  const gamma = scene.gamma ?? 1;
  return projectOf({
    panel: {
      widthMm: scene.widthMm ?? 600,
      heightMm: scene.heightMm ?? 300,
      airGapMm: 30,
      sheet: 'opal-pmma',
    },
    runs: [...scene.runs],
    areas: [{ id: 'all', members: [{ kind: 'all' }], order: scene.order ?? { kind: 'across' } }],
    gradients: [...(scene.gradients ?? [white])],
    lampshows: [
      {
        id: 'attract',
        lengthMs: scene.lengthMs ?? longMs,
        rows: scene.clips.map((clip, i) => ({
          id: `row-${i}`,
          clips: [
            {
              startMs: 0,
              lengthMs: longMs,
              area: 'all',
              gradient: (scene.gradients ?? [white])[0]!.id,
              blend: 'over' as const,
              ...clip,
            },
          ],
        })),
      },
    ],
    output: { gamma: { red: gamma, green: gamma, blue: gamma }, brightnessPercent: 100 },
  });
}

export interface Stage {
  readonly leds: readonly Led[];
  /** Red, green and blue of each LED at a time, one after the other. */
  readonly levels: (timeMs: number) => Uint8Array;
  /** The red byte alone: the level, where the gradient is white. */
  readonly reds: (timeMs: number) => Uint8Array;
}

/** Several stages may share a player; each call sets its own show data. */
export function stageOf(player: Player, scene: Scene): Stage {
  const project = projectOfScene(scene);
  const layout = layOut(project);
  const data = compileShowData(project, layout, { frameMs: 1 });
  if (!data) throw new Error('the show data is too large');
  const levels = (timeMs: number) => {
    player.setShowData(data);
    return player.frame('attract', timeMs).slice();
  };
  return {
    leds: layout.wireLeds,
    levels,
    reds: (timeMs) => levels(timeMs).filter((_, i) => i % 3 === 0),
  };
}
