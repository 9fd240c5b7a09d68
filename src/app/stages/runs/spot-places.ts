// Marked spots as places with numbers: a new one, one that is moved, and in words which of them stay dark and why. Pure.
import type { DarkReason, PointMm } from '../../../panel/index.ts';
import { ledListText } from './led-list.ts';

/** From a new spot to the one that has its place already. */
const besideMm = 10;

/** One more spot, in the panel's middle, or beside the spots that are there. */
export function withNewSpot(
  spots: readonly PointMm[],
  { widthMm, heightMm }: { readonly widthMm: number; readonly heightMm: number },
): PointMm[] {
  const yMm = heightMm / 2;
  let xMm = widthMm / 2;
  while (spots.some((spot) => spot.xMm === xMm && spot.yMm === yMm)) xMm += besideMm;
  return [...spots, { xMm, yMm }];
}

export const withMovedSpot = (
  spots: readonly PointMm[],
  index: number,
  change: Partial<PointMm>,
): PointMm[] => spots.map((spot, i) => (i === index ? { ...spot, ...change } : spot));

export const withoutSpot = (spots: readonly PointMm[], index: number): PointMm[] =>
  spots.filter((_, i) => i !== index);

const reasons: Readonly<Record<DarkReason, string>> = {
  'off-panel': 'off the panel',
  'keep-out': 'in a keep-out',
  'no-room': 'without room for a run',
  limit: 'beyond what a project holds',
};

/** `spot 3 in a keep-out`, numbered from 1 as in the list; a phrase for each reason. */
export function darkSpots(dark: readonly { readonly spot: number; readonly reason: DarkReason }[]): string[] {
  return (Object.keys(reasons) as DarkReason[]).flatMap((reason) => {
    const numbers = dark.filter((one) => one.reason === reason).map(({ spot }) => spot + 1);
    if (numbers.length === 0) return [];
    return [`${numbers.length === 1 ? 'spot' : 'spots'} ${ledListText(numbers)} ${reasons[reason]}`];
  });
}
