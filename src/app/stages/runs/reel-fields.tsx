// One of the builder's own reels in figures: what is printed on it, and what was measured.
import { useState } from 'react';
import { colourOrders, whitePlace } from '../../../catalogue/index.ts';
import { changeStrip, type OwnStrip } from '../../../project/index.ts';
import {
  Button,
  Buttons,
  CheckedTextField,
  Derived,
  NumberField,
  SelectField,
  TextField,
} from '../../fields/index.ts';
import { useEdit } from '../../workbench/context.ts';
import { Note } from './dialog.tsx';
import { railOhmPerMetre } from './measured-rail.ts';

type FigureKey =
  | 'ledsPerMetre'
  | 'boardWidthMm'
  | 'channelMilliamps'
  | 'whiteMilliamps'
  | 'quiescentMilliamps'
  | 'railOhmPerMetre'
  | 'floorVolts'
  | 'cutEveryLeds'
  | 'jointEveryMm';

interface FigureRow {
  readonly key: FigureKey;
  readonly label: string;
  readonly unit?: string;
  readonly least: number;
  readonly most: number;
  readonly digits: number;
  readonly step?: number;
  /** What counts where the reel says nothing. */
  readonly usual?: (reel: OwnStrip) => number;
  readonly fits?: (reel: OwnStrip) => boolean;
}

const hasWhite = ({ colourOrder }: OwnStrip): boolean => whitePlace(colourOrder) >= 0;

/** Bounds are the document's; 500 mm and one LED are what it takes where nothing is said. */
const figures: readonly FigureRow[] = [
  { key: 'ledsPerMetre', label: 'LEDs per metre', least: 5, most: 400, digits: 1 },
  { key: 'boardWidthMm', label: 'Board width', unit: 'mm', least: 1, most: 50, digits: 1 },
  {
    key: 'channelMilliamps',
    label: 'A colour at full',
    unit: 'mA',
    least: 0.1,
    most: 100,
    digits: 2,
    step: 0.5,
  },
  {
    key: 'whiteMilliamps',
    label: 'White at full',
    unit: 'mA',
    least: 0.1,
    most: 100,
    digits: 2,
    step: 0.5,
    usual: ({ channelMilliamps }) => channelMilliamps,
    fits: hasWhite,
  },
  { key: 'quiescentMilliamps', label: 'An LED, dark', unit: 'mA', least: 0, most: 50, digits: 2, step: 0.1 },
  { key: 'floorVolts', label: 'Works down to', unit: 'V', least: 0.1, most: 12, digits: 1, step: 0.1 },
  { key: 'cutEveryLeds', label: 'Cut mark every, LEDs', least: 1, most: 100, digits: 0, usual: () => 1 },
  {
    key: 'jointEveryMm',
    label: 'Soldered joint every',
    unit: 'mm',
    least: 1,
    most: 20_000,
    digits: 0,
    step: 100,
    usual: () => 500,
  },
  {
    key: 'railOhmPerMetre',
    label: 'One rail, a metre',
    unit: 'Ω',
    least: 0.001,
    most: 10,
    digits: 3,
    step: 0.005,
  },
];

function MeasuredRail({ onTake }: { readonly onTake: (ohmPerMetre: number) => void }) {
  const [measured, setMeasured] = useState({ volts: 0.2, amps: 1, lengthMm: 1000 });
  const { volts, amps, lengthMm } = measured;
  const ohm = railOhmPerMetre(volts, amps, lengthMm);
  return (
    <>
      <Note>
        To measure a rail: join + and ground at the far end, send 1 A through a piece of known length, and
        read the volts at its beginning. Volts by amperes are both rails; half of it is one.
      </Note>
      <NumberField
        label="Volts read"
        unit="V"
        least={0.001}
        most={12}
        digits={3}
        step={0.01}
        value={volts}
        onChange={(value) => setMeasured({ ...measured, volts: value })}
      />
      <NumberField
        label="Current sent"
        unit="A"
        least={0.01}
        most={10}
        digits={2}
        step={0.1}
        value={amps}
        onChange={(value) => setMeasured({ ...measured, amps: value })}
      />
      <NumberField
        label="Length of the piece"
        unit="mm"
        least={10}
        most={20_000}
        digits={0}
        step={100}
        value={lengthMm}
        onChange={(value) => setMeasured({ ...measured, lengthMm: value })}
      />
      <Derived label="One rail, a metre" unit="Ω">
        {ohm.toFixed(3)}
      </Derived>
      <Buttons>
        <Button takesFigures onPress={() => onTake(ohm)}>
          Take the measured rail
        </Button>
      </Buttons>
    </>
  );
}

const models = [
  { id: 'sum', label: 'Colours add up' },
  { id: 'largest', label: 'The largest colour' },
] as const;

export function ReelFields({ reel }: { readonly reel: OwnStrip }) {
  const edit = useEdit();
  const set = (change: Parameters<typeof changeStrip>[1], gesture?: string) =>
    edit('Change a reel', changeStrip(reel.id, change), gesture);
  return (
    <>
      <CheckedTextField
        label="Label"
        value={reel.label ?? reel.id}
        refusalOf={(typed) => (typed.trim() === '' ? 'A reel needs a name to be chosen by' : undefined)}
        onChange={(label) => set({ label })}
      />
      <SelectField
        label="Supply"
        value={String(reel.supplyVolts)}
        choices={[
          { id: '5', label: '5 V' },
          { id: '12', label: '12 V' },
        ]}
        onChange={(volts) => set({ supplyVolts: volts === '12' ? 12 : 5 })}
      />
      <SelectField
        label="Colour order"
        value={reel.colourOrder}
        choices={colourOrders.map((id) => ({ id, label: [...id].join(' ') }))}
        onChange={(colourOrder) => set({ colourOrder })}
      />
      <SelectField
        label="Current"
        value={reel.currentModel}
        choices={models}
        onChange={(currentModel) => set({ currentModel })}
      />
      {figures
        .filter(({ fits }) => fits?.(reel) ?? true)
        .map(({ key, usual, fits: _, ...row }) => (
          <NumberField
            key={key}
            {...row}
            value={reel[key] ?? usual?.(reel) ?? row.least}
            onChange={(value, gesture) => set({ [key]: value }, gesture)}
          />
        ))}
      <TextField
        label="Where figures are from"
        value={reel.source ?? ''}
        onChange={(source) => set({ source: source === '' ? undefined : source })}
      />
      <MeasuredRail onTake={(ohm) => set({ railOhmPerMetre: ohm })} />
    </>
  );
}
