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
import { clipPeakAmps, type Weave, type WeavePart, type Work, weaveClip, wholeClip } from './weave.ts';

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

/** A picture of some of a clip's columns. */
export interface WovenPart {
  readonly part: WeavePart;
  readonly weave: Weave;
}

interface Known extends WovenPart {
  readonly source: ClipSource;
}
/** Going to and fro between two lengths, gradients or zooms needs no new weave; more than a few would only fill memory. */
const mostKnown = 6;
const knownWeaves = new WeakMap<Effect, readonly Known[]>();

const samePart = (a: WeavePart, b: WeavePart): boolean =>
  a.columns === b.columns && a.fromColumn === b.fromColumn && a.toColumn === b.toColumn;

const knownPart = (source: ClipSource, part: WeavePart): WovenPart | undefined =>
  knownWeaves
    .get(source.clip.effect)
    ?.find((known) => samePart(known.part, part) && sameSource(known.source, source));

function keep(source: ClipSource, part: WeavePart, weave: Weave): Known {
  const known = { source, part, weave };
  const others = knownWeaves.get(source.clip.effect) ?? [];
  knownWeaves.set(source.clip.effect, [known, ...others].slice(0, mostKnown));
  return known;
}

/** The same object as long as the picture is the same. */
function useStableSource(source: ClipSource | undefined): ClipSource | undefined {
  const last = useRef(source);
  if (!(last.current && source && sameSource(last.current, source))) last.current = source;
  return last.current;
}

function useStablePart(part: WeavePart | undefined): WeavePart | undefined {
  const last = useRef(part);
  if (!(last.current && part && samePart(last.current, part))) last.current = part;
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

export interface ClipWeaves {
  /** The whole clip in few columns: what is seen until the part in view is ready, and while scrolling. */
  readonly whole: WovenPart | undefined;
  /** What is in view, a column a pixel; of another zoom, or of the clip before the last edit, until the new one is ready. */
  readonly sharp: WovenPart | undefined;
}

/** `inView` is undefined where the whole clip's few columns do. What is in view is woven first. */
export function useClipWeaves(source: ClipSource | undefined, inView: WeavePart | undefined): ClipWeaves {
  const stable = useStableSource(source);
  const part = useStablePart(inView);
  const [last, setLast] = useState<ClipWeaves>({ whole: undefined, sharp: undefined });
  const ask = useLoom();
  const whole = stable && wholeClip(stable.clip.lengthMs);
  // biome-ignore lint/correctness/useExhaustiveDependencies: asking again makes sense only for another picture
  useEffect(() => {
    if (!stable || !whole) return;
    const missing = [...(part ? [part] : []), whole].filter((one) => !knownPart(stable, one));
    const askNext = () => {
      const next = missing.shift();
      if (!next) return;
      ask(function* (player) {
        const woven = keep(stable, next, yield* weaveClip(player, stable, next));
        setLast((before) => (next === whole ? { ...before, whole: woven } : { ...before, sharp: woven }));
        askNext();
      });
    };
    askNext();
  }, [stable, part]);
  return {
    whole: (stable && whole && knownPart(stable, whole)) ?? last.whole,
    sharp: part && ((stable && knownPart(stable, part)) ?? last.sharp),
  };
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
