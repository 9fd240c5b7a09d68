// Looks for flashes on a thread of its own: all that a project can play takes some seconds.
import playerUrl from '../../../firmware-templates/prebuilt/player.wasm?url';
import { Player } from '../../lampshow/index.ts';
import { type FlashTask, flashesFound } from './flash-task.ts';

const player = fetch(playerUrl)
  .then((response) => response.arrayBuffer())
  .then((wasm) => Player.load(wasm));

addEventListener('message', ({ data }: MessageEvent<FlashTask>) => {
  player.then(
    (loaded) => postMessage(flashesFound(data, loaded)),
    // Told as the worker's own fault: whoever asked hears of it.
    (error: unknown) => {
      setTimeout(() => {
        throw error;
      });
    },
  );
});
