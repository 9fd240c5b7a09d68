// What shows and game events really draw, frame by frame; the worst that events were found to make; an evening's energy, and the heat in the box.
// Not here: playing it (survey/power-task.ts).
import { useMemo, useState } from 'react';
import type { PowerPlay } from '../../../board/index.ts';
import {
  ampsFigure,
  eveningEnergy,
  usualEveningHours,
  usualHotCelsius,
  voltsFigure,
  wattsFigure,
} from '../../../power/index.ts';
import { type Project, setPowerSurroundings } from '../../../project/index.ts';
import { CheckField, Derived, Group, NumberField, SelectField } from '../../fields/index.ts';
import { showName } from '../../playback/frames.ts';
import {
  type LoadsAnswer,
  loadsTask,
  type PowerProgress,
  type ShowFigures,
} from '../../survey/power-task.ts';
import { useWorkerAnswer } from '../../survey/use-worker-answer.ts';
import { useEdit, useProject, useSettled } from '../../workbench/context.ts';
import { Halves, Note, Outcome, StageDialog } from '../runs/dialog.tsx';
import { pressesInWords, progressInWords, secondsIn } from './load-words.ts';
import css from './power-dialogs.module.css';
import { startPowerWorker } from './start-power-worker.ts';

const nameOfShow = ({ lampshows }: Project, id: string): string =>
  showName(lampshows.find((show) => show.id === id) ?? { id });

const Shows = ({ project, shows }: { readonly project: Project; readonly shows: readonly ShowFigures[] }) => (
  // biome-ignore lint/a11y/noNoninteractiveTabindex: a part that scrolls must be reachable by key
  <section className={css['plan-table']} tabIndex={0} aria-label="What shows draw">
    <table>
      <thead>
        <tr>
          <th scope="col" data-words>
            Show
          </th>
          <th scope="col">Peak, A</th>
          <th scope="col">Average, A</th>
          <th scope="col">Worst second, A</th>
          <th scope="col">Lowest, V</th>
        </tr>
      </thead>
      <tbody>
        {shows.map(({ lampshow, peakAmps, averageAmps, worstSecondAmps, lowestVolts }) => (
          <tr key={lampshow}>
            <th scope="row" data-words title={nameOfShow(project, lampshow)}>
              {nameOfShow(project, lampshow)}
            </th>
            <td>{ampsFigure(peakAmps)}</td>
            <td>{ampsFigure(averageAmps)}</td>
            <td>{ampsFigure(worstSecondAmps)}</td>
            <td>{voltsFigure(lowestVolts)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  </section>
);

function Worst({
  project,
  frameMs,
  title,
  play,
  amps,
  frame,
}: {
  readonly project: Project;
  readonly frameMs: number;
  readonly title: string;
  readonly play: PowerPlay;
  readonly amps: number;
  readonly frame: number;
}) {
  const nameOfEvent = (id: string) => {
    const event = project.gameEvents?.find((one) => one.id === id);
    return event?.name ?? id;
  };
  const presses = pressesInWords(play, frameMs, nameOfEvent);
  return (
    <Note>
      {title}: <strong>{ampsFigure(amps)} A</strong>, {secondsIn(frame, frameMs)} after power-up, “
      {play.title}”{presses === undefined ? '.' : `: ${presses}.`}
    </Note>
  );
}

function Combinations({
  project,
  frameMs,
  plays,
}: Pick<LoadsAnswer, 'plays'> & { readonly project: Project; readonly frameMs: number }) {
  const { highestPeak, highestSecond, lookedAtCount, leftOutCount } = plays;
  return (
    <>
      {highestPeak && (
        <Worst
          project={project}
          frameMs={frameMs}
          title="Highest peak, events and all"
          play={highestPeak}
          amps={highestPeak.peakAmps}
          frame={highestPeak.peakFrame}
        />
      )}
      {highestSecond && (
        <Worst
          project={project}
          frameMs={frameMs}
          title="Worst second"
          play={highestSecond}
          amps={highestSecond.worstSecondAmps}
          frame={highestSecond.worstSecondFrame}
        />
      )}
      <Note>
        {lookedAtCount} ways to play and press were looked at
        {leftOutCount > 0 ? `, ${leftOutCount} left out` : ''}. That is what was found, no proof: fuses and
        wire go by all white.
      </Note>
    </>
  );
}

function Evening({ project, shows }: { readonly project: Project; readonly shows: readonly ShowFigures[] }) {
  const [isInside, setInside] = useState(true);
  const [wanted, setWanted] = useState(project.attractMode);
  const show = shows.find(({ lampshow }) => lampshow === wanted) ?? shows[0];
  const energy = show && eveningEnergy(project, show.averageWatts, isInside);
  if (!energy) return null;
  return (
    <>
      <SelectField
        label="Playing"
        value={show.lampshow}
        choices={shows.map(({ lampshow }) => ({ id: lampshow, label: nameOfShow(project, lampshow) }))}
        onChange={setWanted}
      />
      <CheckField label="Supplies sit in the box" value={isInside} onChange={setInside} />
      <Derived label="From the mains" unit="W">
        {wattsFigure(energy.mainsWatts)}
      </Derived>
      <Derived label={`In ${Number(energy.hours.toFixed(2))} h`} unit="kWh">
        {energy.kilowattHours.toFixed(3)}
      </Derived>
      <Derived label="Heat in the box" unit="W">
        {wattsFigure(energy.heatWatts)}
      </Derived>
    </>
  );
}

export function LoadsDialog({ onClose }: { readonly onClose: () => void }) {
  const edit = useEdit();
  const settled = useSettled();
  const { project, frameMs, showData, layout } = settled;
  const { eveningHours = usualEveningHours, hotCelsius = usualHotCelsius } = useProject(({ power }) => power);
  const { power } = project;
  // Hours and heat change nothing of what is played.
  // biome-ignore lint/correctness/useExhaustiveDependencies: all that playing reads is among these
  const task = useMemo(
    () => loadsTask(settled),
    [showData, layout, power.feeds, power.supply, power.moreSupplies],
  );
  const asked = useWorkerAnswer<LoadsAnswer, PowerProgress>(task, startPowerWorker);
  const answer = asked.state === 'done' ? asked.answer : undefined;
  return (
    <StageDialog title="What shows draw" act="Done" onAct={onClose} onClose={onClose} close={undefined}>
      <Halves
        fields={
          <>
            <Group title="An evening’s play">
              <NumberField
                label="Hours"
                unit="h"
                least={0.1}
                most={24}
                step={0.5}
                digits={1}
                value={eveningHours}
                onChange={(to, gesture) =>
                  edit('Set hours of play', setPowerSurroundings({ eveningHours: to }), gesture)
                }
              />
              {answer && <Evening project={project} shows={answer.shows} />}
            </Group>
            <Group title="The closed box">
              <NumberField
                label="Copper gets as hot as"
                unit="°C"
                least={20}
                most={90}
                digits={0}
                value={hotCelsius}
                onChange={(to, gesture) =>
                  edit('Set heat in the box', setPowerSurroundings({ hotCelsius: to }), gesture)
                }
              />
              <Note>The case “All white, {hotCelsius} °C” of the view Volts goes by it.</Note>
            </Group>
          </>
        }
      >
        <Outcome tone={asked.state === 'failed' ? 'warn' : 'plain'}>
          {!task && 'No show can be played yet.'}
          {task &&
            asked.state === 'working' &&
            `Playing shows and events, ${progressInWords(asked.progress)}...`}
          {asked.state === 'failed' && 'The shows could not be played. Load the page again and retry.'}
          {answer &&
            `Frame by frame, as the player sends them${power.limitAmps === undefined ? '' : ', its limit at work'}:`}
        </Outcome>
        {answer && (
          <>
            <Shows project={project} shows={answer.shows} />
            <Combinations project={project} frameMs={frameMs} plays={answer.plays} />
          </>
        )}
      </Halves>
    </StageDialog>
  );
}
