// A stage's parts, brought in when they are wanted: the page opens with one stage, and the code of the others need not be read before its
// first picture. They are fetched as soon as the page has nothing to do, so that entering a stage hardly ever waits.
// Not here: where the parts stand (workspace.tsx).
import { useEffect, useState } from 'react';
import type { StageId } from '../workbench/workbench.ts';
import { lampshowsStage } from './lampshows/index.tsx';
import type { StageParts } from './stage-parts.ts';

/** The workbench opens with this one. */
const openingStage = lampshowsStage;

const loaders: Readonly<Record<StageId, () => StageParts | Promise<StageParts>>> = {
  panel: async () => (await import('./panel/index.tsx')).panelStage,
  runs: async () => (await import('./runs/index.tsx')).runsStage,
  lampshows: () => openingStage,
  power: async () => (await import('./power/index.tsx')).powerStage,
  workshop: async () => (await import('./workshop/index.tsx')).workshopStage,
  board: async () => (await import('./board/index.tsx')).boardStage,
};

const loaded = new Map<StageId, StageParts>([['lampshows', openingStage]]);

async function load(stage: StageId): Promise<StageParts> {
  const parts = loaded.get(stage) ?? (await loaders[stage]());
  loaded.set(stage, parts);
  return parts;
}

/** A page that paints without rest is never idle. */
const latestMs = 2000;

function whenIdle(run: () => void): () => void {
  // Safari has none.
  if (!('requestIdleCallback' in globalThis)) {
    const timer = setTimeout(run, latestMs);
    return () => clearTimeout(timer);
  }
  const request = requestIdleCallback(run, { timeout: latestMs });
  return () => cancelIdleCallback(request);
}

/** The parts of this stage, or of the one before until they have come: the frame never stands empty. */
export function useStageParts(stage: StageId): { readonly parts: StageParts; readonly isArrived: boolean } {
  const parts = loaded.get(stage);
  const [shown, setShown] = useState(parts ?? openingStage);
  if (parts && parts !== shown) setShown(parts);
  useEffect(() => {
    let wanted = true;
    load(stage).then(
      (arrived) => wanted && setShown(arrived),
      // Without its code a stage can't be shown: let React's boundary say so.
      (error: unknown) =>
        wanted &&
        setShown(() => {
          throw error;
        }),
    );
    return () => {
      wanted = false;
    };
  }, [stage]);
  useEffect(
    () =>
      whenIdle(() => {
        // What fails here is tried again when the stage is entered.
        void Promise.allSettled((Object.keys(loaders) as StageId[]).map(load));
      }),
    [],
  );
  return { parts: parts ?? shown, isArrived: parts !== undefined };
}
