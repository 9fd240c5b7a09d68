// The reverse question: a supply is there already. Which limit may the player be given, or which brightness needs none, and what do shows lose by the
// limit. Not here: the arithmetic (src/power/owned-supply.ts, limiter-loss.ts).
import { useMemo, useState } from 'react';
import type { ShowLoss } from '../../../board/index.ts';
import { inSequence } from '../../../panel/index.ts';
import { ampsFigure, controllerAmps, type OwnedSupply, ownedSupply } from '../../../power/index.ts';
import { setLimit, setOutput, setSupply } from '../../../project/index.ts';
import { Button, Buttons, Derived, NumberField } from '../../fields/index.ts';
import { showName } from '../../playback/frames.ts';
import { lossesTask, type PowerProgress } from '../../survey/power-task.ts';
import { useWorkerAnswer } from '../../survey/use-worker-answer.ts';
import { useEdit, useFigures } from '../../workbench/context.ts';
import { Halves, Note, Outcome, StageDialog } from '../runs/dialog.tsx';
import { lossInWords, percentOf, progressInWords } from './load-words.ts';
import css from './power-dialogs.module.css';
import { startPowerWorker } from './start-power-worker.ts';

function Losses({ limitAmps }: { readonly limitAmps: number }) {
  const { compiled } = useFigures();
  const task = useMemo(() => lossesTask(compiled, limitAmps), [compiled, limitAmps]);
  const asked = useWorkerAnswer<readonly ShowLoss[], PowerProgress>(task, startPowerWorker);
  const losses = asked.state === 'done' ? asked.answer : [];
  const nameOf = (id: string) =>
    showName(compiled.project.lampshows.find((show) => show.id === id) ?? { id });
  return (
    <>
      <Outcome tone={asked.state === 'failed' ? 'warn' : 'plain'}>
        {!task && 'No show can be played yet.'}
        {task && asked.state === 'working' && `Playing all shows, ${progressInWords(asked.progress)}...`}
        {asked.state === 'failed' && 'The shows could not be played. Load the page again and retry.'}
        {asked.state === 'done' && lossInWords(losses, nameOf)}
      </Outcome>
      {losses.length > 0 && (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: a part that scrolls must be reachable by key
        <section className={css['plan-table']} tabIndex={0} aria-label="What shows lose">
          <table>
            <thead>
              <tr>
                <th scope="col" data-words>
                  Show
                </th>
                <th scope="col">Frames dimmed</th>
                <th scope="col">Of all</th>
                <th scope="col">Deepest</th>
              </tr>
            </thead>
            <tbody>
              {losses.map(({ lampshow, heldFrames, heldShare, deepestPercent }) => (
                <tr key={lampshow}>
                  <th scope="row" data-words title={nameOf(lampshow)}>
                    {nameOf(lampshow)}
                  </th>
                  <td>{heldFrames}</td>
                  <td>{percentOf(heldShare)}</td>
                  <td>{heldFrames === 0 ? '-' : `${Math.round(deepestPercent)} % less`}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      )}
    </>
  );
}

const Answer = ({ owned, hasBoard }: { readonly owned: OwnedSupply; readonly hasBoard: boolean }) => (
  <>
    <Derived label="Left for the LEDs" unit="A">
      {ampsFigure(Math.max(0, owned.forWireAmps))}
    </Derived>
    <Derived
      label="Largest limit"
      unit={owned.limitAmps === undefined ? '' : 'A'}
      tone={owned.limitAmps === undefined ? 'warn' : 'plain'}
    >
      {owned.limitAmps === undefined ? 'none' : ampsFigure(owned.limitAmps)}
    </Derived>
    <Derived
      label="Or, without a limit, brightness"
      unit={owned.brightnessPercent === undefined ? '' : '%'}
      tone={owned.brightnessPercent === undefined ? 'warn' : 'plain'}
    >
      {owned.brightnessPercent ?? 'none'}
    </Derived>
    {owned.whiteAmps !== undefined && (
      <Derived label={hasBoard ? 'With the board, all white then draws' : 'All white then draws'} unit="A">
        {ampsFigure(owned.whiteAmps)}
      </Derived>
    )}
  </>
);

export function OwnSupplyDialog({ onClose }: { readonly onClose: () => void }) {
  const edit = useEdit();
  const { compiled, assessment } = useFigures();
  const { project } = compiled;
  const [amps, setAmps] = useState(project.power.supply.amps);
  const owned = useMemo(() => ownedSupply(project, assessment.panel, amps), [project, assessment, amps]);
  const { limitAmps, brightnessPercent } = owned;
  const isOne = (project.power.moreSupplies ?? []).length === 0;
  const keep = () => {
    edit('Keep to this limit', inSequence([setSupply({ amps }), setLimit(limitAmps)]));
    onClose();
  };
  const cap = () => {
    edit(
      'Cap the brightness',
      inSequence([
        setSupply({ amps }),
        // A brightness can be turned up again: the limit stays behind it, and never acts below.
        setLimit(brightnessPercent === 100 ? undefined : limitAmps),
        setOutput({ brightnessPercent: Math.min(project.output.brightnessPercent, brightnessPercent!) }),
      ]),
    );
    onClose();
  };
  return (
    <StageDialog
      title="I own a supply"
      act="Keep to this limit"
      onAct={isOne && limitAmps !== undefined ? keep : undefined}
      onClose={onClose}
    >
      <Halves
        fields={
          <>
            <NumberField
              label="It is rated"
              unit="A"
              least={0.1}
              most={200}
              digits={2}
              value={amps}
              onChange={setAmps}
            />
            <Answer owned={owned} hasBoard={controllerAmps(project) > 0} />
            <Note>
              A fifth of the rating stays free, and the board is counted. Either choice sets supply 1 to this
              rating; a capped brightness keeps the limit behind it, which then never acts. Fuses and wire
              stay sized for all white.
            </Note>
            {brightnessPercent !== undefined && (
              <Buttons>
                <Button takesFigures isDisabled={!isOne} onPress={cap}>
                  {brightnessPercent === 100
                    ? 'Take it without a limit'
                    : `Cap the brightness at ${brightnessPercent} %`}
                </Button>
              </Buttons>
            )}
          </>
        }
      >
        {!isOne && (
          <Outcome tone="warn">
            This question is about one supply for everything. Take the further ones away first, or set the
            limit by hand.
          </Outcome>
        )}
        {!owned.carriesDark && (
          <Outcome tone="warn">Even dark, the LEDs and the board draw more than it may give.</Outcome>
        )}
        {isOne && limitAmps !== undefined && <Losses limitAmps={limitAmps} />}
      </Halves>
    </StageDialog>
  );
}
