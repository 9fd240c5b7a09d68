// What the light goes through, from the front to the back: pane, diffuser, air gap, and the backing that holds the strip.
import { rowById, sheets } from '../../../catalogue/index.ts';
import { sheetOf } from '../../../panel/index.ts';
import {
  addSheet,
  changeSheet,
  freeId,
  type OwnSheet,
  removeSheet,
  setAirGap,
  setBacking,
  setGlass,
  setSheet,
} from '../../../project/index.ts';
import {
  Button,
  Buttons,
  CheckField,
  Derived,
  Group,
  NumberField,
  SelectField,
  TextField,
} from '../../fields/index.ts';
import { useEdit, useProject } from '../../workbench/context.ts';
import { usualMm } from './section-layers.ts';

const sheetName = ({ id, label }: OwnSheet): string => label ?? rowById(sheets, id)?.label ?? id;

/** Fields of a sheet that the builder has the data of. */
function OwnSheetFields({ sheet }: { readonly sheet: OwnSheet }) {
  const edit = useEdit();
  const change = (what: Parameters<typeof changeSheet>[1], gesture?: string) =>
    edit('Change own sheet', changeSheet(sheet.id, what), gesture);
  return (
    <>
      <TextField
        label="Name"
        value={sheetName(sheet)}
        onChange={(label) => change({ label: label === '' ? undefined : label })}
      />
      <NumberField
        label="Thickness"
        unit="mm"
        value={sheet.thicknessMm}
        least={0.01}
        most={50}
        digits={2}
        step={0.1}
        onChange={(thicknessMm, gesture) => change({ thicknessMm }, gesture)}
      />
      <NumberField
        label="Lets through"
        unit="%"
        value={100 * sheet.transmission}
        least={0.1}
        most={100}
        onChange={(percent, gesture) => change({ transmission: percent / 100 }, gesture)}
      />
      <NumberField
        label="Spreads light by"
        unit="mm"
        value={sheet.spreadMm}
        least={0}
        most={100}
        digits={2}
        step={0.1}
        onChange={(spreadMm, gesture) => change({ spreadMm }, gesture)}
      />
      <Buttons>
        <Button onPress={() => edit('Remove own sheet', removeSheet(sheet.id))}>Remove own sheet</Button>
      </Buttons>
    </>
  );
}

export function DiffuserGroup() {
  const edit = useEdit();
  const project = useProject((one) => one);
  const { airGapMm, sheet: id } = project.panel;
  const own = project.sheets ?? [];
  const ownSheet = rowById(own, id);
  const sheet = sheetOf(project);
  const choices = [
    ...own.map((one) => ({ id: one.id, label: `${sheetName(one)} (own)` })),
    ...sheets.filter((one) => !rowById(own, one.id)).map(({ id: row, label }) => ({ id: row, label })),
  ];
  const copy = () => {
    const { transmission, thicknessMm, spreadMm } = sheet;
    const fresh: OwnSheet = {
      id: freeId(
        [...own, ...sheets].map((one) => one.id),
        'own-sheet',
      ),
      label: 'Own sheet',
      transmission,
      thicknessMm,
      spreadMm,
    };
    edit('Add own sheet', (draft) => {
      addSheet(fresh)(draft);
      setSheet(fresh.id)(draft);
    });
  };
  return (
    <Group title="Diffuser and air gap">
      <SelectField
        label="Sheet"
        value={id}
        choices={choices}
        onChange={(chosen) => edit('Change sheet', setSheet(chosen))}
      />
      <NumberField
        label="Air gap"
        unit="mm"
        value={airGapMm}
        least={0.1}
        most={500}
        onChange={(gap, gesture) => edit('Change air gap', setAirGap(gap), gesture)}
      />
      {ownSheet ? (
        <OwnSheetFields key={ownSheet.id} sheet={ownSheet} />
      ) : (
        <>
          <Derived label="Thickness" unit="mm">
            {sheet.thicknessMm.toFixed(1)}
          </Derived>
          <Derived label="Lets through" unit="%">
            {Math.round(100 * sheet.transmission)}
          </Derived>
          <Derived label="Spreads light by" unit="mm">
            {sheet.spreadMm.toFixed(1)}
          </Derived>
          <Buttons>
            <Button onPress={copy}>Own sheet, from this one</Button>
          </Buttons>
        </>
      )}
    </Group>
  );
}

const cuts = [
  { id: 'laser', label: 'Laser' },
  { id: 'bit', label: 'Router bit' },
] as const;

export function BackingGroup() {
  const edit = useEdit();
  const backing = useProject((project) => project.panel.backing);
  if (!backing)
    return (
      <Group title="Backing">
        <Derived label="Board that holds the strip">not told</Derived>
        <Buttons>
          <Button
            onPress={() =>
              edit(
                'Add a backing',
                setBacking({ material: 'Plywood', thicknessMm: usualMm.backing, bitMm: usualMm.bit }),
              )
            }
          >
            Add a backing
          </Button>
        </Buttons>
      </Group>
    );
  const change = (what: Parameters<typeof setBacking>[0], gesture?: string) =>
    edit('Change backing', setBacking(what), gesture);
  const { material = '', thicknessMm, channelDepthMm = usualMm.channel, bitMm } = backing;
  return (
    <Group title="Backing">
      <TextField
        label="Material"
        value={material}
        onChange={(typed) => change({ material: typed === '' ? undefined : typed })}
      />
      <NumberField
        label="Backing thickness"
        unit="mm"
        value={thicknessMm}
        least={0.1}
        most={100}
        onChange={(mm, gesture) => change({ thicknessMm: mm }, gesture)}
      />
      <NumberField
        label="Channel depth"
        unit="mm"
        value={channelDepthMm}
        least={0.1}
        most={100}
        step={0.1}
        onChange={(mm, gesture) => change({ channelDepthMm: mm }, gesture)}
      />
      <SelectField
        label="Channels cut by"
        value={bitMm === undefined ? 'laser' : 'bit'}
        choices={cuts}
        onChange={(cut) => change({ bitMm: cut === 'bit' ? usualMm.bit : undefined })}
      />
      {bitMm !== undefined && (
        <NumberField
          label="Bit diameter"
          unit="mm"
          value={bitMm}
          least={0.1}
          most={50}
          digits={3}
          step={0.1}
          onChange={(mm, gesture) => change({ bitMm: mm }, gesture)}
        />
      )}
      <Buttons>
        <Button label="Remove the backing" onPress={() => edit('Remove backing', setBacking(undefined))}>
          Remove
        </Button>
      </Buttons>
    </Group>
  );
}

export function GlassGroup() {
  const edit = useEdit();
  const glassMm = useProject((project) => project.panel.glassMm);
  return (
    <Group title="Glass">
      <CheckField
        label="Clear pane in front of the print"
        value={glassMm !== undefined}
        onChange={(has) =>
          edit(has ? 'Add a pane' : 'Remove the pane', setGlass(has ? usualMm.glass : undefined))
        }
      />
      {glassMm !== undefined && (
        <NumberField
          label="Pane thickness"
          unit="mm"
          value={glassMm}
          least={0.1}
          most={50}
          step={0.1}
          onChange={(mm, gesture) => edit('Change the pane', setGlass(mm), gesture)}
        />
      )}
    </Group>
  );
}
