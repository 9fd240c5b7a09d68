// What supplies carry and verdicts on them in words. Pure.
import { supplyLoadShare } from '../../../catalogue/index.ts';
import {
  controllerAmps,
  type SupplyLoad,
  type SupplySize,
  type SupplyVerdict,
  settled,
} from '../../../power/index.ts';
import type { Project } from '../../../project/index.ts';

export const verdictWords: Readonly<Record<SupplyVerdict, string>> = {
  enough: 'Enough',
  tight: 'Too tight',
  'too-small': 'Too small',
};

/** What a size leaves free, or that it doesn't do; free is what the shown load leaves of 100. */
export const sizeWords = ({ verdict, loadShare }: Pick<SupplySize, 'verdict' | 'loadShare'>): string =>
  verdict === 'enough' ? `${Math.max(0, 100 - Math.round(100 * loadShare))} % free` : verdictWords[verdict];

type Given = Pick<Project, 'power' | 'output'>;
type Load = Pick<SupplyLoad, 'supply' | 'worstAmps' | 'drawAmps'>;

/** What the board draws from this supply, amperes: from the first one, or nothing. */
export const boardOn = (project: Pick<Project, 'power'>, { supply }: Pick<SupplyLoad, 'supply'>): number =>
  supply.id === undefined ? controllerAmps(project) : 0;

/** All white, neither limit nor brightness at work, with the board where it hangs on this supply. Amperes. */
export const whiteOn = (project: Pick<Project, 'power'>, load: Load): number =>
  settled(load.worstAmps + boardOn(project, load));

/** "With the board, all white", "limit kept": what the figure that a supply is chosen by is of. */
export function drawWords(project: Given, load: Load): string {
  const isLimited = project.power.limitAmps !== undefined;
  const isDimmed = project.output.brightnessPercent < 100;
  const held = isLimited ? (isDimmed ? 'held down' : 'limit kept') : 'brightness kept';
  const how = load.drawAmps < whiteOn(project, load) ? held : 'all white';
  return boardOn(project, load) > 0
    ? `With the board, ${how}`
    : `${how.charAt(0).toUpperCase()}${how.slice(1)}`;
}

/** Where only the limit or the brightness makes a supply enough: what it gives without them, amperes and share of its rating. */
export function withoutHold(
  project: Given,
  load: Load & Pick<SupplyLoad, 'verdict'>,
): { readonly words: string; readonly amps: number; readonly share: number } | undefined {
  const amps = whiteOn(project, load);
  const { supply, verdict } = load;
  if (verdict !== 'enough' || settled(amps / supplyLoadShare) <= supply.amps) return undefined;
  const words = project.power.limitAmps === undefined ? 'At full brightness' : 'If the limit fails';
  return { words, amps, share: amps / supply.amps };
}
