// Sizes of the panel and of its visible opening.

import { useState } from 'react';
import { openingOf } from '../../../light/index.ts';
import { setPanelWidthKeepingShape } from '../../../panel/index.ts';
import { limits, setOpening, setPanelSize } from '../../../project/index.ts';
import { Button, Buttons, CheckField, FieldRow, Group, NumberField } from '../../fields/index.ts';
import { useEdit, useProject } from '../../workbench/context.ts';

const furthestMm = 10_000;

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

export function SizesGroup() {
  const edit = useEdit();
  const panel = useProject((project) => project.panel);
  const [keepsShape, setKeepsShape] = useState(false);
  const opening = openingOf(panel);
  const changeOpening = (key: keyof Opening, valueMm: number, gesture?: string) =>
    edit('Change opening', setOpening({ ...opening, [key]: valueMm }), gesture);
  const changePanel = (key: 'widthMm' | 'heightMm', valueMm: number, gesture?: string) => {
    if (!keepsShape) edit('Change panel size', setPanelSize({ [key]: valueMm }), gesture);
    else {
      const widthMm = key === 'widthMm' ? valueMm : (valueMm * panel.widthMm) / panel.heightMm;
      edit('Change panel size, all with it', setPanelWidthKeepingShape(widthMm), gesture);
    }
  };
  return (
    <Group title="Panel and visible opening">
      <SizeRow
        label="Panel"
        fields={panelFields}
        values={{ widthMm: panel.widthMm, heightMm: panel.heightMm }}
        onChange={changePanel}
      />
      <CheckField label="Keep the shape, all on it grows along" value={keepsShape} onChange={setKeepsShape} />
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
