// Marked spots: windows and stars of the artwork that want light. Runs for them are proposed with their figures, and laid by one press.
import { Trash2 } from 'lucide-react';
import { useMemo, useState } from 'react';
import { defaultStripOf, lightSpotsEdit, type PointMm, type SpotsTask } from '../../../panel/index.ts';
import {
  Button,
  Buttons,
  Derived,
  FieldRow,
  Group,
  InspectorTitle,
  NumberField,
  Segments,
  SelectField,
} from '../../fields/index.ts';
import { useEdit, useProject, useScreen, useSettled, useWorkbench } from '../../workbench/context.ts';
import { nothing } from '../../workbench/selection.ts';
import { Note, Outcome } from './dialog.tsx';
import { outlookOf } from './lay-out-tasks.ts';
import { darkSpots, withMovedSpot, withNewSpot, withoutSpot } from './spot-places.ts';
import { stripChoices } from './strip-choices.ts';

const directions = [
  { id: 'rows', label: 'Across' },
  { id: 'columns', label: 'Upright' },
] as const satisfies readonly { id: SpotsTask['direction']; label: string }[];

const furthestMm = 10_000;

/** Every mark by its place. */
function SpotList() {
  const workbench = useWorkbench();
  const spots = useScreen((state) => state.spots);
  const panel = useProject((project) => project.panel);
  const set = (next: readonly PointMm[]) => workbench.set({ spots: next });
  return (
    <>
      {spots.map((spot, index) => (
        // Spots have no id: their place in the list is what they are known by.
        // biome-ignore lint/suspicious/noArrayIndexKey: see above
        <FieldRow key={index} label={`Spot ${index + 1}`}>
          {(['xMm', 'yMm'] as const).map((key) => (
            <NumberField
              key={key}
              isBare
              label={`Spot ${index + 1} ${key.charAt(0)}`}
              unit="mm"
              least={-furthestMm}
              most={furthestMm}
              value={spot[key]}
              onChange={(value) => set(withMovedSpot(spots, index, { [key]: value }))}
            />
          ))}
          <Button label={`Remove spot ${index + 1}`} onPress={() => set(withoutSpot(spots, index))}>
            <Trash2 size={14} aria-hidden="true" />
          </Button>
        </FieldRow>
      ))}
      <Buttons>
        <Button onPress={() => set(withNewSpot(spots, panel))}>Add one</Button>
      </Buttons>
      <Note>Marks are not kept with the project.</Note>
    </>
  );
}

export function SpotsGroup() {
  const edit = useEdit();
  const workbench = useWorkbench();
  const { project } = useSettled();
  const spots = useScreen((state) => state.spots);
  const [direction, setDirection] = useState<SpotsTask['direction']>('rows');
  const [strip, setStrip] = useState(() => defaultStripOf(project));
  const proposal = useMemo(() => {
    if (spots.length === 0) return undefined;
    const { edit: lay, layout } = lightSpotsEdit(project, { spots, strip, direction });
    return { lay, layout, amps: outlookOf(project, lay).amps };
  }, [project, spots, strip, direction]);
  const dark = darkSpots(proposal?.layout.dark ?? []);
  const light = () => {
    if (!proposal) return;
    edit('Light the marked spots', proposal.lay);
    workbench.set({ spots: [], tool: 'select' });
    workbench.select(nothing);
  };
  return (
    <Group title="Marked spots">
      {proposal ? (
        <>
          <Segments label="Runs lie" value={direction} choices={directions} onChange={setDirection} />
          <SelectField label="Strip" value={strip} choices={stripChoices(project)} onChange={setStrip} />
          <Derived label="Spots">{spots.length}</Derived>
          <Derived label="LEDs lit, and spare between">
            {proposal.layout.ledCount - proposal.layout.spareCount} + {proposal.layout.spareCount}
          </Derived>
          <Derived label="Runs">{proposal.layout.runs.length}</Derived>
          <Derived label="The panel draws at most" unit="A">
            {proposal.amps.toFixed(2)}
          </Derived>
          {dark.length > 0 && <Outcome tone="warn">Not lit: {dark.join('; ')}.</Outcome>}
          <Buttons>
            <Button tone="main" isDisabled={proposal.layout.runs.length === 0} onPress={light}>
              Light the marked spots
            </Button>
            <Button onPress={() => workbench.set({ spots: [] })}>Take the marks away</Button>
          </Buttons>
        </>
      ) : (
        <Note>
          Press on windows and stars of the artwork that are to be lit. A press on a mark takes it away.
        </Note>
      )}
      <SpotList />
    </Group>
  );
}

/** In place of what is chosen, while spots are being marked. */
export const SpotsInspector = () => (
  <>
    <InspectorTitle title="Spots to be lit">Short runs whose LEDs stand at the marks</InspectorTitle>
    <SpotsGroup />
  </>
);
