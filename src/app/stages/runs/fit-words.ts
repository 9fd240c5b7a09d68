// What fitting a channel comes to, in words and with what is to be warned of. Pure.
import { type ChannelFit, mostMisfitMm } from '../../../panel/index.ts';

const obstacles: Readonly<Record<NonNullable<ChannelFit['obstacle']>, string>> = {
  narrow: "narrower than the strip's board",
  short: 'too short for a piece of strip',
  limit: 'more than a project holds',
};

export const isMisfit = ({ leftOverMm, run }: ChannelFit): boolean =>
  run === undefined || leftOverMm > mostMisfitMm;

/** Remarks on a channel, joined by commas; empty where there is nothing to say. */
export function remarks(fit: ChannelFit): string {
  const other = fit.pitchMismatch;
  return [
    ...(fit.obstacle === undefined ? [] : [obstacles[fit.obstacle]]),
    ...(fit.lostLeds > 0 ? [`${fit.lostLeds} ${fit.lostLeds === 1 ? 'LED' : 'LEDs'} lost`] : []),
    ...(other && fit.leftOverMm > mostMisfitMm
      ? [`${other.ledCount} of ${other.ledsPerMetre} per m come out even`]
      : []),
  ].join(', ');
}
