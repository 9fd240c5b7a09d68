// The board's own supply: what it draws, and which voltage it gets while the strips are all white.
import type { Wire } from '../catalogue/index.ts';
import type { Controller, Project } from '../project/index.ts';
import type { PanelNetwork } from './panel-network.ts';
import { wireById, wireOhms } from './supplies.ts';

/** Below this an ATmega at 16 MHz is outside its data sheet's safe operating area (4.5 to 5.5 V; from memory of the data sheet). */
export const controllerFloorVolts = 4.5;
/** Where the project says nothing. 50 mA: board with its chip, regulator and lamps (common practice, no source). */
export const usualController = {
  from: 'supply',
  milliamps: 50,
  wire: 'AWG 20',
  lengthMm: 500,
} as const satisfies Controller;
/** A supply of more than that is no 5 V supply: the board then hangs on a regulator of its own, which this knows nothing of. */
const mostDirectVolts = 6;

export interface ControllerPower {
  readonly amps: number;
  readonly volts: number;
  readonly wire: Wire;
  readonly lengthMm: number;
}

/** What the board draws from the first supply; 0 where it runs from USB or behind a regulator from 12 V. */
export function controllerAmps({ power }: Pick<Project, 'power'>): number {
  const { from, milliamps } = { ...usualController, ...power.controller };
  return from === 'supply' && power.supply.volts <= mostDirectVolts ? milliamps / 1000 : 0;
}

/**
 * The board on the first supply; undefined where it runs from USB or behind a regulator.
 * @param stripAmps what the strips draw from that supply meanwhile
 */
export function controllerPower(
  project: Project,
  { supplies }: PanelNetwork,
  stripAmps: number,
): ControllerPower | undefined {
  const { from, wire: wireId, lengthMm } = { ...usualController, ...project.power.controller };
  const { volts, outputOhms } = supplies[0]!;
  if (from === 'usb' || volts > mostDirectVolts) return undefined;
  const amps = controllerAmps(project);
  const wire = wireById(wireId);
  return {
    amps,
    wire,
    lengthMm,
    volts: volts - outputOhms * (stripAmps + amps) - 2 * wireOhms(wire, lengthMm) * amps,
  };
}
