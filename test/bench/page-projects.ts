// The projects that the page is measured with: the sample, and two plain panels of 20 runs whose four rows light every LED.
// 1,000 LEDs are more than the board holds, which is a finding and no hindrance to drawing them.
import { readFileSync } from 'node:fs';
import { compileShowData } from '../../src/lampshow/index.ts';
import { layOut } from '../../src/panel/index.ts';
import { type Project, readProject, writeProject } from '../../src/project/index.ts';
import { root } from '../support/lamploom.ts';
import { loadProject, rowsOfStrip } from '../support/projects.ts';

export interface BenchProject {
  readonly name: string;
  readonly text: string;
  /** A run that is moved. */
  readonly run: string;
}

const runCount = 20;
const pitchMm = 1000 / 60;
const rowPitchMm = 25;
const edgeMm = 80;

/** Band over, stars add, rings brighter wins, cloud tint. */
const showRows = 4;

function panelOfRuns(ledsPerRun: number): Project {
  const project = loadProject(runCount * ledsPerRun, showRows);
  const runs = rowsOfStrip(runCount * ledsPerRun, ledsPerRun);
  return {
    ...project,
    name: `${runCount * ledsPerRun} LEDs`,
    panel: {
      ...project.panel,
      widthMm: Math.ceil(pitchMm * ledsPerRun) + edgeMm,
      heightMm: runCount * rowPitchMm + edgeMm,
    },
    runs,
    dataLines: [{ pin: 6, chain: runs.map(({ id }) => ({ run: id })) }],
  };
}

/** Stops where the page could not play the project: then nothing would be measured. */
function playable(text: string): string {
  const read = readProject(text);
  if (!read.ok) throw new Error(`not a project: ${JSON.stringify(read.problems)}`);
  if (!compileShowData(read.value, layOut(read.value), { frameMs: 25 }))
    throw new Error('too large for any player');
  return text;
}

export const benchProjects = (): BenchProject[] => [
  {
    name: 'midnight-carnival, 284 LEDs',
    text: playable(readFileSync(`${root}/samples/midnight-carnival.lamploom.json`, 'utf8')),
    run: 'tent-3',
  },
  ...[15, 50].map((ledsPerRun) => ({
    name: `${runCount} runs, ${runCount * ledsPerRun} LEDs`,
    text: playable(writeProject(panelOfRuns(ledsPerRun))),
    run: 'row-8',
  })),
];
