// Where a run under edit lies: its LEDs, its middle, and where its first LED must be for its middle to be somewhere. Works on drafts, so nothing here
// remembers what it has placed.
import { pitchMm } from '../catalogue/index.ts';
import type { Project, Run } from '../project/index.ts';
import { runAsBuilt } from './as-built.ts';
import { ringCentre, runPath } from './layout.ts';
import type { PointMm } from './plane.ts';
import { stripById } from './strips.ts';

/** What decides how far apart a run's LEDs are. */
type Laid = Pick<Project, 'strips' | 'asBuilt'>;

/** Distance of the LEDs of the strip that the run was really cut from; of a ring board, its circle's radius decides instead. */
export const stripPitchMm = (project: Laid, run: Run): number =>
  pitchMm(stripById(project, runAsBuilt(project, run).strip));

/** Millionths of a millimetre are below any tool, and keep the file free of digits that only rounding made; + 0, since no file holds a -0. */
export const tidy = (value: number): number => Math.round(value * 1e6) / 1e6 + 0;

/** A place so many pitches behind the first LED; halves count. */
export function placeOf(project: Laid, run: Run, steps: number): PointMm {
  const { xMm, yMm } = runPath(run, stripPitchMm(project, run)).at(steps);
  return { xMm: tidy(xMm), yMm: tidy(yMm) };
}

/** The middle of a run; of a ring board, the circle's. */
export function middleOf(project: Laid, run: Run): PointMm {
  return ringCentre(run) ?? runPath(run, stripPitchMm(project, run)).at((run.ledCount - 1) / 2);
}

/** Where the first LED must lie for the run's middle to be there. */
export function firstLedAround(project: Laid, run: Run, middle: PointMm): PointMm {
  const now = middleOf(project, run);
  return {
    xMm: tidy(run.firstLed.xMm + middle.xMm - now.xMm),
    yMm: tidy(run.firstLed.yMm + middle.yMm - now.yMm),
  };
}

/** Lists of single LEDs that a run holds. */
export const ledLists = ['spareLeds', 'deadLeds', 'bypassedLeds'] as const;

/** An angle from 0 up to, not with, 360. */
export const inOneTurn = (degrees: number): number => tidy(((degrees % 360) + 360) % 360) % 360;
