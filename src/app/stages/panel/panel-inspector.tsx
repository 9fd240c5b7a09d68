// Sizes of the panel, its visible opening, the artwork, the diffuser and the air gap.
import { sheets } from '../../../catalogue/index.ts';
import { openingOf } from '../../../light/index.ts';
import {
  limits,
  renameProject,
  setAirGap,
  setArtwork,
  setOpening,
  setPanelSize,
  setSheet,
} from '../../../project/index.ts';
import { useArtwork } from '../../canvas/use-artwork.ts';
import {
  Button,
  Buttons,
  Derived,
  FieldRow,
  Figure,
  Group,
  InspectorTitle,
  NumberField,
  SelectField,
  TextField,
} from '../../fields/index.ts';
import { figure } from '../../format.ts';
import { useCommander, useEdit, useProject } from '../../workbench/context.ts';

const furthestMm = 10_000;

function Artwork() {
  const commander = useCommander();
  const edit = useEdit();
  const { widthMm, artwork: data } = useProject((project) => project.panel);
  const artwork = useArtwork();
  return (
    <Group title="Artwork">
      {artwork && (
        <>
          <Derived label="Picture" unit="px">
            {figure(artwork.image.naturalWidth)} × {figure(artwork.image.naturalHeight)}
          </Derived>
          {data?.mediaType !== 'image/svg+xml' && (
            <Derived label="Scale" unit="px/mm">
              {(artwork.image.naturalWidth / widthMm).toFixed(2)}
            </Derived>
          )}
        </>
      )}
      <Buttons>
        <Button onPress={() => commander.run('artwork')}>
          {data ? 'Another picture...' : 'Place a picture...'}
        </Button>
        {data && <Button onPress={() => edit('Remove artwork', setArtwork(undefined))}>Remove</Button>}
      </Buttons>
    </Group>
  );
}

interface SizeField<T> {
  readonly key: keyof T & string;
  readonly label: string;
  readonly least: number;
  readonly most: number;
}

type Opening = ReturnType<typeof openingOf>;
const sizeRange = { least: 1, most: limits.panelMm };
const placeRange = { least: -furthestMm, most: furthestMm };

const panelFields: readonly SizeField<{ widthMm: number; heightMm: number }>[] = [
  { key: 'widthMm', label: 'Panel width', ...sizeRange },
  { key: 'heightMm', label: 'Panel height', ...sizeRange },
];
const openingSizes: readonly SizeField<Opening>[] = [
  { key: 'widthMm', label: 'Opening width', ...sizeRange },
  { key: 'heightMm', label: 'Opening height', ...sizeRange },
];
const openingPlaces: readonly SizeField<Opening>[] = [
  { key: 'xMm', label: 'Opening from the left', ...placeRange },
  { key: 'yMm', label: 'Opening from the top', ...placeRange },
];

/** Fields of millimetres beside one label. */
function SizeRow<T extends object>({
  label,
  fields,
  values,
  onChange,
}: {
  readonly label: string;
  readonly fields: readonly SizeField<T>[];
  readonly values: T;
  readonly onChange: (key: keyof T & string, valueMm: number, gesture?: string) => void;
}) {
  return (
    <FieldRow label={label}>
      {fields.map(({ key, label: name, least, most }) => (
        <NumberField
          key={key}
          isBare
          label={name}
          unit="mm"
          value={values[key] as number}
          least={least}
          most={most}
          onChange={(valueMm, gesture) => onChange(key, valueMm, gesture)}
        />
      ))}
    </FieldRow>
  );
}

function Sizes() {
  const edit = useEdit();
  const panel = useProject((project) => project.panel);
  const opening = openingOf(panel);
  const changeOpening = (key: keyof Opening, valueMm: number, gesture?: string) =>
    edit('Change opening', setOpening({ ...opening, [key]: valueMm }), gesture);
  return (
    <Group title="Panel and visible opening">
      <SizeRow
        label="Panel"
        fields={panelFields}
        values={panel}
        onChange={(key, valueMm, gesture) =>
          edit('Change panel size', setPanelSize({ [key]: valueMm }), gesture)
        }
      />
      <SizeRow label="Opening" fields={openingSizes} values={opening} onChange={changeOpening} />
      <SizeRow label="From left, top" fields={openingPlaces} values={opening} onChange={changeOpening} />
      {panel.opening && (
        <Buttons>
          <Button onPress={() => edit('Open the whole panel', setOpening(undefined))}>
            The whole panel is visible
          </Button>
        </Buttons>
      )}
    </Group>
  );
}

export function PanelInspector() {
  const edit = useEdit();
  const name = useProject((project) => project.name);
  const { airGapMm, sheet, widthMm, heightMm } = useProject((project) => project.panel);
  const row = sheets.find(({ id }) => id === sheet)!;
  return (
    <>
      <InspectorTitle title="Artwork and panel">
        <Figure unit="mm">
          {widthMm.toFixed(1)} × {heightMm.toFixed(1)}
        </Figure>
      </InspectorTitle>
      <Group title="Project">
        <TextField
          label="Name"
          value={name}
          onChange={(typed) => typed !== '' && edit('Rename project', renameProject(typed))}
        />
      </Group>
      <Artwork />
      <Sizes />
      <Group title="Diffuser and air gap">
        <SelectField
          label="Sheet"
          value={sheet}
          choices={sheets.map(({ id, label }) => ({ id, label }))}
          onChange={(id) => edit('Change sheet', setSheet(id))}
        />
        <Derived label="Thickness" unit="mm">
          {row.thicknessMm.toFixed(1)}
        </Derived>
        <Derived label="Lets through" unit="%">
          {Math.round(100 * row.transmission)}
        </Derived>
        <NumberField
          label="Air gap"
          unit="mm"
          value={airGapMm}
          least={0.1}
          most={500}
          onChange={(gap, gesture) => edit('Change air gap', setAirGap(gap), gesture)}
        />
      </Group>
    </>
  );
}
