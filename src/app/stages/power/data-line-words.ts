// What to tell of a data line beside its figures. Pure. Not here: figures (src/power/data-line.ts), what is wrong (data-line-findings.ts).
import { coilClearanceMm } from '../../../panel/index.ts';
import { type DataLineAdvice, dataLineParts } from '../../../power/index.ts';

/** Below 0 it is too little; a margin is never told as larger than it is. */
export const marginInWords = (volts: number): string => {
  const floored = Math.floor(volts * 100 + 1e-6) / 100;
  return `${floored < 0 ? '−' : '+'}${Math.abs(floored).toFixed(2)}`;
};

export const levelTone = ({ verdict }: DataLineAdvice['first']): 'good' | 'plain' | 'warn' =>
  (({ fine: 'good', unloaded: 'plain', low: 'warn' }) as const)[verdict];

/** The nearest coil wiring, if any is drawn. */
export const nearestCoilMm = ({ coils }: DataLineAdvice): number | undefined => coils[0]?.distanceMm;

/** Nothing where it is too low: that is a finding. */
function levelInWords({ hasShifter, verdict }: DataLineAdvice['first']): string[] {
  if (verdict === 'low') return [];
  if (hasShifter) return ['The buffer of 5 V drives the line; it sits at the board.'];
  return [
    verdict === 'unloaded'
      ? 'Enough for one LED’s input without a buffer; put nothing else on this pin.'
      : 'Needs no buffer.',
  ];
}

/** Sentences for the line, in the order of the wire. */
export function adviceInWords({ first, lead, resistor, coils, capacitorCount }: DataLineAdvice): string[] {
  const { mostLeadMm, pullDownOhms, capacitorMicrofarads, leastResistorOhms, mostResistorOhms } =
    dataLineParts;
  return [
    ...levelInWords(first),
    `${resistor.isGiven ? '' : 'Not drawn yet: '}${resistor.ohms} Ω in series at the beginning of the line; ${leastResistorOhms} to ${mostResistorOhms} Ω are usual.`,
    ...(lead === undefined ? [`Keep the lead from the board under ${mostLeadMm} mm, or buffer it.`] : []),
    `Run ground beside the data wire, and ${pullDownOhms / 1000} kΩ from data to ground at the board: the line then stays low while the board starts.`,
    ...(coils.length === 0 ? [`Stay ${coilClearanceMm} mm away from coil wiring; none is drawn.`] : []),
    ...(capacitorCount > 0
      ? [
          `${capacitorMicrofarads} µF, rated 10 V or more (25 V at 12 V), across + and ground at ${capacitorCount === 1 ? 'its feed' : `each of its ${capacitorCount} feeds`}.`,
        ]
      : []),
  ];
}
