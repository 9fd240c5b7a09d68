// The firmware's parts as text, as the exporter needs them. Who reads them (files in the command line, assets in the page) is not known here.

export interface PrebuiltProgram {
  readonly file: string;
  readonly mcu: string;
  /** Flash address of the show data, on a 256-byte boundary. */
  readonly showDataAt: number;
  readonly programBytes: number;
  /** Variables of the program; the frame buffer comes on top. */
  readonly staticSramBytes: number;
  /** The same where no game event and no input can come: the frame buffer lies over the variables that only they need. */
  readonly quietSramBytes: number;
}

export interface FirmwareTemplates {
  /** Player headers by file name, without the host's. */
  readonly headers: ReadonlyMap<string, string>;
  readonly sketch: string;
  readonly ownCode: string;
  readonly programs: readonly PrebuiltProgram[];
  /** Intel HEX text of each program by file name. */
  readonly hexTexts: ReadonlyMap<string, string>;
}

/** The prebuilt program for a chip. Throws if there is none: every board of the catalogue has one. */
export function programFor(templates: FirmwareTemplates, mcu: string): PrebuiltProgram {
  const program = templates.programs.find((one) => one.mcu === mcu);
  if (!program) throw new Error(`no prebuilt program for ${mcu}`);
  return program;
}
