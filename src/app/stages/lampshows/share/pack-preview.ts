// What a show pack would come to on this panel, before it is taken in: what comes, what will not fit, and what it draws. Pure; the player that the
// amperes come from is the caller's.
import {
  boardOf,
  budgetFindings,
  type CompiledProject,
  type FirmwareTemplates,
  giveUpSentence,
  isQuiet,
  recompileProject,
} from '../../../../board/index.ts';
import { lampshowFindings, type ShowData } from '../../../../lampshow/index.ts';
import { type ImportWishes, type PlannedImport, plannedImport } from '../../../../lampshow/pack-import.ts';
import { edited, type Finding, type Project, startHistory } from '../../../../project/index.ts';
import type { ShowPack } from '../../../../project/read-pack.ts';

export interface PackPreview {
  readonly plan: PlannedImport;
  /** The project as it would be; undefined where nothing can be taken in. */
  readonly after: CompiledProject | undefined;
  /** What is to be said of the shows that come, and of the board that has to hold them. */
  readonly findings: readonly Finding[];
  /** To be played without the current limit, for what the shows would draw. */
  readonly unlimited: ShowData | undefined;
}

export const takeInLabel = 'Take shows in';

/** Findings about shows from this one on. */
const isAboutNew = ({ at }: Finding, firstNew: number): boolean => {
  const [, list, index] = at.split('/');
  return list === 'lampshows' && (index === undefined || Number(index) >= firstNew);
};

function boardFindings({ project, layout, program, showData }: CompiledProject): Finding[] {
  return budgetFindings(boardOf(project), program, showData, isQuiet(project), () =>
    giveUpSentence(project, layout, showData),
  );
}

const withoutLimit = (project: Project): Project => {
  const { limitAmps: _, ...power } = project.power;
  return { ...project, power };
};

export function packPreview(
  pack: ShowPack,
  before: CompiledProject,
  templates: FirmwareTemplates,
  wishes: ImportWishes,
): PackPreview {
  const plan = plannedImport(pack, before.project, before.layout, wishes);
  if (!plan.edit) return { plan, after: undefined, findings: [], unlimited: undefined };
  const { project } = edited(startHistory(before.project), takeInLabel, plan.edit);
  const after = recompileProject(before, project, templates);
  const known = new Set(boardFindings(before).map(({ code }) => code));
  const firstNew = before.project.lampshows.length;
  return {
    plan,
    after,
    findings: [
      ...boardFindings(after).filter(({ code }) => !known.has(code)),
      ...lampshowFindings(project, after.layout, after.speed).filter((one) => isAboutNew(one, firstNew)),
    ],
    unlimited: recompileProject(after, withoutLimit(project), templates).showData,
  };
}
