// How findings about power are worded, and what one rule is. Not here: the rules (findings.ts, findings-feeds.ts, findings-supplies.ts).
import { runTitle } from '../panel/index.ts';
import type { Finding, Project } from '../project/index.ts';
import type { PowerAssessment } from './assessment.ts';
import { ampsFigure, voltsFigure } from './rounding.ts';
import type { FeedSize } from './sizing.ts';
import type { Zone } from './zones.ts';

export type Texts = Pick<Finding, 'message' | 'mend'>;
export type Rule = (project: Project, assessment: PowerAssessment) => readonly Finding[];

export const finding = (
  severity: Finding['severity'],
  code: string,
  at: string,
  message: string,
  mend: string,
): Finding => ({ severity, code, at, message, mend });

/** At most one decimal more than people buy by: "12", "7.5", "0.62". */
export const amps = (value: number): string => `${Number(ampsFigure(value))} A`;
export const volts = (value: number): string => `${voltsFigure(value)} V`;
export const runNames = (zone: Zone): string => {
  const names = zone.runs.slice(0, 3).map((placed) => `"${runTitle(placed.run)}"`);
  const more = zone.runs.length - names.length;
  const [last = ''] = more > 0 ? [`${more} more`] : names.splice(-1);
  return names.length === 0 ? `Run ${last} has` : `Runs ${names.join(', ')} and ${last} have`;
};
export const feedName = ({ conductors: { feed, runTitle } }: FeedSize): string =>
  `The feed at LED ${feed.led} of run "${runTitle}"`;
