// Works out how even the panel is, when the hands rest and the page has nothing else to do: first the map of the present gap, then curve point by
// curve point. The map goes to the canvas too.
import { useEffect, useState } from 'react';
import { evennessMap, worstPlaces } from '../../../light/index.ts';
import type { Layout } from '../../../panel/index.ts';
import type { Project } from '../../../project/index.ts';
import { evennessView } from '../../canvas/evenness-view.ts';
import { useSettled } from '../../workbench/context.ts';
import { areasAtGap, areasOnMap, areasToShow, type Evenness, gapsMm } from './area-evenness.ts';

const restMs = 200;
const mostPlaces = 5;

/** Resolves when the page has nothing to do. */
const idle = (): Promise<void> =>
  new Promise((resolve) => {
    // Safari has none.
    if ('requestIdleCallback' in globalThis) requestIdleCallback(() => resolve(), { timeout: 500 });
    else setTimeout(resolve, 20);
  });

async function workOut(
  project: Project,
  layout: Layout,
  isWanted: () => boolean,
  tell: (evenness: Evenness) => void,
): Promise<void> {
  await idle();
  if (!isWanted()) return;
  const map = evennessMap(project, layout);
  const areas = areasToShow(layout, project.areas);
  const { airGapMm } = project.panel;
  const first = { layout, airGapMm, areas, now: areasOnMap(map, layout, areas), atGaps: [] };
  const view = evennessView.current();
  const worst = worstPlaces(map, mostPlaces);
  // What was chosen stays chosen as long as it is among the darkest.
  const chosen = worst.find(({ xMm, yMm }) => xMm === view.chosen?.xMm && yMm === view.chosen.yMm);
  evennessView.set({ ...view, map: map.mean > 0 ? map : undefined, worst, chosen });
  tell(first);
  const atGaps: Evenness['atGaps'][number][] = [];
  for (const gapMm of areas.length > 0 ? gapsMm : []) {
    await idle();
    if (!isWanted()) return;
    atGaps.push(areasAtGap(project, layout, areas, gapMm, map.mmPerPx));
  }
  tell({ ...first, atGaps });
}

/** Undefined until it is worked out for the first time; the one before while the next is worked out. */
export function useEvenness(): Evenness | undefined {
  const { project, layout } = useSettled();
  const [evenness, setEvenness] = useState<Evenness>();
  const { panel, areas, asBuilt } = project;
  const { airGapMm, opening, widthMm, heightMm, baffles, backing } = panel;
  // What else the document holds says nothing about evenness.
  // biome-ignore lint/correctness/useExhaustiveDependencies: see above
  useEffect(() => {
    let isWanted = true;
    const timer = setTimeout(() => {
      void workOut(project, layout, () => isWanted, setEvenness);
    }, restMs);
    return () => {
      isWanted = false;
      clearTimeout(timer);
    };
  }, [layout, areas, asBuilt, airGapMm, opening, widthMm, heightMm, baffles, backing]);
  return evenness;
}
