// Spans: an area's LEDs as stretches that lie together on the wire, and which clips find their LEDs black.
// Not here: the bytes that say so (show-data.ts).
import type { Clip } from '../project/index.ts';
import { type Segment, segmentOrder } from './line-data.ts';

const mostSpanLeds = 255;

/** A piece of an area that lies together on the wire. */
export interface Span {
  readonly firstLed: number;
  readonly ledCount: number;
  readonly segment: Segment;
}

/** An area's LEDs, in wire order, as spans of one colour order that fit one byte. */
export function spansOf(wires: readonly number[], segments: readonly Segment[]): Span[] {
  const spans: Span[] = [];
  let s = 0;
  for (const wire of wires) {
    while (segments[s] && wire >= segments[s]!.firstLed + segments[s]!.ledCount) s++;
    const segment = segments[s]!;
    const last = spans.at(-1);
    const joins =
      last &&
      segmentOrder(last.segment) === segmentOrder(segment) &&
      last.firstLed + last.ledCount === wire &&
      last.ledCount < mostSpanLeds;
    if (joins) spans[spans.length - 1] = { ...last, ledCount: last.ledCount + 1 };
    else spans.push({ firstLed: wire, ledCount: 1, segment });
  }
  return spans;
}

/**
 * For each clip in drawing order whether its LEDs are still black when it is drawn: no clip before it plays at any time that it plays, on any of
 * its LEDs. Tint on black is no colour to write.
 */
export function clipsOnBlack(
  clips: readonly Clip[],
  wiresOf: (area: string) => ReadonlySet<number>,
): boolean[] {
  const known = new Map<string, boolean>();
  const meet = (a: string, b: string): boolean => {
    const key = `${a} ${b}`;
    const value = known.get(key) ?? [...wiresOf(a)].some((wire) => wiresOf(b).has(wire));
    known.set(key, value);
    return value;
  };
  return clips.map(
    (clip, i) =>
      clip.blend !== 'tint' &&
      !clips
        .slice(0, i)
        .some(
          (below) =>
            below.startMs < clip.startMs + clip.lengthMs &&
            clip.startMs < below.startMs + below.lengthMs &&
            meet(below.area, clip.area),
        ),
  );
}
