// Where a supply sits, in figures: feeds are measured from there.
import { supplyPlace } from '../../../power/index.ts';
import { changeFurtherSupply, type Project, setSupply } from '../../../project/index.ts';
import { FieldRow, NumberField } from '../../fields/index.ts';
import { useEdit } from '../../workbench/context.ts';

const furthestMm = 10_000;

/** @param supply id of a further supply; undefined: the first one */
export function SupplyPlaceFields({
  project,
  supply,
}: {
  readonly project: Project;
  readonly supply: string | undefined;
}) {
  const edit = useEdit();
  const place = supplyPlace(project, supply);
  const move = (to: typeof place, gesture?: string) =>
    edit(
      'Move the supply',
      supply === undefined ? setSupply({ place: to }) : changeFurtherSupply(supply, { place: to }),
      gesture,
    );
  return (
    <FieldRow label="Supply at x, y">
      {(['xMm', 'yMm'] as const).map((key) => (
        <NumberField
          key={key}
          isBare
          label={`Supply ${key.charAt(0)}`}
          unit="mm"
          least={-furthestMm}
          most={furthestMm}
          value={place[key]}
          onChange={(value, gesture) => move({ ...place, [key]: value }, gesture)}
        />
      ))}
    </FieldRow>
  );
}
