// What taking a pack in comes to, in sentences. Pure.
import type { PlannedImport } from '../../../../lampshow/pack-import.ts';
import type { Project } from '../../../../project/index.ts';

const counted = (count: number, one: string, many: string): string =>
  count === 1 ? `one ${one}` : `${count} ${many}`;

const capital = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

/** `A, B and C` */
const listed = (names: readonly string[]): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;

export const takeInWords = (count: number): string =>
  count === 0 ? 'Take shows in' : `Take ${counted(count, 'show', 'shows')} in`;

/** What comes: `3 shows with 2 game events. 4 gradients are new.` */
export function comingWords(plan: PlannedImport): string {
  const { shows, eventCount, newGradientCount, sharedGradientCount, areas } = plan;
  if (shows.length === 0) return 'Nothing would come.';
  const parts = [
    `${capital(counted(shows.length, 'show', 'shows'))}${
      eventCount > 0 ? ` with ${counted(eventCount, 'game event', 'game events')}` : ''
    }.`,
  ];
  if (newGradientCount > 0)
    parts.push(`${capital(counted(newGradientCount, 'gradient is', 'gradients are'))} new.`);
  if (sharedGradientCount > 0)
    parts.push(`${capital(counted(sharedGradientCount, 'gradient is', 'gradients are'))} here already.`);
  if (areas.length > 0) parts.push(`${capital(counted(areas.length, 'area is', 'areas are'))} added.`);
  return parts.join(' ');
}

/** What doesn't come, in a few sentences; of which areas, the table says. */
export function leftOutWords({ leftOut, emptyShows, refusals }: PlannedImport): string[] {
  const clipCount = leftOut.reduce((sum, one) => sum + one.clipCount, 0);
  return [
    ...(clipCount === 0
      ? []
      : [
          clipCount === 1
            ? 'One clip is left out, as its area has no counterpart here.'
            : `${clipCount} clips are left out, as their areas have no counterpart here.`,
        ]),
    ...(emptyShows.length === 0 ? [] : [`No clip is left of ${listed(emptyShows)}: not taken in.`]),
    ...refusals,
  ];
}

export const clipsLeftOut = (count: number): string => `without ${counted(count, 'clip', 'clips')}`;

/** A show's peak against what the panel is allowed and what feeds it. */
export function ampsWords(peakAmps: number, { limitAmps, supply }: Project['power']): string {
  if (limitAmps !== undefined && peakAmps > limitAmps)
    return `held to the limit of ${limitAmps.toFixed(2)} A`;
  if (peakAmps > supply.amps) return `more than the supply’s ${supply.amps.toFixed(2)} A`;
  return limitAmps === undefined
    ? `of the supply’s ${supply.amps.toFixed(2)} A`
    : `below the limit of ${limitAmps.toFixed(2)} A`;
}

export const isTooMuch = (peakAmps: number, { limitAmps, supply }: Project['power']): boolean =>
  peakAmps > Math.min(limitAmps ?? Number.POSITIVE_INFINITY, supply.amps);
