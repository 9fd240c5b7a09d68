// Findings and power: what an edit changes in figures. Solving the rails takes a few milliseconds, so it is done a moment after the edit, and
// during a drag only so often; the vital signs then move with the hand, and the hand isn't held up.
import { type CompiledProject, findingsOf } from '../../board/index.ts';
import { assessPower, type PowerAssessment, type PowerReport, powerReport } from '../../power/index.ts';
import type { Finding } from '../../project/index.ts';

export interface Figures {
  /** What they were computed from. */
  readonly compiled: CompiledProject;
  readonly findings: readonly Finding[];
  readonly assessment: PowerAssessment;
  readonly power: PowerReport;
}

export function figuresOf(compiled: CompiledProject): Figures {
  const { project, layout } = compiled;
  const assessment = assessPower(project, layout);
  return {
    compiled,
    findings: findingsOf(compiled, assessment),
    assessment,
    power: powerReport(project, layout, undefined, assessment),
  };
}
