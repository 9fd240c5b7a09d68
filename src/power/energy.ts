// What an evening of play takes from the mains, and how much heat it leaves in the box. Not here: what shows draw (load-cases.ts).
import { supplyEfficiency } from '../catalogue/index.ts';
import type { Project } from '../project/index.ts';
import { controllerAmps } from './controller.ts';

/** An evening's play in hours where the project doesn't say. */
export const usualEveningHours = 4;

export interface EveningEnergy {
  readonly hours: number;
  /** What the supplies give on average: LEDs and board. */
  readonly givenWatts: number;
  /** What they take for it. */
  readonly mainsWatts: number;
  readonly kilowattHours: number;
  /**
   * In the box. All that the LEDs get counts as heat: most of it is, and what leaves as light is mostly swallowed by sheet and print. The supplies' own
   * losses count where they sit inside.
   */
  readonly heatWatts: number;
}

/**
 * An evening at one average load. The supplies are taken to have 85 % efficiency (common practice, no source).
 * @param ledWatts what all LEDs draw on average, measured at the supplies: a show's averageWatts; >= 0
 * @param isSupplyInside whether the supplies sit in the box too
 */
export function eveningEnergy(
  { power }: Pick<Project, 'power'>,
  ledWatts: number,
  isSupplyInside: boolean,
): EveningEnergy {
  const hours = power.eveningHours ?? usualEveningHours;
  const givenWatts = ledWatts + controllerAmps({ power }) * power.supply.volts;
  const mainsWatts = givenWatts / supplyEfficiency;
  return {
    hours,
    givenWatts,
    mainsWatts,
    kilowattHours: (mainsWatts * hours) / 1000,
    heatWatts: isSupplyInside ? mainsWatts : givenWatts,
  };
}
