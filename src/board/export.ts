// The firmware's share of an export as a pure plan: path and bytes of the sketch and of the ready-to-flash program. Same project, same bytes:
// nothing here reads a clock; dates come from the document. Not here: the whole export and its report (src/workshop/export.ts).
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
  'input-pin-unknown',
  'input-pin-is-data',
  'input-pin-is-serial',
  'input-pin-is-i2c',
  'pin-is-serial',
  'pin-is-i2c',
  'input-pin-shared',
  'event-pins-too-many',
  'events-too-many',
  'serial-and-i2c',
]);

/** Lists every file of an export. */
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
  /** What the flash analysis found; it needs a player, so the caller runs it. Absent where it was not made. */
  readonly flashes?: readonly Finding[];
  /** The show that plays after power-up, which must be one of the project; the attract mode where absent. */
  readonly start?: string;
  /** The builder's own-code.h of an earlier export, kept byte for byte. */
  readonly ownCode?: Uint8Array;
}

export interface FirmwarePlan {
  readonly examination: Examination;
  /** The show that plays after power-up. */
  readonly start: string;
  /** Sketch and ready-to-flash program by path, with forward slashes; none if an error would make them untrue. */
  readonly files: ReadonlyMap<string, Uint8Array>;
}

/** Plans the firmware's share of an export. */
export function planFirmware(
  project: Project,
  templates: FirmwareTemplates,
  options: ExportOptions = {},
): FirmwarePlan {
  const start = options.start ?? project.attractMode;
  const examination = examine(project, templates, start);
  const encoder = new TextEncoder();
  const files = new Map<string, Uint8Array>();
  for (const [path, text] of firmwareFiles(project, examination, templates))
    files.set(path, (path.endsWith(ownCodeName) && options.ownCode) || encoder.encode(text));
  return { examination, start, files };
}
