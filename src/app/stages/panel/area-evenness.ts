// How even the largest areas are, now and at other air gaps. Pure.
// Not here: the sums (src/light/evenness-map.ts), advice (area-advice.ts), when all this is worked out (use-evenness.ts).
import { type AreaEvenness, type EvennessMap, evennessMap, evennessOfArea } from '../../../light/index.ts';
import { type AreaLed, areaLeds, type Layout } from '../../../panel/index.ts';
import type { Area, Project } from '../../../project/index.ts';

/** More could not be told apart. */
const mostAreas = 5;

/** Air gaps that curves are drawn over, mm. */
export const gapsMm: readonly number[] = Array.from({ length: 13 }, (_, step) => 6 + 3 * step);

export interface ShownArea {
  readonly area: Area;
  readonly leds: readonly AreaLed[];
}

export interface Evenness {
  readonly layout: Layout;
  readonly airGapMm: number;
  readonly areas: readonly ShownArea[];
  /** Each area at the present gap. */
  readonly now: readonly AreaEvenness[];
  /** Each area at each of `gapsMm`; empty until all are there. */
  readonly atGaps: readonly (readonly AreaEvenness[])[];
}

/** So many of all LEDs are most of them. */
const mostOfLeds = 0.5;

/** The largest areas. Those that hold the same LEDs are the same to the eye: the first of them stands for all. */
export function areasToShow(layout: Layout, areas: readonly Area[]): ShownArea[] {
  const seen = new Set<string>();
  const all = layout.wireLeds.length;
  const held = areas.map((area) => ({ area, leds: areaLeds(layout, area) }));
  // The whole panel is no area that an eye judges by itself where parts hold most of it: its runs lie far apart by design.
  const inParts = held.flatMap(({ leds }) => (leds.length < all ? leds.map(({ wire }) => wire) : []));
  const hasParts = new Set(inParts).size > mostOfLeds * all;
  return held
    .filter(({ leds }) => {
      const key = leds
        .map(({ wire }) => wire)
        .sort((a, b) => a - b)
        .join();
      const isTold = leds.length < all || !hasParts;
      const isNew = leds.length > 1 && isTold && !seen.has(key);
      seen.add(key);
      return isNew;
    })
    .sort((a, b) => b.leds.length - a.leds.length)
    .slice(0, mostAreas);
}

/** How even each area is on a map. */
export const areasOnMap = (map: EvennessMap, layout: Layout, areas: readonly ShownArea[]): AreaEvenness[] =>
  areas.map(({ leds }) => evennessOfArea(map, layout, leds));

/** The same at another air gap. `mmPerPx` is that of the map of the present gap, or its figures would not lie on the curve. */
export function areasAtGap(
  { panel, asBuilt }: Pick<Project, 'panel' | 'asBuilt'>,
  layout: Layout,
  areas: readonly ShownArea[],
  airGapMm: number,
  mmPerPx: number,
): AreaEvenness[] {
  const at = { panel: { ...panel, airGapMm }, ...(asBuilt && { asBuilt }) };
  return areasOnMap(evennessMap(at, layout, { mmPerPx }), layout, areas);
}

/** One point of an area's curve. */
export interface AtGap {
  readonly airGapMm: number;
  readonly minByMean: number;
  readonly isDarkestAtEdge: boolean;
}

/** An area's curve with the present gap as a point of it, from the narrowest gap to the widest; without curves yet the present gap alone. */
export const curveOf = (
  { airGapMm, now, atGaps }: Pick<Evenness, 'airGapMm' | 'now' | 'atGaps'>,
  index: number,
): AtGap[] =>
  [
    { airGapMm, ...now[index]! },
    ...atGaps.map((figures, at) => ({ airGapMm: gapsMm[at]!, ...figures[index]! })),
  ].sort((a, b) => a.airGapMm - b.airGapMm);
