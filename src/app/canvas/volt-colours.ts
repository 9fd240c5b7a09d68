// Colours of the view Volts: each LED by the voltage across it in the worst case, each run's outline by its zone.
import { useMemo } from 'react';
import type { PowerAssessment } from '../../power/index.ts';
import { useFigures } from '../workbench/context.ts';

/** From the floor up to the supply; the ends are clear of each other for every kind of colour sight: dark red, yellow, teal. */
const stops = [
  [168, 32, 26],
  [214, 96, 40],
  [222, 178, 64],
  [96, 164, 76],
  [20, 110, 128],
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

/** The scale's low end: the floor of the strips, since below it everything is equally wrong. */
export const voltScale = ({ panel }: PowerAssessment) => ({
  lowVolts:
    panel.leds.length === 0
      ? usualFloorShare * panel.supplyVolts
      : Math.min(panel.supplyVolts - 0.01, ...panel.leds.map(({ strip }) => strip.floorVolts)),
  highVolts: panel.supplyVolts,
});

export interface VoltColours {
  readonly colours: ReadonlyMap<string, readonly string[]>;
  readonly zones: ReadonlyMap<string, string>;
}

export function voltColoursOf(assessment: PowerAssessment): VoltColours {
  const { panel, worst } = assessment;
  const { lowVolts, highVolts } = voltScale(assessment);
  const colours = new Map<string, string[]>();
  const zones = new Map<string, string>();
  for (const [index, { run, zone }] of panel.leds.entries()) {
    const share = (worst.ledVolts[index]! - lowVolts) / (highVolts - lowVolts);
    const ofRun = colours.get(run) ?? [];
    ofRun.push(voltColour(share));
    colours.set(run, ofRun);
    zones.set(run, zoneColour(zone));
  }
  return { colours, zones };
}

export function useVoltColours(isShown: boolean): VoltColours | undefined {
  const { assessment } = useFigures();
  return useMemo(() => (isShown ? voltColoursOf(assessment) : undefined), [isShown, assessment]);
}
