// The export as a pure plan: every file's path and bytes, and the report that lists them. Same project, same bytes: nothing here reads a
// clock; dates come from the document. Writing it all or not at all is src/cli's matter.
import {
  byGravity,
  type ExportOptions,
  type FirmwareTemplates,
  flashCaution,
  noFlashes,
  planFirmware,
  reportPath,
} from '../board/index.ts';
import type { Layout } from '../panel/index.ts';
import { assessPower, type PowerSummary, powerSummary } from '../power/index.ts';
import type { Finding, Project } from '../project/index.ts';
import { buildSheetContent } from './build-sheet.ts';
import type { WriteSheet } from './build-sheet-pdf.ts';
import { cutList, cutListCsv } from './cut-list.ts';
import { backingSvg } from './drawing.ts';
import { wireList, wireListCsv } from './wire-list.ts';

export interface ExportReport {
  readonly board: string;
  readonly start: string;
  readonly ledCount: number;
  readonly sram: { readonly usedBytes: number; readonly freeBytes: number } | null;
  readonly flash: { readonly usedBytes: number; readonly freeBytes: number } | null;
  readonly frameMs: number;
  readonly framesPerSecond: Readonly<Record<string, number>>;
  /** Currents, volts, fuses and supplies, as the command line's `power` and the screen have them. */
  readonly power: PowerSummary;
  readonly findings: readonly Finding[];
  /** What the flash analysis says; absent where the shows could not be played. */
  readonly flashes?: { readonly found: number; readonly says: string; readonly caution: string };
  readonly files: readonly { readonly path: string; readonly sha256: string }[];
}

export interface ExportPlan {
  /** By path, with forward slashes, in the order of the report. `report.json` is the last. */
  readonly files: ReadonlyMap<string, Uint8Array>;
  readonly report: ExportReport;
}

/** What the caller brings, since the layers below it have no such functions. */
export interface ExportTools {
  /** Hash of a file's bytes as lower-case hex. */
  readonly sha256: (bytes: Uint8Array) => string;
  /** The build sheet as PDF (build-sheet-pdf.ts). */
  readonly writeSheet: WriteSheet;
}

export const buildSheetPath = 'build-sheet.pdf';

/** What the workshop needs; nothing where there is no run to lay. No error of a program keeps wood from being cut. */
function workshopFiles(project: Project, layout: Layout): Map<string, string> {
  if (layout.runs.length === 0) return new Map();
  return new Map([
    ['workshop/backing.svg', backingSvg(project, layout)],
    ['workshop/cut-list.csv', cutListCsv(cutList(project, layout))],
    ['workshop/wire-list.csv', wireListCsv(wireList(project, layout))],
  ]);
}

/**
 * Plans an export: report and build sheet always, workshop files where there are runs, sketch and ready-to-flash program unless an error would make them
 * untrue.
 */
export function planExport(
  project: Project,
  templates: FirmwareTemplates,
  { sha256, writeSheet }: ExportTools,
  options: ExportOptions = {},
): ExportPlan {
  const { examination, start, files: firmware } = planFirmware(project, templates, options);
  const encoder = new TextEncoder();
  const workshop = [...workshopFiles(project, examination.layout)].map(
    ([path, text]): [string, Uint8Array] => [path, encoder.encode(text)],
  );
  const { layout } = examination;
  const assessment = assessPower(project, layout);
  const sheet: [string, Uint8Array] = [
    buildSheetPath,
    writeSheet(buildSheetContent(project, layout, assessment)),
  ];
  const files = new Map([...firmware, ...workshop, sheet].sort(([a], [b]) => (a < b ? -1 : 1)));
  const report: ExportReport = {
    board: project.board.id,
    start,
    ledCount: layout.wireLeds.length,
    sram: examination.budget?.sram ?? null,
    flash: examination.budget?.flash ?? null,
    frameMs: examination.frameMs,
    framesPerSecond: Object.fromEntries(
      [...examination.speed.framesPerSecond].map(([show, fps]) => [show, Math.round(fps * 10) / 10]),
    ),
    power: powerSummary(project, layout, assessment),
    findings: byGravity([...examination.findings, ...(options.flashes ?? [])]),
    ...(options.flashes && {
      flashes: {
        found: options.flashes.length,
        says: options.flashes.length === 0 ? noFlashes() : 'Flashes found: see the findings.',
        caution: flashCaution,
      },
    }),
    files: [...files].map(([path, bytes]) => ({ path, sha256: sha256(bytes) })),
  };
  files.set(reportPath, encoder.encode(`${JSON.stringify(report, null, 2)}\n`));
  return { files, report };
}
