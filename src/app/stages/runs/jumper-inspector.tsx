// The chosen jumper: whether it carries +5 V, how long it is, and of which wire.
import { wires } from '../../../catalogue/index.ts';
import { defaultJumperWire } from '../../../panel/index.ts';
import { setJumper } from '../../../project/index.ts';
import {
  Button,
  Buttons,
  Derived,
  Group,
  InspectorTitle,
  NumberField,
  Segments,
  SelectField,
} from '../../fields/index.ts';
import { runName } from '../../workbench/commands/run-commands.ts';
import { useCompiled, useEdit, useProject } from '../../workbench/context.ts';
import type { ChainPlace } from './chain-places.ts';

const powers = [
  { id: 'carried', label: 'Carried' },
  { id: 'cut', label: 'Cut' },
] as const;

export function JumperInspector({ line, place }: ChainPlace) {
  const edit = useEdit();
  const { layout } = useCompiled();
  const hasBacking = useProject(({ panel }) => panel.backing !== undefined);
  const link = useProject(({ dataLines }) => dataLines[line]?.chain[place]);
  const jumper = layout.lines.find(({ index }) => index === line)?.jumpers.find((one) => one.place === place);
  if (!link || !jumper) return null;
  const { jumper: own = {} } = link;
  return (
    <>
      <InspectorTitle title="Jumper">
        From {runName(jumper.from.run)} to {runName(jumper.to.run)}
      </InspectorTitle>
      <Group title="+5 V">
        <Segments
          label="+5 V"
          value={jumper.power}
          choices={powers}
          onChange={(power) =>
            edit(power === 'cut' ? 'Cut +5 V' : 'Carry +5 V', setJumper(line, place, { ...own, power }))
          }
        />
      </Group>
      <Group title="Wire">
        <SelectField
          label="Wire"
          value={own.wire ?? defaultJumperWire}
          choices={wires.map(({ id }) => ({ id, label: id.replace('mm2', 'mm²') }))}
          onChange={(wire) => edit('Change wire', setJumper(line, place, { ...own, wire }))}
        />
        <NumberField
          label="Length"
          unit="mm"
          value={jumper.lengthMm}
          least={1}
          most={5000}
          onChange={(lengthMm, gesture) =>
            edit('Change wire length', setJumper(line, place, { ...own, lengthMm }), gesture)
          }
        />
        <Derived label="Given" unit="">
          {own.lengthMm !== undefined ? 'by hand' : hasBacking ? 'behind the backing' : 'straight distance'}
        </Derived>
        {own.lengthMm !== undefined && (
          <Buttons>
            <Button
              onPress={() => {
                const { lengthMm: _, ...rest } = own;
                edit('Take the length as routed', setJumper(line, place, rest));
              }}
            >
              Take the length as routed
            </Button>
          </Buttons>
        )}
      </Group>
    </>
  );
}
