import type { Project } from '../../project/index.ts';

/** The strip that a new run is cut from: the one used last, else a common one. */
export const defaultStripOf = ({ runs }: Pick<Project, 'runs'>): string => runs.at(-1)?.strip ?? 'ws2812b-60';
