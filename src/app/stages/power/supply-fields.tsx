// One supply in figures: the document's first one, or a further one with the wire that joins its ground to the first one's.
import { changeFurtherSupply, type FurtherSupply, type Project, setSupply } from '../../../project/index.ts';
import { CheckField, NumberField, SelectField } from '../../fields/index.ts';
import { useEdit } from '../../workbench/context.ts';
import { SupplyPlaceFields } from './supply-place-fields.tsx';
import { VoltsWrong } from './volts-wrong.tsx';
import { wireChoices } from './wire-choices.ts';

const usualGround = { wire: 'AWG 14', lengthMm: 300 } as const;

/** The wire between the grounds must carry what all fuses of a zone let through: thick at first. */
function GroundFields({ supply: { id, ground } }: { readonly supply: FurtherSupply }) {
  const edit = useEdit();
  const set = (to: FurtherSupply['ground'] | undefined, gesture?: string) =>
    edit('Change the ground wire', changeFurtherSupply(id, { ground: to }), gesture);
  return (
    <>
      <CheckField
        label="Ground joined by a wire"
        value={ground !== undefined}
        onChange={(isWire) => set(isWire ? usualGround : undefined)}
      />
      {ground && (
        <>
          <SelectField
            label="Ground wire"
            value={ground.wire}
            choices={wireChoices}
            onChange={(wire) => set({ ...ground, wire })}
          />
          <NumberField
            label="Its length"
            unit="mm"
            least={1}
            most={20_000}
            step={10}
            value={ground.lengthMm}
            onChange={(lengthMm, gesture) => set({ ...ground, lengthMm }, gesture)}
          />
        </>
      )}
    </>
  );
}

/** @param further undefined: the first one */
export function SupplyFields({
  project,
  further,
}: {
  readonly project: Project;
  readonly further: FurtherSupply | undefined;
}) {
  const edit = useEdit();
  const { volts, amps, outputMilliohms = 0 } = further ?? project.power.supply;
  const change = (label: string, part: Parameters<typeof setSupply>[0], gesture?: string) =>
    edit(label, further ? changeFurtherSupply(further.id, part) : setSupply(part), gesture);
  return (
    <>
      <NumberField
        label="Set to"
        unit="V"
        least={3}
        most={14}
        step={0.1}
        digits={2}
        value={volts}
        onChange={(to, gesture) => change('Set supply voltage', { volts: to }, gesture)}
      />
      <VoltsWrong supply={further?.id} />
      <NumberField
        label="Rated"
        unit="A"
        least={0.1}
        most={200}
        digits={2}
        value={amps}
        onChange={(to, gesture) => change('Choose supply', { amps: to }, gesture)}
      />
      <NumberField
        label="Gives way under load"
        unit="mΩ"
        least={0}
        most={1000}
        digits={1}
        value={outputMilliohms}
        onChange={(to, gesture) => change('Set output resistance', { outputMilliohms: to }, gesture)}
      />
      <SupplyPlaceFields project={project} supply={further?.id} />
      {further && <GroundFields supply={further} />}
    </>
  );
}
