// The line along the bottom: the figures that decide whether the panel can be built, always in view. A click on the findings lists them.
import { type ReactNode, useId, useState } from 'react';
import { boardOf } from '../../board/index.ts';
import { figure } from '../format.ts';
import { type OpenedProject, showName } from '../opening/open-project.ts';
import type { ShowSurvey } from '../survey/show-survey.ts';
import { FindingsList } from './findings-list.tsx';
import css from './vital-signs.module.css';

const Sign = ({ name, children }: { readonly name: string; readonly children: ReactNode }) => (
  <li className={css['sign']} data-sign={name}>
    {children}
  </li>
);

const Figure = ({ children }: { readonly children: ReactNode }) => <b>{children}</b>;

/** A share of the board's memory, or a plain word where the shows are too large to be counted. */
const Memory = ({
  label,
  used,
  total,
}: {
  readonly label: string;
  readonly used: number | undefined;
  readonly total: number;
}) => (
  <>
    {label} <Figure>{used === undefined ? 'too much' : figure(used)}</Figure> of{' '}
    <Figure>{figure(total)} B</Figure>
  </>
);

export function VitalSigns({
  opened,
  show,
  survey,
}: {
  readonly opened: OpenedProject;
  readonly show: string;
  /** Undefined while it is being made. */
  readonly survey: ShowSurvey | undefined;
}) {
  const [listed, setListed] = useState(false);
  const listId = useId();
  const { project, examination, power } = opened;
  const { budget, findings, frameMs } = examination;
  const board = boardOf(project);
  const { at, lowestVolts, amps } = power.worstCase;
  const run = at && project.runs.find((one) => one.id === at.run);
  const chosen = project.lampshows.find((one) => one.id === show)!;
  return (
    <footer className={css['line']} data-bar="vital-signs">
      {listed && <FindingsList id={listId} findings={findings} onClose={() => setListed(false)} />}
      <ul className={css['signs']} aria-label="Vital signs">
        <Sign name="leds">
          <Figure>{figure(power.leds.length)}</Figure> LEDs in <Figure>{project.runs.length}</Figure> runs
        </Sign>
        <Sign name="worst-case">
          Worst case <Figure>{amps.toFixed(2)} A</Figure>
        </Sign>
        <Sign name="peak">
          {showName(chosen)} peaks <Figure>{survey ? survey.peakAmps.toFixed(2) : '-.--'} A</Figure>
        </Sign>
        <Sign name="lowest">
          Lowest <Figure>{lowestVolts.toFixed(2)} V</Figure>
          {run && ` ${run.name ?? run.id}, LED ${at.led}`}
        </Sign>
        <Sign name="sram">
          <Memory label="SRAM" used={budget?.sram.usedBytes} total={board.sramBytes} />
        </Sign>
        <Sign name="flash">
          <Memory label="Flash" used={budget?.flash.usedBytes} total={board.flashBytes} />
        </Sign>
        <Sign name="speed">
          <Figure>{(1000 / frameMs).toFixed(1)}</Figure> frames/s
        </Sign>
        <Sign name="findings">
          <button
            type="button"
            className={css['findings']}
            data-worst={findings[0]?.severity ?? 'none'}
            aria-expanded={listed}
            {...(listed ? { 'aria-controls': listId } : {})}
            onClick={() => setListed(!listed)}
          >
            {findings.length === 1 ? '1 finding' : `${findings.length} findings`}
          </button>
        </Sign>
      </ul>
    </footer>
  );
}
