// Verdicts on supplies in words.
import type { SupplySize, SupplyVerdict } from '../../../power/index.ts';

export const verdictWords: Readonly<Record<SupplyVerdict, string>> = {
  enough: 'Enough',
  tight: 'Too tight',
  'too-small': 'Too small',
};

/** What a size leaves free, or that it doesn't do. */
export const sizeWords = ({ verdict, loadShare }: Pick<SupplySize, 'verdict' | 'loadShare'>): string =>
  verdict === 'enough' ? `${Math.max(0, Math.round(100 * (1 - loadShare)))} % free` : verdictWords[verdict];
