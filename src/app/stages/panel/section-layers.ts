// What lies behind what in a section through a run, from the front to the back, in mm. Pure.
// Not here: drawing it (section.tsx).
import type { Panel } from '../../../project/index.ts';

/** Common practice, no source: what is drawn where the document doesn't say it, and what it gets where the builder adds it. */
export const usualMm = {
  glass: 4,
  print: 0.3,
  backing: 12,
  channel: 3,
  bit: 3.175,
  flex: 0.4,
  led: 1.6,
} as const;

export type LayerId = 'glass' | 'print' | 'diffuser' | 'gap' | 'strip' | 'backing';

export interface Layer {
  readonly id: LayerId;
  readonly label: string;
  readonly thicknessMm: number;
  /** From the front of everything. The strip lies inside its channel, so it overlaps the backing. */
  readonly topMm: number;
  /** Whether the document says it, or it is only usual. */
  readonly isTold: boolean;
}

/**
 * The layers of a panel. The strip lies on the ground of its channel; the air gap goes from its LEDs' faces to the diffuser, whether they look out of
 * the channel or not.
 */
export function sectionLayers(
  { glassMm, airGapMm, backing }: Pick<Panel, 'glassMm' | 'airGapMm' | 'backing'>,
  sheetMm: number,
): Layer[] {
  const channelMm = backing?.channelDepthMm ?? usualMm.channel;
  const stripMm = usualMm.flex + usualMm.led;
  const printTop = glassMm ?? 0;
  const sheetTop = printTop + usualMm.print;
  const gapTop = sheetTop + sheetMm;
  const stripTop = gapTop + airGapMm;
  const backingTop = stripTop + stripMm - channelMm;
  const front = { topMm: 0, isTold: true };
  return [
    ...(glassMm === undefined
      ? []
      : [{ ...front, id: 'glass' as const, label: 'Glass', thicknessMm: glassMm }]),
    { id: 'print', label: 'Artwork print', thicknessMm: usualMm.print, topMm: printTop, isTold: false },
    { id: 'diffuser', label: 'Diffuser', thicknessMm: sheetMm, topMm: sheetTop, isTold: true },
    { id: 'gap', label: 'Air gap', thicknessMm: airGapMm, topMm: gapTop, isTold: true },
    {
      id: 'strip',
      label: `Strip in ${channelMm.toFixed(1)} mm channel`,
      thicknessMm: stripMm,
      topMm: stripTop,
      isTold: false,
    },
    {
      id: 'backing',
      label: backing?.material === undefined ? 'Backing' : `Backing, ${backing.material.toLowerCase()}`,
      thicknessMm: backing?.thicknessMm ?? usualMm.backing,
      topMm: backingTop,
      isTold: backing !== undefined,
    },
  ];
}

/** From the front of the foremost layer to the back of the hindmost. */
export const depthMm = (layers: readonly Layer[]): number =>
  Math.max(...layers.map(({ topMm, thicknessMm }) => topMm + thicknessMm));

/** Heights of labels beside the middles of their layers, kept in order and at least so far apart, all between 0 and the whole height. */
export function spreadLabels(middles: readonly number[], apart: number, height: number): number[] {
  const placed: number[] = [];
  for (const middle of middles) placed.push(Math.max(middle, (placed.at(-1) ?? -apart / 2) + apart));
  let most = height - apart / 2;
  for (let i = placed.length - 1; i >= 0; i--) {
    placed[i] = Math.min(placed[i]!, most);
    most = placed[i]! - apart;
  }
  return placed;
}
