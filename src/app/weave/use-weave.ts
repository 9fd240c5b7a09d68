// Weaves and peaks of clips for React. A second player makes them, so that the one that fills the glass keeps its show data. What was made is
// kept by what it was made from; until a new weave is ready the last one stands.
import { useEffect, useRef, useState } from 'react';
import playerUrl from '../../../firmware-templates/prebuilt/player.wasm?url';
import { Player } from '../../lampshow/index.ts';
import type { PanelNetwork } from '../../power/index.ts';
import type { Effect } from '../../project/index.ts';
import { useWorkbench } from '../workbench/context.ts';
import { type ClipSource, sameSource } from './clip-source.ts';
import { Loom } from './loom.ts';
import { clipPeakAmps, type Weave, type Work, weaveClip } from './weave.ts';

const loom = new Loom({
  nowMs: () => performance.now(),
  later: (run) => {
    setTimeout(run, 0);
  },
});

let loading: Promise<Player> | undefined;
const secondPlayer = (): Promise<Player> => {
  loading ??= fetch(playerUrl)
    .then((response) => response.arrayBuffer())
    .then((wasm) => Player.load(wasm));
  return loading;
};

interface Known {
  readonly source: ClipSource;
  readonly weave: Weave;
}
/** Going to and fro between two lengths or gradients needs no new weave; more than a few would only fill memory. */
const mostKnown = 4;
const knownWeaves = new WeakMap<Effect, readonly Known[]>();

const knownWeave = (source: ClipSource): Weave | undefined =>
  knownWeaves.get(source.clip.effect)?.find((known) => sameSource(known.source, source))?.weave;

function keep(source: ClipSource, weave: Weave): void {
  const others = knownWeaves.get(source.clip.effect) ?? [];
  knownWeaves.set(source.clip.effect, [{ source, weave }, ...others].slice(0, mostKnown));
}

/** The same object as long as the picture is the same. */
function useStableSource(source: ClipSource | undefined): ClipSource | undefined {
  const last = useRef(source);
  if (!(last.current && source && sameSource(last.current, source))) last.current = source;
  return last.current;
}

/** Work that one component has in the loom. */
function useLoom(): (begin: (player: Player) => Work<void>) => void {
  const workbench = useWorkbench();
  const slot = useRef({ isWanted: true }).current;
  useEffect(() => {
    slot.isWanted = true;
    return () => {
      slot.isWanted = false;
      loom.withdraw(slot);
    };
  }, [slot]);
  return (begin) => {
    secondPlayer().then(
      (player) => slot.isWanted && loom.ask(slot, () => begin(player)),
      () =>
        workbench.set({
          message: {
            title: 'Clips are shown without their weave',
            lines: ['The player did not arrive a second time. Save your project and reload the page.'],
          },
        }),
    );
  };
}

export function useWeave(source: ClipSource | undefined): Weave | undefined {
  const stable = useStableSource(source);
  const [last, setLast] = useState<Weave>();
  const ask = useLoom();
  // biome-ignore lint/correctness/useExhaustiveDependencies: asking again makes sense only for another picture
  useEffect(() => {
    if (!stable || knownWeave(stable)) return;
    ask(function* (player) {
      const weave = yield* weaveClip(player, stable);
      keep(stable, weave);
      setLast(weave);
    });
  }, [stable]);
  return (stable && knownWeave(stable)) ?? last;
}

/** Playing a whole clip takes a while: a burst of edits is weighed once, when it is over. */
const calmMs = 300;

/** Undefined until it is known; then the last one stands until there is a new one. `moments` must be the same array for the same frames. */
export function useClipPeak(
  source: ClipSource | undefined,
  panel: PanelNetwork,
  moments: readonly number[],
): number | undefined {
  const stable = useStableSource(source);
  const [peakAmps, setPeakAmps] = useState<number>();
  const ask = useLoom();
  const fits = stable !== undefined && panel.wireLedCount === stable.layout.wireLeds.length;
  // biome-ignore lint/correctness/useExhaustiveDependencies: asking again makes sense only for other frames
  useEffect(() => {
    if (!stable || !fits) return;
    const begin = () =>
      ask(function* (player) {
        setPeakAmps(yield* clipPeakAmps(player, stable, panel, moments));
      });
    const timer = setTimeout(begin, peakAmps === undefined ? 0 : calmMs);
    return () => clearTimeout(timer);
  }, [stable, panel, moments, fits]);
  return peakAmps;
}
