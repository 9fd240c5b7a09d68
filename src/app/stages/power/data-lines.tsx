// Data lines: in the overview each with its margin at the first LED; in a dialog with its parts, its lead, its way past coils, and what to do about it.
import { useState } from 'react';
import { builtLines, coilClearanceMm } from '../../../panel/index.ts';
import { type DataLineAdvice, dataLineParts, voltsFigure } from '../../../power/index.ts';
import { type Project, setBoardOutput, setDataLineParts, setJumper } from '../../../project/index.ts';
import { Button, Buttons, CheckField, Derived, Group, NumberField, SelectField } from '../../fields/index.ts';
import { useEdit, useFigures, useProject } from '../../workbench/context.ts';
import { lineName } from '../runs/chain-places.ts';
import { Halves, Note, StageDialog } from '../runs/dialog.tsx';
import { adviceInWords, levelTone, marginInWords, nearestCoilMm } from './data-line-words.ts';
import css from './power.module.css';
import { useDataLines } from './power-advice.ts';
import dialogs from './power-dialogs.module.css';

const outputs = [
  { id: '5', label: '5 V' },
  { id: '3.3', label: '3.3 V' },
] as const;

const title = (project: Project, line: number): string => `${line + 1}: ${lineName(project, line)}`;

function Parts({ project, line }: { readonly project: Project; readonly line: number }) {
  const edit = useEdit();
  const { resistorOhms, hasShifter = false } = project.dataLines[line]!;
  const first = builtLines(project)[line]?.chain[0];
  const lengthMm = first?.jumper?.lengthMm;
  return (
    <>
      <CheckField
        label="A buffer of 5 V"
        value={hasShifter}
        onChange={(has) =>
          edit(
            has ? 'Put a buffer in' : 'Take the buffer out',
            setDataLineParts(line, { hasShifter: has ? true : undefined }),
          )
        }
      />
      <CheckField
        label="A resistor in series"
        value={resistorOhms !== undefined}
        onChange={(has) =>
          edit(
            has ? 'Put a resistor in' : 'Take the resistor out',
            setDataLineParts(line, { resistorOhms: has ? dataLineParts.resistorOhms : undefined }),
          )
        }
      />
      {resistorOhms !== undefined && (
        <NumberField
          label="Resistor"
          unit="Ω"
          least={1}
          most={10_000}
          step={10}
          digits={0}
          value={resistorOhms}
          onChange={(to, gesture) =>
            edit('Change the resistor', setDataLineParts(line, { resistorOhms: to }), gesture)
          }
        />
      )}
      {first && (
        <>
          <CheckField
            label="Lead from the board measured"
            value={lengthMm !== undefined}
            onChange={(isGiven) =>
              edit(
                isGiven ? 'Measure the lead' : 'Take the lead from the drawing',
                setJumper(line, first.place, { lengthMm: isGiven ? dataLineParts.mostLeadMm : undefined }),
              )
            }
          />
          {lengthMm !== undefined && (
            <NumberField
              label="Lead"
              unit="mm"
              least={1}
              most={20_000}
              step={10}
              value={lengthMm}
              onChange={(to, gesture) =>
                edit('Change the lead', setJumper(line, first.place, { lengthMm: to }), gesture)
              }
            />
          )}
        </>
      )}
    </>
  );
}

function Levels({ advice }: { readonly advice: DataLineAdvice }) {
  const { first, lead, resistor, jumpers } = advice;
  const lowest = jumpers.reduce<number | undefined>((least, { highMarginVolts, lowMarginVolts }) => {
    const margin = Math.min(highMarginVolts, lowMarginVolts);
    return least === undefined || margin < least ? margin : least;
  }, undefined);
  const coilMm = nearestCoilMm(advice);
  return (
    <>
      <Derived label={first.hasShifter ? 'Buffer gives' : 'Pin gives'} unit="V">
        {voltsFigure(first.outputVolts)}
      </Derived>
      <Derived label="First LED needs" unit="V">
        {voltsFigure(first.neededVolts)}
      </Derived>
      <Derived label="Margin there" unit="V" tone={levelTone(first)}>
        {marginInWords(first.marginVolts)}
      </Derived>
      <Derived label="At the chip’s full load" unit="V">
        {marginInWords(first.loadedMarginVolts)}
      </Derived>
      {lowest !== undefined && (
        <Derived label="Least from run to run, white" unit="V" tone={lowest < 0 ? 'warn' : 'plain'}>
          {marginInWords(lowest)}
        </Derived>
      )}
      {resistor.isGiven && (
        <Derived label="Resistor slows edges by" unit="ns">
          {resistor.rcNanoseconds.toFixed(1)}
        </Derived>
      )}
      <Derived label="Lead from the board" unit={lead ? 'mm' : ''}>
        {lead ? Math.ceil(lead.lengthMm) : 'not known'}
      </Derived>
      <Derived
        label="Nearest coil wiring"
        unit={coilMm === undefined ? '' : 'mm'}
        tone={coilMm !== undefined && coilMm < coilClearanceMm ? 'warn' : 'plain'}
      >
        {coilMm === undefined ? 'none drawn' : Math.floor(coilMm)}
      </Derived>
    </>
  );
}

function DataLinesDialog({ onClose }: { readonly onClose: () => void }) {
  const edit = useEdit();
  const project = useProject((one) => one);
  const { lines, findings } = useDataLines();
  const [wanted, setWanted] = useState(lines[0]?.line ?? 0);
  const advice = lines.find(({ line }) => line === wanted) ?? lines[0];
  const { outputVolts = 5 } = project.board;
  const isThere = advice !== undefined && advice.line < project.dataLines.length;
  const told = findings.filter(({ at }) => `${at}/`.startsWith(`/dataLines/${advice?.line}/`));
  return (
    <StageDialog title="Data lines" act="Done" onAct={onClose} onClose={onClose} close={undefined}>
      <Halves
        fields={
          <>
            <SelectField
              label="The board’s pins give"
              value={outputVolts === 5 ? '5' : '3.3'}
              choices={outputs}
              onChange={(id) =>
                edit('Change the board’s output', setBoardOutput(id === '5' ? undefined : 3.3))
              }
            />
            {isThere && (
              <Group title="Data line">
                {lines.length > 1 && (
                  <SelectField
                    label="Which"
                    value={String(advice.line)}
                    choices={lines.map(({ line }) => ({ id: String(line), label: title(project, line) }))}
                    onChange={(line) => setWanted(Number(line))}
                  />
                )}
                <Parts project={project} line={advice.line} />
              </Group>
            )}
            {isThere && (
              <Group title="What follows">
                <Levels advice={advice} />
              </Group>
            )}
          </>
        }
      >
        {isThere ? (
          <Group title={`What to do, line ${title(project, advice.line)}`}>
            <ul className={css['told']}>
              {told.map(({ message, mend }) => (
                <li key={message}>
                  {message}
                  <p>{mend}</p>
                </li>
              ))}
            </ul>
            <ul className={dialogs['advice']}>
              {adviceInWords(advice).map((sentence) => (
                <li key={sentence}>{sentence}</li>
              ))}
            </ul>
          </Group>
        ) : (
          <Note>No data line carries data to an LED yet: chain runs first, in the stage Runs.</Note>
        )}
      </Halves>
    </StageDialog>
  );
}

export function DataLinesGroup() {
  const { compiled } = useFigures();
  const { lines, findings } = useDataLines();
  const [isOpen, setOpen] = useState(false);
  return (
    <Group title="Data, margin at the first LED">
      {lines.map(({ line, first }) => (
        <Derived
          key={line}
          label={`${title(compiled.project, line)}${first.hasShifter ? ', buffered' : ''}`}
          unit="V"
          tone={levelTone(first)}
        >
          {marginInWords(first.marginVolts)}
        </Derived>
      ))}
      {findings.length > 0 && (
        <Derived label="To mend" tone="warn">
          {findings.length}
        </Derived>
      )}
      <Buttons>
        <Button onPress={() => setOpen(true)}>Data lines...</Button>
      </Buttons>
      {isOpen && <DataLinesDialog onClose={() => setOpen(false)} />}
    </Group>
  );
}
