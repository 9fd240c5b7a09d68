// Brings the workbench up when the page starts, and keeps what came of it.
import { useEffect, useState } from 'react';
import playerUrl from '../../../firmware-templates/prebuilt/player.wasm?url';
import sampleUrl from '../../../samples/midnight-carnival.lamploom.json?url';
import type { Result } from '../../project/index.ts';
import type { Tools } from '../workbench/context.ts';

/** All that computes comes in a second piece, so that the first words stand on the screen at once. */
async function open(): Promise<Result<Tools>> {
  const [{ openWorkbench }, { browserFiles, browserShelf }] = await Promise.all([
    import('./open-workbench.ts'),
    import('../files/ports.ts'),
  ]);
  return openWorkbench({ sample: sampleUrl, player: playerUrl }, browserFiles, browserShelf());
}

/** Undefined while it loads. */
export function useTools(): Result<Tools> | undefined {
  const [tools, setTools] = useState<Result<Tools>>();
  useEffect(() => {
    let wanted = true;
    open().then(
      (result) => wanted && setTools(result),
      // A fault of ours: let React's boundary show it.
      (error: unknown) =>
        wanted &&
        setTools(() => {
          throw error;
        }),
    );
    return () => {
      wanted = false;
    };
  }, []);
  return tools;
}
