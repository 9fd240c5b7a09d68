// The build sheet as data: what stands on it, in which order and in which words; every text final, every figure rounded. Pure.
// Not here: how it is set on pages (build-sheet-pdf.ts), the parts about power (build-sheet-power.ts).
import { boards, rowById } from '../catalogue/index.ts';
import type { Layout } from '../panel/index.ts';
import type { PowerAssessment } from '../power/index.ts';
import type { Project } from '../project/index.ts';
import { powerSections } from './build-sheet-power.ts';

export interface SheetColumn {
  readonly title: string;
  /** Share of the page's width, against the other columns'. */
  readonly share: number;
  /** Figures stand on the right. */
  readonly isFigure?: boolean;
}

/** `facts`: what, and how much. `list`: sentences, each on its own. `table`: as many cells in each row as there are columns. */
export type SheetPart =
  | { readonly kind: 'facts'; readonly rows: readonly (readonly [what: string, value: string])[] }
  | { readonly kind: 'text'; readonly text: string }
  | { readonly kind: 'list'; readonly items: readonly string[] }
  | {
      readonly kind: 'table';
      readonly columns: readonly SheetColumn[];
      readonly rows: readonly (readonly string[])[];
    };

export interface SheetSection {
  readonly title: string;
  readonly parts: readonly SheetPart[];
}

export interface BuildSheet {
  readonly title: string;
  /** The project's. */
  readonly name: string;
  /** When the document was saved, as it says: "2026-11-25" or "2026-11-25T10:30:00Z". */
  readonly savedOn: string;
  /** Below the title. */
  readonly facts: readonly (readonly [what: string, value: string])[];
  readonly sections: readonly SheetSection[];
  /** At the foot of every page. */
  readonly foot: string;
}

const savedWords = (savedOn: string): string => savedOn.replace('T', ' ').replace('Z', ' UTC');

export function buildSheetContent(project: Project, layout: Layout, assessment: PowerAssessment): BuildSheet {
  const { panel, board, savedOn, name } = project;
  return {
    title: 'Build sheet',
    name,
    savedOn,
    facts: [
      ['Saved on', savedWords(savedOn)],
      ['Panel', `${panel.widthMm} × ${panel.heightMm} mm`],
      ['LEDs', `${assessment.panel.leds.length} in ${layout.runs.length} runs`],
      ['Board', rowById(boards, board.id)?.label ?? board.id],
    ],
    sections: powerSections(project, layout, assessment),
    foot: 'Arithmetic, no certificate: local codes and licensed practice decide.',
  };
}
