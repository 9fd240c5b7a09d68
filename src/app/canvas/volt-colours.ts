// Colours of the view Volts: each LED by the voltage across it, each run's outline by its zone; LEDs below their floor are crossed out too.
// The scale rises in lightness all the way, so that it is read without telling red from green, and in grey; test/app/volt-colours.test.ts.
import { useMemo } from 'react';
import type { PowerAssessment, SolvedCase } from '../../power/index.ts';
import { useShownPower } from '../workbench/context.ts';

/** From the floor up to the supply. */
const stops = [
  [110, 14, 28],
  [178, 52, 34],
  [224, 122, 44],
  [232, 184, 86],
  [196, 234, 226],
] as const;
const zoneCount = 5;

export const zoneColour = (zone: number): string => `var(--zone-${(zone % zoneCount) + 1})`;

/** `share` 0 at the low end of the scale, 1 at the supply's volts. */
export function voltColour(share: number): string {
  const place = Math.min(1, Math.max(0, share)) * (stops.length - 1);
  const from = Math.min(stops.length - 2, Math.floor(place));
  const mix = (channel: 0 | 1 | 2) =>
    Math.round(stops[from]![channel] + (stops[from + 1]![channel] - stops[from]![channel]) * (place - from));
  return `rgb(${mix(0)} ${mix(1)} ${mix(2)})`;
}

/** A tenth below the supply, where strips without LEDs have no floor to tell. */
const usualFloorShare = 0.9;

/**
 * The scale's low end: the floor of the strips, since below it everything is equally wrong. Its high end: the highest supply, or
 * what the strips are made for where no supply reaches the floor.
 */
export function voltScale({ panel }: Pick<PowerAssessment, 'panel'>) {
  const supplyVolts = panel.supplies.reduce((most, { volts }) => Math.max(most, volts), 0);
  if (panel.leds.length === 0) return { lowVolts: usualFloorShare * supplyVolts, highVolts: supplyVolts };
  const lowVolts = panel.leds.reduce(
    (least, { strip }) => Math.min(least, strip.floorVolts),
    Number.POSITIVE_INFINITY,
  );
  const madeFor = panel.leds.reduce((most, { strip }) => Math.max(most, strip.supplyVolts), 0);
  return { lowVolts, highVolts: supplyVolts > lowVolts ? supplyVolts : madeFor };
}

export interface VoltColours {
  readonly colours: ReadonlyMap<string, readonly string[]>;
  /** By run: numbers of the LEDs below their strip's floor. */
  readonly low: ReadonlyMap<string, readonly number[]>;
  readonly zones: ReadonlyMap<string, string>;
}

/** Colours by run and LED as planned; of runs that are laid the other way round too. */
export function voltColoursOf(
  assessment: PowerAssessment,
  shown: SolvedCase = assessment.worst,
): VoltColours {
  const { panel } = assessment;
  const { lowVolts, highVolts } = voltScale(assessment);
  const colours = new Map<string, string[]>();
  const low = new Map<string, number[]>();
  const zones = new Map<string, string>();
  for (const [index, { run, led, strip, zone }] of panel.leds.entries()) {
    const volts = shown.ledVolts[index]!;
    const ofRun = colours.get(run) ?? [];
    ofRun[led] = voltColour((volts - lowVolts) / (highVolts - lowVolts));
    colours.set(run, ofRun);
    if (volts < strip.floorVolts) low.set(run, [...(low.get(run) ?? []), led]);
    zones.set(run, zoneColour(zone));
  }
  return { colours, low, zones };
}

export function useVoltColours(isShown: boolean): VoltColours | undefined {
  const { assessment, shown } = useShownPower();
  return useMemo(
    () => (isShown ? voltColoursOf(assessment, shown) : undefined),
    [isShown, assessment, shown],
  );
}
