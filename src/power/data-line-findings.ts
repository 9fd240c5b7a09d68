// What is worth telling about data lines: levels that are too low, a long lead, wires beside coil wiring, an odd resistor.
// Not here: the figures (data-line.ts). Nothing is told of what the project doesn't say: no lead without a length, no coil wiring, no resistor.
import { coilClearanceMm, type Layout, runTitle } from '../panel/index.ts';
import { type Finding, type Project, pointer } from '../project/index.ts';
import { type DataLineAdvice, type DataVolts, dataLineAdvice, dataLineParts } from './data-line.ts';
import { fiveVoltMaximum } from './findings-supplies.ts';
import { finding, volts } from './findings-words.ts';
import { settled } from './sizing.ts';

/** Outside of this a resistor does nothing, or slows the edges down (common practice, no source). */
const leastResistorOhms = 100;
const mostResistorOhms = 1000;

type LineRule = (advice: DataLineAdvice, project: Project) => Finding | undefined;

const lineName = ({ line }: DataLineAdvice): string => `Data line ${line + 1}`;

const millivolts = (value: number): string => `${Math.ceil(settled(value * 1000))} mV`;
const tooLittle = (marginVolts: number): string => `${millivolts(-marginVolts)} too little`;

const firstLevel: LineRule = (advice) => {
  const { first, line } = advice;
  // A supply that is too high for the strip is told on its own.
  if (first.verdict !== 'low' || first.chipVolts > fiveVoltMaximum) return undefined;
  const { hasShifter, outputVolts, chipVolts, groundVolts, neededVolts, mostChipVolts, marginVolts } = first;
  const isLifted = groundVolts > 0;
  return finding(
    'warning',
    'data-level-low',
    pointer('dataLines', line),
    `${lineName(advice)} begins at ${volts(outputVolts)}, ${tooLittle(marginVolts)} for its first LED: ` +
      (isLifted
        ? `in white it stands at ${volts(chipVolts)}, its ground ${millivolts(groundVolts)} above the board's, and takes only ${volts(neededVolts)} and more for high.`
        : `at ${volts(chipVolts)} it takes only ${volts(neededVolts)} and more for high. Such an output is enough up to ${volts(mostChipVolts)}.`),
    isLifted || hasShifter
      ? "Make the ground wires of the first LED's feed thicker, or feed its run at this end."
      : 'Put a buffer of 5 V with a low threshold (74HCT125 or 74AHCT125; not a plain 74HC) between board and first LED.',
  );
};

const jumperLevel: LineRule = (advice) => {
  const marginOf = ({ highMarginVolts, lowMarginVolts }: DataLineAdvice['jumpers'][number]): number =>
    Math.min(highMarginVolts, lowMarginVolts);
  const low = advice.jumpers
    .filter((jumper) => marginOf(jumper) < 0)
    .sort((one, other) => marginOf(one) - marginOf(other));
  const [worst] = low;
  if (!worst) return undefined;
  const level = worst.highMarginVolts < worst.lowMarginVolts ? 'high' : 'low';
  const more = low.length - 1;
  return finding(
    'warning',
    'data-level-jumper',
    worst.at,
    `In white, run "${runTitle(worst.to.run)}" can't tell the ${level} level of run "${runTitle(worst.from.run)}" before it: it is ${millivolts(-marginOf(worst))} off, ` +
      `because the two stand at different volts and grounds.${more > 0 ? ` So it is at ${more} more of the line's jumpers.` : ''}`,
    'Feed both runs near this jumper, or use thicker wire for its ground and for the feeds.',
  );
};

const longLead: LineRule = (advice) => {
  const { lead, first } = advice;
  const { mostLeadMm, resistorOhms } = dataLineParts;
  if (!lead || first.hasShifter || lead.lengthMm <= mostLeadMm) return undefined;
  return finding(
    'note',
    'data-lead-long',
    lead.at,
    `The lead from the board to the first LED of data line ${advice.line + 1} is ${Math.ceil(lead.lengthMm)} mm long; without a buffer ${mostLeadMm} mm are usual at most.`,
    `Move the board nearer, or put a buffer beside it; ground beside the data wire and ${resistorOhms} ohm in series help in any case.`,
  );
};

const coils: LineRule = ({ coils, line }) => {
  const near = coils.filter(({ distanceMm }) => distanceMm < coilClearanceMm);
  const [nearest] = near;
  if (!nearest) return undefined;
  const { from, to, keepOut, distanceMm, at } = nearest;
  const wire = from
    ? `The data wire from run "${runTitle(from.run)}" to "${runTitle(to.run)}"`
    : `The lead from the board to the first LED of data line ${line + 1}`;
  const more = near.length - 1;
  return finding(
    'warning',
    'data-near-coils',
    at,
    `${wire} comes within ${Math.floor(distanceMm)} mm of the coil wiring "${keepOut.name ?? keepOut.id}"; ${coilClearanceMm} mm are wanted, since the coils' pulses couple into data.` +
      (more > 0 ? ` So do ${more} more wires of this line.` : ''),
    'Lead it elsewhere, by another order of the runs or another place of the board, or move the coil wiring.',
  );
};

const resistor: LineRule = ({ resistor: { ohms, isGiven, rcNanoseconds }, line }) => {
  if (!isGiven || (ohms >= leastResistorOhms && ohms <= mostResistorOhms)) return undefined;
  const { leastResistorOhms: least, mostResistorOhms: most, resistorOhms } = dataLineParts;
  return finding(
    'note',
    'data-resistor',
    pointer('dataLines', line, 'resistorOhms'),
    ohms < leastResistorOhms
      ? `${ohms} ohm at the beginning of data line ${line + 1} damp next to nothing; ${least} to ${most} ohm are usual.`
      : `${ohms} ohm at the beginning of data line ${line + 1} slow its edges down to ${Number(rcNanoseconds.toFixed(1))} ns; ${least} to ${most} ohm are usual.`,
    `Take ${resistorOhms} ohm.`,
  );
};

const rules: readonly LineRule[] = [firstLevel, jumperLevel, longLead, coils, resistor];

/**
 * Findings about data lines, each rule's at most once for each line.
 * @param given volts in white; without them levels from run to run are not looked at
 */
export const dataLineFindings = (project: Project, layout: Layout, given?: DataVolts): Finding[] =>
  dataLineAdvice(project, layout, given).flatMap((advice) =>
    rules.flatMap((rule) => rule(advice, project) ?? []),
  );
