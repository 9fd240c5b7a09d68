// Names and sentences of the build sheet: runs, places, wires, fuses. Not here: figures (src/power).
import { awgAreaMm2, type FuseKind, wires } from '../catalogue/index.ts';
import { type Layout, runTitle } from '../panel/index.ts';
import { numberedRuns } from './channels.ts';

export interface RunWords {
  /** Number as engraved beside the channel, and its name: "3 left mast". */
  readonly run: (id: string) => string;
  /** "run 3, LED 12". */
  readonly place: (at: { readonly run: string; readonly led: number } | null) => string;
}

export function runWords(layout: Layout): RunWords {
  const byId = new Map(numberedRuns(layout).map(({ number, placed }) => [placed.run.id, { number, placed }]));
  const known = (id: string) => byId.get(id)!;
  return {
    run: (id) => `${known(id).number} ${runTitle(known(id).placed.run)}`,
    place: (at) => (at ? `run ${known(at.run).number}, LED ${at.led}` : 'no LED'),
  };
}

/** As on the screen: the first one, then the further ones in the document's order. */
export const supplyName = (index: number): string => `Supply ${index + 1}`;

export const counted = (count: number, one: string, several = `${one}s`): string =>
  `${count} ${count === 1 ? one : several}`;

const gauges = wires.flatMap(({ id }) => (id.startsWith('AWG ') ? [Number(id.slice(4))] : []));

/**
 * A wire of the catalogue in both systems: "AWG 18 (0.82 mm²)". Of a metric one the thinnest gauge that has no less copper, "0.75 mm² (AWG 18)"; none where
 * the catalogue has none so thick.
 */
export function wireWords(id: string): string {
  if (id.startsWith('AWG ')) return `${id} (${awgAreaMm2(Number(id.slice(4))).toFixed(2)} mm²)`;
  const areaMm2 = Number.parseFloat(id);
  const gauge = gauges.findLast((one) => awgAreaMm2(one) >= areaMm2);
  const metric = id.replace('mm2', 'mm²');
  return gauge === undefined ? metric : `${metric} (AWG ${gauge})`;
}

/** "7.5 A blade". Where the document names no kind, fuses are chosen among blades. */
export const fuseWords = (amps: number | null, kind: FuseKind = 'blade'): string =>
  amps === null ? `no ${kind} is large enough` : `${amps} A ${kind}`;
