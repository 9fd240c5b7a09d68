// Opens the sample when the page starts, and keeps what came of it.
import { useEffect, useState } from 'react';
import playerUrl from '../../../firmware-templates/prebuilt/player.wasm?url';
import sampleUrl from '../../../samples/midnight-carnival.lamploom.json?url';
import type { Result } from '../../project/index.ts';
import type { OpenedProject } from './open-project.ts';

/** All that computes comes in a second piece, so that the first words stand on the screen at once. */
async function open(): Promise<Result<OpenedProject>> {
  const { openProject } = await import('./open-project.ts');
  return openProject({ project: sampleUrl, player: playerUrl });
}

/** Undefined while it loads. */
export function useProject(): Result<OpenedProject> | undefined {
  const [opened, setOpened] = useState<Result<OpenedProject>>();
  useEffect(() => {
    let wanted = true;
    open().then(
      (result) => wanted && setOpened(result),
      // A fault of ours: let React's boundary show it.
      (error: unknown) =>
        wanted &&
        setOpened(() => {
          throw error;
        }),
    );
    return () => {
      wanted = false;
    };
  }, []);
  return opened;
}
