// Under which conditions a panel's network is looked at: how warm the copper is, which fuses add their resistance, and what is broken.
import type { FuseKind } from '../catalogue/index.ts';

/** One conductor that can fail; `rail` says which of its two. */
export type ConductorPlace = { readonly rail: 'plus' | 'ground' } & (
  | { readonly kind: 'feed'; readonly feed: number }
  | { readonly kind: 'jumper'; readonly line: number; readonly place: number }
  | { readonly kind: 'segment'; readonly run: string; readonly led: number }
);

/** What is wrong with a conductor. A joint gone bad adds half an ohm. */
export interface Fault {
  readonly at: ConductorPlace;
  readonly what: 'cut' | 'bad-joint';
}

/** A cold or cracked solder joint that still conducts (the figure asked for; measured ones range from milliohms to open). */
export const badJointOhms = 0.5;

export interface Conditions {
  /** Copper's resistance against 20 C. */
  readonly copperFactor: number;
  readonly faults: readonly Fault[];
  /** By index of the feed: the fuse whose resistance counts; none where undefined. */
  readonly fuses: readonly ({ readonly kind: FuseKind; readonly amps: number } | undefined)[];
  /** What the board draws at the first supply's output, beside the strips. */
  readonly boardAmps: number;
}

/** 20 C, nothing broken, wires alone. */
export const usualConditions: Conditions = { copperFactor: 1, faults: [], fuses: [], boardAmps: 0 };

/** One text for each place, so that two can be compared. */
export function placeKey(place: ConductorPlace): string {
  switch (place.kind) {
    case 'feed':
      return `feed ${place.feed} ${place.rail}`;
    case 'jumper':
      return `jumper ${place.line} ${place.place} ${place.rail}`;
    case 'segment':
      return `segment ${place.run} ${place.led} ${place.rail}`;
  }
}

export const faultOf = (faults: readonly Fault[], place: ConductorPlace): Fault['what'] | undefined =>
  faults.length === 0 ? undefined : faults.find(({ at }) => placeKey(at) === placeKey(place))?.what;
