// How even the largest areas are, now and at other air gaps. Pure.
// Not here: the sums (src/light/evenness-map.ts), advice (area-advice.ts), when all this is worked out (use-evenness.ts).
import { type EvennessMap, evennessMap, evennessOfArea } from '../../../light/index.ts';
import { type AreaLed, areaLeds, type Layout } from '../../../panel/index.ts';
import type { Area, Project } from '../../../project/index.ts';

/** More could not be told apart. */
const mostAreas = 5;
export const mostCurves = 3;

/** Air gaps that curves are drawn over, mm. */
export const gapsMm: readonly number[] = Array.from({ length: 13 }, (_, step) => 6 + 3 * step);
/** Coarser than the map of the present gap: a curve is no wider on the screen. */
const curveMmPerPx = 5;

export interface ShownArea {
  readonly area: Area;
  readonly leds: readonly AreaLed[];
}

/** The largest areas. Those that hold the same LEDs are the same to the eye: the first of them stands for all. */
export function areasToShow(layout: Layout, areas: readonly Area[]): ShownArea[] {
  const seen = new Set<string>();
  return areas
    .map((area) => ({ area, leds: areaLeds(layout, area) }))
    .filter(({ leds }) => {
      const key = leds
        .map(({ wire }) => wire)
        .sort((a, b) => a - b)
        .join();
      // The whole panel is no area that an eye judges by itself where there are parts: its runs lie far apart by design.
      const isPart = leds.length < layout.wireLeds.length || areas.length === 1;
      const isNew = leds.length > 1 && isPart && !seen.has(key);
      seen.add(key);
      return isNew;
    })
    .sort((a, b) => b.leds.length - a.leds.length)
    .slice(0, mostAreas);
}

/** Least by mean of each area on a map. */
export const areasOnMap = (map: EvennessMap, layout: Layout, areas: readonly ShownArea[]): number[] =>
  areas.map(({ leds }) => evennessOfArea(map, layout, leds).minByMean);

/** The same at another air gap. */
export function areasAtGap(
  { panel, asBuilt }: Pick<Project, 'panel' | 'asBuilt'>,
  layout: Layout,
  areas: readonly ShownArea[],
  airGapMm: number,
): number[] {
  const at = { panel: { ...panel, airGapMm }, ...(asBuilt && { asBuilt }) };
  return areasOnMap(evennessMap(at, layout, { mmPerPx: curveMmPerPx }), layout, areas);
}
