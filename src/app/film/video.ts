// Films by the browser's own video encoder, in WebM or MP4. Brought in only when a film is made.
import {
  BufferTarget,
  CanvasSource,
  canEncodeVideo,
  Mp4OutputFormat,
  Output,
  QUALITY_HIGH,
  WebMOutputFormat,
} from 'mediabunny';
import type { FilmCodec } from './film-kinds.ts';
import type { FilmPacker } from './film-maker.ts';

/** Whoever looks for a moment finds it without decoding more than this, seconds. */
const keyFrameSeconds = 1;

const encoding = (codec: FilmCodec) => ({ codec, quality: QUALITY_HIGH, keyFrameInterval: keyFrameSeconds });

/** Whether the browser packs such video; asked of its encoder, since some name codecs that they refuse later. */
export async function canEncode(codec: FilmCodec, width: number, height: number): Promise<boolean> {
  try {
    return await canEncodeVideo(codec, { width, height, quality: QUALITY_HIGH });
  } catch {
    return false;
  }
}

/** Takes its frames from the canvas. Rejects where the browser's encoder fails. */
export async function videoPacker(
  container: 'mp4' | 'webm',
  codec: FilmCodec,
  canvas: HTMLCanvasElement,
  perSecond: number,
): Promise<FilmPacker> {
  const target = new BufferTarget();
  const output = new Output({
    format: container === 'mp4' ? new Mp4OutputFormat({ fastStart: 'in-memory' }) : new WebMOutputFormat(),
    target,
  });
  const source = new CanvasSource(canvas, encoding(codec));
  // Said beforehand, so that the last frame too has its time in the file.
  output.addVideoTrack(source, { frameRate: perSecond });
  await output.start();
  return {
    add: (frame) => source.add(frame / perSecond, 1 / perSecond),
    finish: async () => {
      await output.finalize();
      return new Uint8Array(target.buffer!);
    },
    cancel: () => output.cancel(),
  };
}
