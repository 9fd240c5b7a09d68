// Everything known about a project in one go: layout, speed, show data, memory, power, and all findings. The command line, the export and
// the screens read from here, so that they can't disagree.
import {
  compileShowData,
  lampshowFindings,
  predictSpeed,
  type ShowData,
  type SpeedPrediction,
} from '../lampshow/index.ts';
import { type Layout, layOut, panelFindings } from '../panel/index.ts';
import { powerFindings } from '../power/index.ts';
import { type Finding, limits, type Project } from '../project/index.ts';
import { type Budget, boardOf, budgetFindings, budgetOf } from './budget.ts';
import { type FirmwareTemplates, type PrebuiltProgram, programFor } from './templates.ts';

export interface Examination {
  readonly layout: Layout;
  readonly speed: SpeedPrediction;
  readonly frameMs: number;
  /** Undefined where the tables would be over 64 KB. */
  readonly showData: ShowData | undefined;
  readonly program: PrebuiltProgram;
  readonly budget: Budget | undefined;
  readonly findings: readonly Finding[];
}

const severities = ['error', 'warning', 'note'] as const;

/** Game events are part of the document, but the player of this version plays only what starts after power-up. */
function eventFindings(project: Project): Finding[] {
  if ((project.gameEvents ?? []).length === 0) return [];
  return [
    {
      severity: 'note',
      code: 'events-not-played',
      at: '/gameEvents',
      message: 'The exported firmware plays the show it starts with; game events do not change it.',
      mend: 'Export with --start to try another show on the board.',
    },
  ];
}

/** Derives all of it. `start` is the show that plays after power-up; the attract mode where absent. */
export function examine(project: Project, templates: FirmwareTemplates, start?: string): Examination {
  const layout = layOut(project);
  const speed = predictSpeed(project, layout);
  const board = boardOf(project);
  const program = programFor(templates, board.mcu);
  // A show that is too slow is an error; its data still have to hold some frame time for the preview.
  const frameMs = Math.min(speed.frameMs, limits.frameMs);
  const showData = compileShowData(project, layout, { frameMs, ...(start === undefined ? {} : { start }) });
  const findings = [
    ...panelFindings(project, layout),
    ...lampshowFindings(project, speed),
    ...budgetFindings(board, program, showData),
    ...powerFindings(project, layout),
    ...eventFindings(project),
  ];
  return {
    layout,
    speed,
    frameMs,
    showData,
    program,
    budget: showData && budgetOf(board, program, showData),
    findings: severities.flatMap((severity) => findings.filter((finding) => finding.severity === severity)),
  };
}

export const hasErrors = (findings: readonly Finding[]): boolean =>
  findings.some((finding) => finding.severity === 'error');
