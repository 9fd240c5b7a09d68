// Plays all shows for their power on a thread of its own: volts frame by frame, and events in all their sequences, take some seconds.
import playerUrl from '../../../firmware-templates/prebuilt/player.wasm?url';
import { Player } from '../../lampshow/index.ts';
import { type PowerTask, runPowerTask } from './power-task.ts';

const player = fetch(playerUrl)
  .then((response) => response.arrayBuffer())
  .then((wasm) => Player.load(wasm));

addEventListener('message', ({ data }: MessageEvent<PowerTask>) => {
  player.then(
    (loaded) => runPowerTask(data, loaded, (word) => postMessage(word)),
    // Told as the worker's own fault: whoever asked hears of it.
    (error: unknown) => {
      setTimeout(() => {
        throw error;
      });
    },
  );
});
