// Small project documents for the power tests: runs, chains and feeds as the test names them, everything else as short as the
// schema allows. Every document goes through the project's own check, so a test can't be about something no file could say.
import { type Layout, layOut } from '../../src/panel/index.ts';
import { checkProject, type Project, problemLine } from '../../src/project/index.ts';

type OwnStrip = NonNullable<Project['strips']>[number];

/** A run "r0", "r1"... of the reel "reel" unless told. */
export interface RunPlan {
  readonly leds: number;
  readonly strip?: string;
  readonly spareLeds?: readonly number[];
  /** The jumper from the run before; a hair of thick wire where absent, so that two runs are as one piece. */
  readonly jumper?: {
    readonly power?: 'carried' | 'cut';
    readonly lengthMm?: number;
    readonly wire?: string;
  };
}

export interface PanelPlan {
  readonly reel?: Partial<Omit<OwnStrip, 'id'>>;
  readonly strips?: readonly OwnStrip[];
  /** One list of runs for each data line. */
  readonly lines: readonly (readonly RunPlan[])[];
  readonly unchained?: readonly RunPlan[];
  readonly feeds?: Project['power']['feeds'];
  readonly supply?: Partial<Project['power']['supply']>;
  readonly moreSupplies?: Project['power']['moreSupplies'];
  readonly limitAmps?: number;
}

export interface BuiltPanel {
  readonly project: Project;
  readonly layout: Layout;
}

/** Resistance far below anything printed in a result: 0.001 mm of AWG 10. */
export const hair = { wire: 'AWG 10', lengthMm: 0.001 } as const;

/** 60 LEDs per metre, 36 mA each in white, 0.1 ohm/m for one rail: the strip of worked case 1. */
export const reel: OwnStrip = {
  id: 'reel',
  supplyVolts: 5,
  floorVolts: 4.5,
  ledsPerMetre: 60,
  boardWidthMm: 10,
  colourOrder: 'GRB',
  channelMilliamps: 12,
  quiescentMilliamps: 0,
  currentModel: 'sum',
  railOhmPerMetre: 0.1,
};

export function buildPanel(plan: PanelPlan): BuiltPanel {
  let nextRun = 0;
  const runs: Project['runs'] = [];
  const place = (run: RunPlan): string => {
    const id = `r${nextRun++}`;
    runs.push({
      id,
      firstLed: { xMm: 10, yMm: 10 * nextRun },
      arrowDeg: 0,
      ledCount: run.leds,
      strip: run.strip ?? 'reel',
      ...(run.spareLeds ? { spareLeds: [...run.spareLeds] } : {}),
    });
    return id;
  };
  const dataLines = plan.lines.map((line, index) => ({
    pin: 6 + index,
    chain: line.map((run) => ({ run: place(run), jumper: { ...hair, ...run.jumper } })),
  }));
  for (const run of plan.unchained ?? []) place(run);
  const document = {
    format: 'lamploom',
    version: 1,
    name: 'Power test',
    savedOn: '2025-01-01',
    panel: { widthMm: 3000, heightMm: 3000, airGapMm: 20, sheet: 'opal-pmma' },
    strips: [{ ...reel, ...plan.reel }, ...(plan.strips ?? [])],
    runs,
    dataLines,
    areas: [],
    gradients: [],
    lampshows: [{ id: 'attract', lengthMs: 1000, rows: [] }],
    attractMode: 'attract',
    power: {
      supply: { volts: 5, amps: 100, ...plan.supply },
      ...(plan.limitAmps === undefined ? {} : { limitAmps: plan.limitAmps }),
      feeds: plan.feeds ?? [],
      ...(plan.moreSupplies?.length ? { moreSupplies: plan.moreSupplies } : {}),
    },
    output: { gamma: { red: 2, green: 2, blue: 2 }, brightnessPercent: 100 },
    board: { id: 'atmega328p' },
  };
  const checked = checkProject(document);
  if (!checked.ok) throw new Error(checked.problems.map(problemLine).join('\n'));
  return { project: checked.value, layout: layOut(checked.value) };
}

/** Length of 0.75 mm2 (26.0 ohm/km) that has the resistance of half a pitch of one rail: as if the wire met the cut edge. */
export function halfPitchFeed(strip: Pick<OwnStrip, 'railOhmPerMetre' | 'ledsPerMetre'> = reel) {
  const halfPitchOhms = strip.railOhmPerMetre / strip.ledsPerMetre / 2;
  return { wire: '0.75 mm2', lengthMm: (halfPitchOhms / 26) * 1e6 } as const;
}
