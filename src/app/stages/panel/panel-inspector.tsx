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

function Sizes() {
  const edit = useEdit();
  const panel = useProject((project) => project.panel);
  const opening = openingOf(panel);
  const change = (part: Partial<typeof opening>, gesture?: string) =>
    edit('Change opening', setOpening({ ...opening, ...part }), gesture);
  return (
    <Group title="Panel and visible opening">
      <FieldRow label="Panel">
        <NumberField
          isBare
          label="Panel width"
          unit="mm"
          value={panel.widthMm}
          least={1}
          most={limits.panelMm}
          onChange={(widthMm, gesture) => edit('Change panel size', setPanelSize({ widthMm }), gesture)}
        />
        <NumberField
          isBare
          label="Panel height"
          unit="mm"
          value={panel.heightMm}
          least={1}
          most={limits.panelMm}
          onChange={(heightMm, gesture) => edit('Change panel size', setPanelSize({ heightMm }), gesture)}
        />
      </FieldRow>
      <FieldRow label="Opening">
        <NumberField
          isBare
          label="Opening width"
          unit="mm"
          value={opening.widthMm}
          least={1}
          most={limits.panelMm}
          onChange={(widthMm, gesture) => change({ widthMm }, gesture)}
        />
        <NumberField
          isBare
          label="Opening height"
          unit="mm"
          value={opening.heightMm}
          least={1}
          most={limits.panelMm}
          onChange={(heightMm, gesture) => change({ heightMm }, gesture)}
        />
      </FieldRow>
      <FieldRow label="From left, top">
        <NumberField
          isBare
          label="Opening from the left"
          unit="mm"
          value={opening.xMm}
          least={-furthestMm}
          most={furthestMm}
          onChange={(xMm, gesture) => change({ xMm }, gesture)}
        />
        <NumberField
          isBare
          label="Opening from the top"
          unit="mm"
          value={opening.yMm}
          least={-furthestMm}
          most={furthestMm}
          onChange={(yMm, gesture) => change({ yMm }, gesture)}
        />
      </FieldRow>
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
