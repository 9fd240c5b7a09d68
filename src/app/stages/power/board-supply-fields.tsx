// What the board runs from, and the volts that are left for it while the strips are all white.
import { controllerFloorVolts, usualController as usual, voltsFigure } from '../../../power/index.ts';
import { type Controller, setController } from '../../../project/index.ts';
import { Derived, NumberField, SelectField } from '../../fields/index.ts';
import { useEdit, useFigures, useProject } from '../../workbench/context.ts';
import { Note } from '../runs/dialog.tsx';
import { wireChoices } from './wire-choices.ts';

/** "4.93", or why there is none; nothing to warn of where the board's volts aren't this panel's. */
export function BoardVolts() {
  const { assessment } = useFigures();
  const from = useProject(({ power }) => power.controller?.from ?? usual.from);
  const volts = assessment.controller?.volts;
  return volts === undefined ? (
    <Derived label="Board gets">{from === 'usb' ? 'USB' : 'its own regulator'}</Derived>
  ) : (
    <Derived label="Board gets, all white" unit="V" tone={volts < controllerFloorVolts ? 'warn' : 'plain'}>
      {voltsFigure(volts)}
    </Derived>
  );
}

export function BoardSupplyFields() {
  const edit = useEdit();
  const controller = useProject(({ power }) => power.controller);
  const { volts } = useProject(({ power }) => power.supply);
  const { assessment } = useFigures();
  const { from, milliamps, wire, lengthMm } = { ...usual, ...controller };
  const set = (change: Controller, gesture?: string) =>
    edit('Change the board’s supply', setController(change), gesture);
  return (
    <>
      <SelectField
        label="Board runs from"
        value={from}
        choices={[
          { id: 'supply', label: 'Supply 1' },
          { id: 'usb', label: 'USB' },
        ]}
        onChange={(to) => set({ from: to })}
      />
      {from === 'supply' && (
        <>
          <NumberField
            label="Draws"
            unit="mA"
            least={0}
            most={2000}
            step={5}
            digits={0}
            value={milliamps}
            onChange={(to, gesture) => set({ milliamps: to }, gesture)}
          />
          <SelectField label="Wire" value={wire} choices={wireChoices} onChange={(to) => set({ wire: to })} />
          <NumberField
            label="Length, one way"
            unit="mm"
            least={1}
            most={20_000}
            step={10}
            value={lengthMm}
            onChange={(to, gesture) => set({ lengthMm: to }, gesture)}
          />
        </>
      )}
      <BoardVolts />
      {from === 'usb' && (
        <Note>
          Join the grounds, and never USB’s +5 V with the strips’: with the supply off, USB would feed them.
        </Note>
      )}
      {from === 'supply' && assessment.controller === undefined && (
        <Note>A supply of {volts.toFixed(1)} V needs a regulator to 5 V for the board.</Note>
      )}
    </>
  );
}
