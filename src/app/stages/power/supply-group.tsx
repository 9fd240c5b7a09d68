// What the supply must give, and the usual sizes to choose from; further supplies each with their own load; what else can be asked of supplies.
import { useState } from 'react';
import { ampsFigure, type SupplyLoad, supplySizes } from '../../../power/index.ts';
import { changeFurtherSupply, setSupply } from '../../../project/index.ts';
import { Button, Buttons, Derived, Group, NumberField } from '../../fields/index.ts';
import { useEdit, useFigures, useProject } from '../../workbench/context.ts';
import { BoardVolts } from './board-supply-fields.tsx';
import { supplyName } from './feed-choices.ts';
import { OwnSupplyDialog } from './own-supply-dialog.tsx';
import css from './power.module.css';
import { useSupplyLoads } from './power-advice.ts';
import { SuppliesDialog } from './supplies-dialog.tsx';
import { drawWords, sizeWords, withoutHold } from './supply-words.ts';
import { VoltsWrong } from './volts-wrong.tsx';

function Sizes({ load }: { readonly load: SupplyLoad }) {
  const edit = useEdit();
  const { id } = load.supply;
  return (
    <table className={css['supplies']}>
      <thead>
        <tr>
          <th scope="col">Rated</th>
          <th scope="col">Power</th>
          <th scope="col">Load</th>
          <th scope="col">Verdict</th>
        </tr>
      </thead>
      <tbody>
        {supplySizes(load).map((size) => (
          <tr key={size.amps} data-chosen={size.isOwn}>
            <th scope="row">
              <button
                type="button"
                aria-pressed={size.isOwn}
                onClick={() =>
                  edit(
                    'Choose supply',
                    id === undefined
                      ? setSupply({ amps: size.amps })
                      : changeFurtherSupply(id, { amps: size.amps }),
                  )
                }
              >
                {size.amps} A
              </button>
            </th>
            <td>{size.watts.toFixed(0)} W</td>
            <td>{Math.round(100 * size.loadShare)} %</td>
            <td className={size.verdict === 'enough' ? undefined : css['warn']}>{sizeWords(size)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Load({ load, title }: { readonly load: SupplyLoad; readonly title: string }) {
  const { compiled } = useFigures();
  const without = withoutHold(compiled.project, load);
  return (
    <Group title={title}>
      <Derived label={drawWords(compiled.project, load)} unit="A">
        {ampsFigure(load.drawAmps)}
      </Derived>
      <Derived label="With a fifth kept free" unit="A">
        {ampsFigure(load.needAmps)}
      </Derived>
      {without && (
        <Derived label={without.words} tone={without.share > 1 ? 'warn' : 'plain'}>
          {ampsFigure(without.amps)} A, {Math.round(100 * without.share)} %
        </Derived>
      )}
      <Sizes load={load} />
    </Group>
  );
}

export function SupplyGroups() {
  const edit = useEdit();
  const supply = useProject(({ power }) => power.supply);
  const { power } = useFigures();
  const loads = useSupplyLoads();
  const [open, setOpen] = useState<'supplies' | 'own'>();
  return (
    <>
      <Group title="Worst case, all white">
        <Derived label={power.leds.length === 1 ? '1 LED draws' : `${power.leds.length} LEDs draw`} unit="A">
          {ampsFigure(power.worstCase.amps)}
        </Derived>
        <BoardVolts />
        <NumberField
          label="Supply set to"
          unit="V"
          value={supply.volts}
          least={3}
          most={14}
          step={0.1}
          digits={2}
          onChange={(volts, gesture) => edit('Set supply voltage', setSupply({ volts }), gesture)}
        />
        <VoltsWrong supply={undefined} />
        <NumberField
          label="Supply rated"
          unit="A"
          value={supply.amps}
          least={0.1}
          most={200}
          digits={2}
          onChange={(amps, gesture) => edit('Choose supply', setSupply({ amps }), gesture)}
        />
        <Buttons>
          <Button onPress={() => setOpen('supplies')}>Supplies...</Button>
          <Button onPress={() => setOpen('own')}>I own a supply...</Button>
        </Buttons>
      </Group>
      {loads.map((load, index) => (
        <Load
          key={load.supply.at}
          load={load}
          title={loads.length === 1 ? 'Supply' : `${supplyName(index)}, ${load.supply.volts} V`}
        />
      ))}
      {open === 'supplies' && <SuppliesDialog onClose={() => setOpen(undefined)} />}
      {open === 'own' && <OwnSupplyDialog onClose={() => setOpen(undefined)} />}
    </>
  );
}
