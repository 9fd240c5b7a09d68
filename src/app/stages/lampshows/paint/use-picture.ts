// Brings a picture's file into a clip as painted frames: asks for it or takes what was dropped, hands it to the worker, edits the clip.
import { fileOpen } from 'browser-fs-access';
import { useEffect, useRef, useState } from 'react';
import { changeClip, type PaintedEffect } from '../../../../project/index.ts';
import { choosePaintedFrames } from '../../../canvas/drags-paint.ts';
import { useWorkbench } from '../../../workbench/context.ts';
import { type PaintedPlace, paintedPlaceOf } from '../../../workbench/painting.ts';
import type { PictureAnswer, PictureTask } from './picture-task.ts';

/** Larger ones are no pictures for a few hundred LEDs. */
const mostFileBytes = 64 * 2 ** 20;

const pictureTypes = {
  extensions: ['.gif', '.png', '.jpg', '.jpeg'],
  mimeTypes: ['image/gif', 'image/png', 'image/jpeg'],
};

function answerOf(task: PictureTask): { readonly answer: Promise<PictureAnswer>; readonly stop: () => void } {
  const worker = new Worker(new URL('./picture-worker.ts', import.meta.url), { type: 'module' });
  const answer = new Promise<PictureAnswer>((resolve) => {
    worker.onmessage = ({ data }: MessageEvent<PictureAnswer>) => resolve(data);
    worker.onerror = () => resolve({ fault: 'It can’t be unpacked.' });
  });
  worker.postMessage(task, [task.bytes.buffer]);
  void answer.then(() => worker.terminate());
  return { answer, stop: () => worker.terminate() };
}

export interface PictureImport {
  /** The name of the file at work. */
  readonly busyWith: string | undefined;
  readonly choose: () => void;
  readonly take: (file: File) => void;
}

export function usePicture(painted: PaintedPlace, colours: number): PictureImport {
  const workbench = useWorkbench();
  const [busyWith, setBusyWith] = useState<string>();
  const stop = useRef<() => void>(undefined);
  useEffect(() => () => stop.current?.(), []);

  const tell = (name: string, line: string) =>
    workbench.set({ message: { title: `“${name}” was not taken in`, lines: [line] } });

  const put = (effect: PaintedEffect) => {
    // Another clip may be chosen by now, or this one may be gone.
    const now = paintedPlaceOf(workbench.state);
    const { show, row, clip } = painted.place;
    if (now?.place.show !== show || now.place.row !== row || now.place.clip !== clip) return;
    workbench.edit('Take in picture', changeClip(painted.place, { effect }));
    choosePaintedFrames(workbench, 0);
  };

  const take = async (file: File): Promise<void> => {
    if (file.size > mostFileBytes) {
      tell(file.name, 'It is larger than 64 MiB. Take a smaller picture.');
      return;
    }
    stop.current?.();
    setBusyWith(file.name);
    const { columns, rows } = painted.effect;
    const bytes = new Uint8Array(await file.arrayBuffer());
    const work = answerOf({ bytes, grid: { columns, rows }, colours });
    stop.current = work.stop;
    const answer = await work.answer;
    setBusyWith(undefined);
    if ('fault' in answer) tell(file.name, answer.fault);
    else put(answer.effect);
  };

  const choose = async (): Promise<void> => {
    try {
      await take(await fileOpen({ description: 'Pictures', ...pictureTypes }));
    } catch (error) {
      // Whoever closes the chooser thought better of it.
      if (!(error instanceof DOMException && error.name === 'AbortError')) throw error;
    }
  };
  return { busyWith, choose: () => void choose(), take: (file) => void take(file) };
}
