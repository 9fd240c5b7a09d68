// Films without a browser: which frames, how long each stands, making and calling off, and GIFs read back by a decoder that is not ours.
import { decompressFrames, parseGIF } from 'gifuct-js';
import { describe, expect, test } from 'vitest';
import { type FilmPacker, makeFilm } from '../../src/app/film/film-maker.ts';
import {
  filmPlan,
  filmSize,
  gifDelay,
  mostGifPerSecond,
  perSecondOf,
  pictureSize,
} from '../../src/app/film/film-plan.ts';
import { gifPacker } from '../../src/app/film/gif.ts';

describe('[FILM1] which frames a film has', () => {
  test('at the board’s own rate each of the player’s frames once', () => {
    const { frames } = filmPlan(0, 28_000, perSecondOf('board', 20, false), 20);
    expect(frames).toEqual(Array.from({ length: 1400 }, (_, i) => i));
  });

  test.each([17, 19, 21, 23, 37])(
    'at the board’s own rate with frames of %i ms none is twice or missing',
    (frameMs) => {
      const { frames } = filmPlan(0, 500 * frameMs, perSecondOf('board', frameMs, false), frameMs);
      expect(frames).toEqual(Array.from({ length: 500 }, (_, i) => i));
    },
  );

  test('10 s at 30 a second are 300 frames; each shows what the board shows at its moment', () => {
    const { frames } = filmPlan(0, 10_000, 30, 20);
    expect(frames).toHaveLength(300);
    // 1/30 s is in the board's second frame, 2/30 in its fourth; a whole second is its 50th.
    expect([frames[0], frames[1], frames[2], frames[30]]).toEqual([0, 1, 3, 50]);
  });

  test('a part begins where it was said, and a moment is one frame', () => {
    expect(filmPlan(2000, 3000, 25, 20).frames).toEqual(Array.from({ length: 25 }, (_, i) => 100 + 2 * i));
    expect(filmPlan(2000, 2001, 25, 20).frames).toEqual([100]);
  });

  test('a GIF has no more frames than browsers show at their time', () => {
    expect(perSecondOf('60', 20, true)).toBe(mostGifPerSecond);
    expect(perSecondOf('60', 20, false)).toBe(60);
    expect(perSecondOf('board', 10, true)).toBe(mostGifPerSecond);
  });

  test.each([25, 30, 47.619, 50])(
    'at %f a second the delays of a GIF add up to its length, each of two hundredths at least',
    (perSecond) => {
      const delays = Array.from({ length: 1000 }, (_, i) => gifDelay(i, perSecond));
      const sum = delays.reduce((a, b) => a + b);
      expect(Math.abs(sum - (100 * 1000) / perSecond)).toBeLessThanOrEqual(0.5);
      expect(Math.min(...delays)).toBeGreaterThanOrEqual(2);
    },
  );

  test('films have even sides in the panel’s proportions, pictures the very width', () => {
    expect(filmSize({ widthMm: 640, heightMm: 420 }, 801)).toEqual({ widthPx: 802, heightPx: 526 });
    expect(pictureSize({ widthMm: 640, heightMm: 420 }, 801)).toEqual({ widthPx: 801, heightPx: 526 });
    expect(filmSize({ widthMm: 3000, heightMm: 10 }, 64)).toEqual({ widthPx: 64, heightPx: 2 });
  });
});

class FakePacker implements FilmPacker {
  readonly added: number[] = [];
  isCancelled = false;
  faultAt: number | undefined;
  readonly add = async (frame: number) => {
    if (frame === this.faultAt) throw new Error('the encoder gave up');
    this.added.push(frame);
  };
  readonly finish = async () => new Uint8Array(this.added);
  readonly cancel = async () => {
    this.isCancelled = true;
  };
}

function taskOf(packer: FilmPacker, wanted = () => true) {
  const painted: number[] = [];
  const progress: number[] = [];
  const task = {
    plan: filmPlan(0, 100, 50, 10),
    paint: (frame: number) => painted.push(frame),
    packer,
    onProgress: (done: number) => progress.push(done),
    pause: async () => wanted(),
  };
  return { task, painted, progress };
}

describe('[FILM2] making a film', () => {
  test('every frame is painted, packed and counted, in order', async () => {
    const packer = new FakePacker();
    const { task, painted, progress } = taskOf(packer);
    expect(await makeFilm(task)).toEqual(new Uint8Array([0, 1, 2, 3, 4]));
    expect(painted).toEqual([0, 2, 4, 6, 8]);
    expect(progress).toEqual([1, 2, 3, 4, 5]);
    expect(packer.isCancelled).toBe(false);
  });

  test('called off, it stops at the next frame and leaves nothing', async () => {
    const packer = new FakePacker();
    const { task, painted } = taskOf(packer, () => painted.length < 2);
    expect(await makeFilm(task)).toBeUndefined();
    expect(painted).toEqual([0, 2]);
    expect(packer.isCancelled).toBe(true);
  });

  test('a fault of the encoder is told, and what was begun is given up', async () => {
    const packer = new FakePacker();
    packer.faultAt = 3;
    await expect(makeFilm(taskOf(packer).task)).rejects.toThrow('the encoder gave up');
    expect(packer.isCancelled).toBe(true);
  });
});

describe('[FILM3] GIFs', () => {
  /** A picture of 16 x 4: the frame's grey on the left, a ramp of red on the right. */
  function pixelsOf(frame: number): Uint8Array {
    const rgba = new Uint8Array(16 * 4 * 4).fill(255);
    for (let i = 0; i < 64; i++) {
      const column = i % 16;
      const grey = 16 * frame;
      rgba.set(column < 8 ? [grey, grey, grey] : [16 * column, 0, 0], 4 * i);
    }
    return rgba;
  }

  test('count, delays and colours are those that went in', async () => {
    let frame = 0;
    const packer = gifPacker(() => pixelsOf(frame), { widthPx: 16, heightPx: 4 }, 30);
    for (frame = 0; frame < 12; frame++) await packer.add(frame);
    const bytes = await packer.finish();
    const gif = parseGIF(bytes.slice().buffer);
    const frames = decompressFrames(gif, true);
    expect(frames).toHaveLength(12);
    // 30 a second in hundredths: 3, 4, 3 (rounded ends at 3, 7, 10).
    expect(frames.map(({ delay }) => delay)).toEqual([30, 40, 30, 30, 40, 30, 30, 40, 30, 30, 40, 30]);
    for (const [index, { patch, dims }] of frames.entries()) {
      expect(dims).toMatchObject({ width: 16, height: 4 });
      const wanted = pixelsOf(index);
      // The encoder tells 5 bits of red and blue and 6 of green apart: steps of 8 and 4 of 255.
      for (let i = 0; i < wanted.length; i++) expect(Math.abs(patch[i]! - wanted[i]!)).toBeLessThanOrEqual(8);
    }
  });

  test('a frame of one colour is a frame too', async () => {
    const black = new Uint8Array(4 * 4 * 4);
    const packer = gifPacker(() => black, { widthPx: 4, heightPx: 4 }, 25);
    await packer.add(0);
    const [frame] = decompressFrames(parseGIF((await packer.finish()).slice().buffer), true);
    expect(frame!.delay).toBe(40);
    expect([...frame!.patch.subarray(0, 3)]).toEqual([0, 0, 0]);
  });
});
