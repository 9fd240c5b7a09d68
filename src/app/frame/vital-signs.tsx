// The line along the bottom: the figures that decide whether the panel can be built, always in view, moving with every edit. Each is a button
// that leads to its cause.

import type { ReactNode } from 'react';
import { boardOf } from '../../board/index.ts';
import { ampsFigure, voltsFigure } from '../../power/index.ts';
import { ShortName } from '../fields/index.ts';
import { figure } from '../format.ts';
import { showName } from '../playback/frames.ts';
import { SurveyFigure } from '../survey/survey-figure.tsx';
import { useFlashes } from '../survey/use-flashes.ts';
import { useFigures, usePlaybackPart, useProject, useSettled, useWorkbench } from '../workbench/context.ts';
import { nothing, type Selection } from '../workbench/selection.ts';
import type { StageId } from '../workbench/workbench.ts';
import css from './vital-signs.module.css';

function Sign({
  name,
  stage,
  selection = nothing,
  children,
}: {
  readonly name: string;
  readonly stage: StageId;
  readonly selection?: Selection;
  readonly children: ReactNode;
}) {
  const workbench = useWorkbench();
  return (
    <li className={css['sign']} data-sign={name}>
      <button
        type="button"
        onClick={() => {
          workbench.enter(stage);
          workbench.select(selection);
        }}
      >
        {children}
      </button>
    </li>
  );
}

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
    {label} <b>{used === undefined ? 'too much' : figure(used)}</b> of <b>{figure(total)} B</b>
  </>
);

/** Never that a show is harmless: only that none were found, or how many. */
function FlashWords() {
  const flashes = useFlashes();
  if (flashes.state === 'looking') return 'being checked';
  if (flashes.state !== 'found') return <b>not known</b>;
  const { length } = flashes.findings;
  return (
    <b data-flashes={length === 0 ? 'none' : 'some'}>{length === 0 ? 'none found' : `found: ${length}`}</b>
  );
}

export function VitalSigns() {
  const { power } = useFigures();
  const { budget, frameMs, project } = useSettled();
  const board = boardOf(useProject((one) => one));
  const show = usePlaybackPart('show');
  const chosen = project.lampshows.find((one) => one.id === show);
  const { at, lowestVolts, amps } = power.worstCase;
  const hasLeds = power.leds.length > 0;
  const run = at && project.runs.find((one) => one.id === at.run);
  const atRun: Selection = run ? { kind: 'run', id: run.id } : nothing;
  return (
    <footer className={css['line']} data-bar="vital-signs">
      <ul className={css['signs']} aria-label="Vital signs">
        <Sign name="leds" stage="runs">
          <b>{figure(power.leds.length)}</b> {power.leds.length === 1 ? 'LED' : 'LEDs'} in{' '}
          <b>{project.runs.length}</b> {project.runs.length === 1 ? 'run' : 'runs'}
        </Sign>
        <Sign name="worst-case" stage="power">
          Worst case <b>{ampsFigure(amps)} A</b>
        </Sign>
        <Sign name="peak" stage="lampshows">
          {chosen && <ShortName>{showName(chosen)}</ShortName>} peaks{' '}
          <b>
            <SurveyFigure of={(survey) => survey.peakAmps} /> A
          </b>
        </Sign>
        <Sign name="lowest" stage="power" selection={atRun}>
          Lowest <b>{hasLeds ? voltsFigure(lowestVolts) : '-'} V</b>
          {run && (
            <>
              {' '}
              <ShortName>{run.name ?? run.id}</ShortName>, LED {at.led}
            </>
          )}
        </Sign>
        <Sign name="sram" stage="board">
          <Memory label="SRAM" used={budget?.sram.usedBytes} total={board.sramBytes} />
        </Sign>
        <Sign name="flash" stage="board">
          <Memory label="Flash" used={budget?.flash.usedBytes} total={board.flashBytes} />
        </Sign>
        <Sign name="speed" stage="board">
          <b>{hasLeds ? (1000 / frameMs).toFixed(1) : '-'}</b> frames/s
        </Sign>
        <Sign name="flashes" stage="lampshows">
          Flashes <FlashWords />
        </Sign>
      </ul>
    </footer>
  );
}
