// How even the panel is, as the canvas shows it: the map, the darkest places, and which of them is chosen. The stage Panel works it out; nothing of it is
// in the document.
import type { DarkPlace, EvennessMap } from '../../light/index.ts';
import { Watched } from './viewport.ts';

export interface EvennessView {
  readonly isShown: boolean;
  /** Undefined until it is worked out, and without light. */
  readonly map: EvennessMap | undefined;
  readonly worst: readonly DarkPlace[];
  readonly chosen: DarkPlace | undefined;
}

export const evennessView = new Watched<EvennessView>({
  isShown: false,
  map: undefined,
  worst: [],
  chosen: undefined,
});
