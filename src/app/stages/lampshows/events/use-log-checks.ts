// Whether kept logs still play as they are expected to: asked of the player when the page has nothing else to do, one log after the other, and anew
// for what an edit has changed.
import { useEffect, useState } from 'react';
import { expectedDiffers, playedShows, pressLogStart, type ShowData } from '../../../../lampshow/index.ts';
import type { PressLog } from '../../../../project/index.ts';
import { useSettled, useWorkbench } from '../../../workbench/context.ts';
import { nameOf } from '../words.ts';

/** Sentences of what differs; none where all is as expected. */
export type Differences = readonly string[];

interface Checked {
  readonly showData: ShowData;
  readonly start: string;
  readonly differs: Differences;
}

const noLogs: readonly PressLog[] = [];
/** A playing page is never idle. */
const latestMs = 300;

function whenIdle(run: () => void): () => void {
  // Safari has none.
  if (!('requestIdleCallback' in globalThis)) {
    const timer = setTimeout(run, latestMs);
    return () => clearTimeout(timer);
  }
  const request = requestIdleCallback(run, { timeout: latestMs });
  return () => cancelIdleCallback(request);
}

/** By the log itself; one that is not there is not checked yet. */
export function useLogChecks(): ReadonlyMap<PressLog, Differences> {
  const workbench = useWorkbench();
  const { project, showData, frameMs } = useSettled();
  const logs = project.pressLogs ?? noLogs;
  const [checked, setChecked] = useState<ReadonlyMap<PressLog, Checked>>(new Map());
  const isCurrent = (log: PressLog): boolean => {
    const known = checked.get(log);
    return known?.showData === showData && known?.start === pressLogStart(log, project);
  };
  const next = showData && logs.find((log) => !isCurrent(log));
  useEffect(() => {
    if (!next || !showData) return;
    return whenIdle(() => {
      // An edit may come before this effect hears of it.
      if (workbench.state.settled.showData !== showData) return;
      const start = pressLogStart(next, project);
      const played = playedShows(workbench.ports.player, next, start, frameMs);
      const named = (id: string) => nameOf(project.lampshows.find((show) => show.id === id) ?? { id });
      const differs = expectedDiffers(next, played, frameMs, named);
      setChecked((all) => {
        const kept = [...all].filter(([log]) => logs.includes(log));
        return new Map([...kept, [next, { showData, start, differs }]]);
      });
    });
  }, [workbench, project, logs, next, showData, frameMs]);
  return new Map(logs.filter(isCurrent).map((log) => [log, checked.get(log)!.differs]));
}
