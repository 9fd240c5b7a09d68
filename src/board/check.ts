// Everything known about a project in one go: layout, speed, show data, memory, power, and all findings. The command line, the export and
// the screens read from here, so that they can't disagree.
import { lampshowFindings } from '../lampshow/index.ts';
import { panelFindings } from '../panel/index.ts';
import { type PowerAssessment, powerFindings } from '../power/index.ts';
import type { Finding, Project } from '../project/index.ts';
import { boardOf, budgetFindings, isQuiet } from './budget.ts';
import { type Compiled, type CompiledProject, compileProject } from './compile.ts';
import { eventFindings } from './event-findings.ts';
import { giveUpSentence } from './give-up.ts';
import type { FirmwareTemplates } from './templates.ts';

export interface Examination extends Compiled {
  readonly findings: readonly Finding[];
}

const severities = ['error', 'warning', 'note'] as const;

/** All findings about a compiled project, the gravest first. */
export function findingsOf(
  { project, layout, speed, program, showData }: CompiledProject,
  assessment?: PowerAssessment,
): Finding[] {
  const findings = [
    ...panelFindings(project, layout),
    ...lampshowFindings(project, layout, speed),
    ...budgetFindings(boardOf(project), program, showData, isQuiet(project), () =>
      giveUpSentence(project, layout, showData),
    ),
    ...powerFindings(project, layout, assessment),
    ...eventFindings(project, layout),
  ];
  return byGravity(findings);
}

/** The gravest first, each kind in the order it came. */
export const byGravity = (findings: readonly Finding[]): Finding[] =>
  severities.flatMap((severity) => findings.filter((finding) => finding.severity === severity));

/** Derives all of it. `start` is the show that plays after power-up; the attract mode where absent. */
export function examine(project: Project, templates: FirmwareTemplates, start?: string): Examination {
  const { project: _, ...compiled } = compileProject(project, templates, start);
  return { ...compiled, findings: findingsOf({ project, ...compiled }) };
}

export const hasErrors = (findings: readonly Finding[]): boolean =>
  findings.some((finding) => finding.severity === 'error');
