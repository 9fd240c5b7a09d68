// The build sheet's part about data lines: levels at the first LED and from run to run, and the parts that belong to each line.
// Not here: the figures themselves (src/power/data-line.ts).
import { boards, pinLabel, rowById } from '../catalogue/index.ts';
import { coilClearanceMm, type Layout } from '../panel/index.ts';
import {
  type DataLineAdvice,
  dataLineAdvice,
  dataLineParts,
  type PowerAssessment,
  voltsFigure,
} from '../power/index.ts';
import type { Project } from '../project/index.ts';
import type { SheetPart, SheetSection } from './build-sheet.ts';
import type { RunWords } from './build-sheet-words.ts';
import { wireCutMm } from './wire-list.ts';

/** With its sign: a margin below 0 is missing. */
const margin = (volts: number): string => {
  const figure = voltsFigure(volts);
  return figure.startsWith('-') ? `−${figure.slice(1)}` : `+${figure}`;
};

function leastFromRunToRun({ jumpers }: DataLineAdvice): string {
  const margins = jumpers.map(({ highMarginVolts, lowMarginVolts }) =>
    Math.min(highMarginVolts, lowMarginVolts),
  );
  return margins.length === 0 ? '' : margin(margins.reduce((least, one) => Math.min(least, one)));
}

const verdictWords: Readonly<Record<DataLineAdvice['first']['verdict'], string>> = {
  fine: 'high enough',
  unloaded: 'enough for one LED’s input, nothing else',
  low: 'too low',
};

function shifterWords({ first }: DataLineAdvice): string {
  if (first.hasShifter) return '74HCT125 or 74AHCT125, at the board';
  return first.verdict === 'low' ? 'missing: 74HCT125 or 74AHCT125' : 'none needed';
}

const resistorWords = ({ resistor: { ohms, isGiven } }: DataLineAdvice): string =>
  `${ohms} Ω${isGiven ? '' : ', not in the project yet'}`;

/** Whole millimetres: leads up to the next step that is cut, distances down. */
const leadWords = ({ lead }: DataLineAdvice): string =>
  lead
    ? `${wireCutMm(lead.lengthMm)} mm${lead.from === 'drawing' ? ' by the drawing' : ''}`
    : `not known; under ${dataLineParts.mostLeadMm} mm`;

const coilWords = ({ coils: [nearest] }: DataLineAdvice): string =>
  nearest ? `${Math.floor(nearest.distanceMm)} mm` : `none drawn; keep ${coilClearanceMm} mm`;

export function dataLineSection(
  project: Project,
  layout: Layout,
  { panel, inUse }: PowerAssessment,
  words: RunWords,
): SheetSection {
  const lines = dataLineAdvice(project, layout, { panel, volts: inUse });
  if (lines.length === 0)
    return { title: 'Data lines', parts: [{ kind: 'text', text: 'No data line reaches an LED yet.' }] };
  const board = rowById(boards, project.board.id)!;
  const runsOf = new Map(layout.lines.map(({ index, runs }) => [index, runs]));
  const firstRun = ({ line }: DataLineAdvice): string =>
    words.run(runsOf.get(line)!.find(({ wireLeds }) => wireLeds.length > 0)!.run.id);
  const levels: SheetPart = {
    kind: 'table',
    columns: [
      { title: 'Line', share: 9 },
      { title: 'Pin', share: 11 },
      { title: 'First run', share: 34 },
      { title: 'Board gives, V', share: 16, isFigure: true },
      { title: 'First LED needs, V', share: 18, isFigure: true },
      { title: 'Margin, V', share: 15, isFigure: true },
      { title: 'At full load, V', share: 16, isFigure: true },
      { title: 'Least from run to run, V', share: 20, isFigure: true },
      { title: 'Level', share: 30 },
    ],
    rows: lines.map((line) => [
      String(line.line + 1),
      line.pin === undefined ? 'none yet' : pinLabel(board, line.pin),
      firstRun(line),
      voltsFigure(line.first.outputVolts),
      voltsFigure(line.first.neededVolts),
      margin(line.first.marginVolts),
      margin(line.first.loadedMarginVolts),
      leastFromRunToRun(line),
      verdictWords[line.first.verdict],
    ]),
  };
  const pullDown = `${dataLineParts.pullDownOhms / 1000} kΩ`;
  const parts: SheetPart = {
    kind: 'table',
    columns: [
      { title: 'Line', share: 9 },
      { title: 'Resistor in series', share: 30 },
      { title: 'Data to ground at the board', share: 24 },
      { title: 'Level shifter', share: 36 },
      { title: 'Lead from the board', share: 32 },
      { title: 'Nearest coil wiring', share: 28 },
      { title: 'Capacitors', share: 24 },
    ],
    rows: lines.map((line) => [
      String(line.line + 1),
      resistorWords(line),
      pullDown,
      shifterWords(line),
      leadWords(line),
      coilWords(line),
      `${line.capacitorCount} × ${dataLineParts.capacitorMicrofarads} µF`,
    ]),
  };
  const { leastResistorOhms, mostResistorOhms } = dataLineParts;
  const note: SheetPart = {
    kind: 'text',
    text: `Ground runs beside each data wire. ${leastResistorOhms} to ${mostResistorOhms} Ω in series are usual. One capacitor across + and ground at each feed.`,
  };
  return { title: 'Data lines', parts: [levels, parts, note] };
}
