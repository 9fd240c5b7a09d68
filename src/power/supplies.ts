// The panel's supplies: the document's first one and further ones, whose grounds are joined and whose + never are.
import { rowById, type Wire, wires } from '../catalogue/index.ts';
import { type Project, pointer } from '../project/index.ts';

export interface Supply {
  /** Undefined: the first one. */
  readonly id: string | undefined;
  readonly at: string;
  /** As its trimmer is set, without load. */
  readonly volts: number;
  readonly amps: number;
  readonly outputOhms: number;
  /** Of the wire that joins its ground to the first one's; 0 where they are joined at the terminals. */
  readonly groundOhms: number;
  /** The rating of that wire; undefined where there is none. */
  readonly groundWire: Wire | undefined;
}

export function wireById(id: string): Wire {
  const wire = rowById(wires, id);
  if (!wire) throw new Error(`no wire "${id}"; the project was not checked`);
  return wire;
}

/** One conductor of a wire, ohms at 20 C. */
export const wireOhms = (wire: Wire, lengthMm: number): number => (wire.ohmPerKm * lengthMm) / 1e6;

/**
 * The first supply, then the further ones in the document's order.
 * @param copperFactor of the wires that join their grounds, against 20 C
 */
export function suppliesOf({ power }: Pick<Project, 'power'>, copperFactor = 1): Supply[] {
  return [
    {
      ...power.supply,
      id: undefined,
      at: pointer('power', 'supply'),
      outputOhms: (power.supply.outputMilliohms ?? 0) / 1000,
      groundOhms: 0,
      groundWire: undefined,
    },
    ...(power.moreSupplies ?? []).map(({ id, volts, amps, outputMilliohms = 0, ground }, index) => {
      const groundWire = ground && wireById(ground.wire);
      return {
        id,
        volts,
        amps,
        at: pointer('power', 'moreSupplies', index),
        outputOhms: outputMilliohms / 1000,
        groundOhms: groundWire ? wireOhms(groundWire, ground.lengthMm) * copperFactor : 0,
        groundWire,
      };
    }),
  ];
}

/** Index in that list of the supply that a feed comes from. */
export const supplyOf = (
  supplies: readonly Supply[],
  feed: { readonly supply?: string | undefined },
): number => (feed.supply === undefined ? 0 : supplies.findIndex(({ id }) => id === feed.supply));
