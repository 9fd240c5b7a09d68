// The export as a pure plan: every file's path and bytes, and the report that lists them. Same project, same bytes: nothing here reads a
// clock; dates come from the document. Writing it all or not at all is src/cli's matter.
import type { Finding, Project } from '../project/index.ts';
import { type Examination, examine } from './check.ts';
import { readHex, withBytes, writeHex } from './intel-hex.ts';
import { sketchFiles, sketchNameOf } from './sketch.ts';
import type { FirmwareTemplates } from './templates.ts';

/** Errors that would make a program send something else than the screen shows, or send it nowhere. */
const firmwareErrors: ReadonlySet<string> = new Set([
  'no-data-line',
  'pin-missing',
  'pin-unknown',
  'pin-shared',
  'sram-too-small',
  'flash-too-small',
  'show-too-slow',
]);

export interface ExportReport {
  readonly board: string;
  readonly start: string;
  readonly ledCount: number;
  readonly sram: { readonly usedBytes: number; readonly freeBytes: number } | null;
  readonly flash: { readonly usedBytes: number; readonly freeBytes: number } | null;
  readonly frameMs: number;
  readonly framesPerSecond: Readonly<Record<string, number>>;
  readonly findings: readonly Finding[];
  readonly files: readonly { readonly path: string; readonly sha256: string }[];
}

export interface ExportPlan {
  /** By path, with forward slashes, in the order of the report. `report.json` is the last. */
  readonly files: ReadonlyMap<string, Uint8Array>;
  readonly report: ExportReport;
}

export type Sha256 = (bytes: Uint8Array) => string;

export const reportPath = 'report.json';
/** The one exported file that belongs to the builder. */
export const ownCodeName = '/own-code.h';

function firmwareFiles(
  project: Project,
  examination: Examination,
  templates: FirmwareTemplates,
): Map<string, string> {
  const { showData, program, findings } = examination;
  const files = new Map<string, string>();
  if (
    !showData ||
    findings.some((finding) => finding.severity === 'error' && firmwareErrors.has(finding.code))
  )
    return files;
  const folder = `sketch/${sketchNameOf(project)}`;
  for (const [name, text] of sketchFiles(project, showData, templates)) files.set(`${folder}/${name}`, text);
  const hex = templates.hexTexts.get(program.file);
  if (hex === undefined) throw new Error(`the prebuilt program ${program.file} was not loaded`);
  files.set(
    `firmware/${project.board.id}.hex`,
    writeHex(withBytes(readHex(hex), program.showDataAt, showData.bytes)),
  );
  return files;
}

export interface ExportOptions {
  /** The show that plays after power-up, which must be one of the project; the attract mode where absent. */
  readonly start?: string;
  /** The builder's own-code.h of an earlier export, kept byte for byte. */
  readonly ownCode?: Uint8Array;
}

/**
 * Plans an export: report always, sketch and ready-to-flash program unless an error would make them untrue.
 * @param sha256 hash of a file's bytes as lower-case hex; given by the caller, since the layers below it have no such function
 */
export function planExport(
  project: Project,
  templates: FirmwareTemplates,
  sha256: Sha256,
  options: ExportOptions = {},
): ExportPlan {
  const start = options.start ?? project.attractMode;
  const examination = examine(project, templates, start);
  const encoder = new TextEncoder();
  const files = new Map<string, Uint8Array>();
  const texts = [...firmwareFiles(project, examination, templates)].sort(([a], [b]) => (a < b ? -1 : 1));
  for (const [path, text] of texts)
    files.set(path, (path.endsWith(ownCodeName) && options.ownCode) || encoder.encode(text));
  const report: ExportReport = {
    board: project.board.id,
    start,
    ledCount: examination.layout.wireLeds.length,
    sram: examination.budget?.sram ?? null,
    flash: examination.budget?.flash ?? null,
    frameMs: examination.frameMs,
    framesPerSecond: Object.fromEntries(
      [...examination.speed.framesPerSecond].map(([show, fps]) => [show, Math.round(fps * 10) / 10]),
    ),
    findings: examination.findings,
    files: [...files].map(([path, bytes]) => ({ path, sha256: sha256(bytes) })),
  };
  files.set(reportPath, encoder.encode(`${JSON.stringify(report, null, 2)}\n`));
  return { files, report };
}
