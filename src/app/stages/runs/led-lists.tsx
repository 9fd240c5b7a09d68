// The single LEDs of a run that stay dark: kept as spare, found broken, or bypassed by a wire.
import { memo } from 'react';
import { type Edit, type Run, setBypassedLeds, setDeadLeds, setSpareLeds } from '../../../project/index.ts';
import { CheckedTextField } from '../../fields/index.ts';
import { useEdit } from '../../workbench/context.ts';
import { ledListRefusal, ledListText, parseLedList } from './led-list.ts';

const lists: readonly {
  readonly key: 'spareLeds' | 'deadLeds' | 'bypassedLeds';
  readonly label: string;
  readonly step: string;
  readonly edit: (id: string, leds: readonly number[]) => Edit;
}[] = [
  { key: 'spareLeds', label: 'Spare LEDs, kept dark', step: 'Change spare LEDs', edit: setSpareLeds },
  { key: 'deadLeds', label: 'Dead LEDs, found broken', step: 'Change dead LEDs', edit: setDeadLeds },
  {
    key: 'bypassedLeds',
    label: 'Bypassed by a wire',
    step: 'Change bypassed LEDs',
    edit: setBypassedLeds,
  },
];

type Lists = { readonly [K in 'spareLeds' | 'deadLeds' | 'bypassedLeds']: Run[K] };

export const LedLists = memo(function LedLists({
  id,
  ledCount,
  ...own
}: Lists & { readonly id: string; readonly ledCount: number }) {
  const edit = useEdit();
  return lists.map(({ key, label, step, edit: set }) => (
    <CheckedTextField
      key={key}
      label={label}
      hint="Such as 3, 7-9, counted from 0 at DIN as planned"
      value={ledListText(own[key] ?? [])}
      refusalOf={(typed) => ledListRefusal(typed, ledCount)}
      onChange={(typed) => {
        const leds = parseLedList(typed, ledCount)!;
        if (ledListText(leds) !== ledListText(own[key] ?? [])) edit(step, set(id, leds));
      }}
    />
  ));
});
