// Zones: which LEDs have their + joined, and which feeds and supplies a zone has. Not here: resistances (panel-network.ts).
import type { Layout, PlacedLine, PlacedRun } from '../panel/index.ts';
import type { Project } from '../project/index.ts';

/** LEDs whose + is joined: consecutive runs of one data line up to a cut + jumper, or one run outside every chain. */
export interface Zone {
  readonly runs: readonly PlacedRun[];
  readonly firstLed: number;
  readonly ledCount: number;
  /** Indices in the project's list of feeds. */
  readonly feeds: readonly number[];
  /** Index of the data line; undefined for a run outside every chain. The player can't light such LEDs, but they can fail lit. */
  readonly line: number | undefined;
  readonly chained: boolean;
}

/** A line's runs, a new list after each jumper whose + is cut. */
function runsByZone(line: PlacedLine): PlacedRun[][] {
  const lists: PlacedRun[][] = [];
  for (const [index, placed] of line.runs.entries())
    if (index === 0 || line.jumpers[index - 1]!.power === 'cut') lists.push([placed]);
    else lists.at(-1)!.push(placed);
  return lists;
}

export function zonesOf(project: Project, layout: Layout): Zone[] {
  const lists = [
    ...layout.lines.flatMap((line) => runsByZone(line).map((runs) => ({ runs, line: line.index }))),
    ...layout.unchained.map((placed) => ({ runs: [placed], line: undefined })),
  ];
  let firstLed = 0;
  return lists.map(({ runs, line }) => {
    const ids = new Set(runs.map((placed) => placed.run.id));
    const ledCount = runs.reduce((sum, placed) => sum + placed.run.ledCount, 0);
    const feeds = [...project.power.feeds.keys()].filter((feed) => ids.has(project.power.feeds[feed]!.run));
    const zone = { runs, firstLed, ledCount, feeds, line, chained: line !== undefined };
    firstLed += ledCount;
    return zone;
  });
}

/** Index of each run's first LED in the list of LEDs. */
export function firstLeds(zones: readonly Zone[]): Map<string, number> {
  const first = new Map<string, number>();
  for (const zone of zones) {
    let led = zone.firstLed;
    for (const placed of zone.runs) {
      first.set(placed.run.id, led);
      led += placed.run.ledCount;
    }
  }
  return first;
}
