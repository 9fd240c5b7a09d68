// "What if": buttons that take a conductor for broken and show at once what follows. Nothing of it is saved.
import { type ConductorPlace, type Fault, placeKey } from '../../../power/index.ts';
import { Button, Buttons, Group } from '../../fields/index.ts';
import { useScreen, useWorkbench } from '../../workbench/context.ts';
import { toggledFault } from '../../workbench/power-view.ts';

export interface WhatIf {
  readonly label: string;
  readonly faults: readonly Fault[];
}

const isOn = (faults: readonly Fault[], wanted: readonly Fault[]): boolean =>
  wanted.every(({ at, what }) =>
    faults.some((fault) => fault.what === what && placeKey(fault.at) === placeKey(at)),
  );

/** The two ways in which each rail of a conductor can fail, and both at once where that means something. */
export const whatIfs = (
  place: (rail: 'plus' | 'ground') => ConductorPlace,
  hasPlus: boolean,
  bothCut?: string,
): readonly WhatIf[] => [
  ...(bothCut === undefined
    ? []
    : [
        {
          label: bothCut,
          faults: (['plus', 'ground'] as const).map((rail): Fault => ({ at: place(rail), what: 'cut' })),
        },
      ]),
  { label: 'Ground cut', faults: [{ at: place('ground'), what: 'cut' }] },
  { label: 'Ground joint bad', faults: [{ at: place('ground'), what: 'bad-joint' }] },
  ...(hasPlus
    ? [
        { label: '+ cut', faults: [{ at: place('plus'), what: 'cut' }] } as const,
        { label: '+ joint bad', faults: [{ at: place('plus'), what: 'bad-joint' }] } as const,
      ]
    : []),
];

export function WhatIfGroup({
  title,
  choices,
}: {
  readonly title: string;
  readonly choices: readonly WhatIf[];
}) {
  const workbench = useWorkbench();
  const faults = useScreen(({ powerView }) => powerView.faults);
  const press = (wanted: readonly Fault[]) => {
    const { powerView } = workbench.state;
    const places = new Set(wanted.map(({ at }) => placeKey(at)));
    const others = powerView.faults.filter(({ at }) => !places.has(placeKey(at)));
    const next = isOn(powerView.faults, wanted) ? others : wanted.reduce(toggledFault, others);
    workbench.set({ powerView: { ...powerView, faults: next } });
  };
  return (
    <Group title={title}>
      <Buttons>
        {choices.map(({ label, faults: wanted }) => (
          <Button key={label} isPressed={isOn(faults, wanted)} onPress={() => press(wanted)}>
            {label}
          </Button>
        ))}
      </Buttons>
    </Group>
  );
}
