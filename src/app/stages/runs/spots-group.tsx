// Marked spots: windows and stars of the artwork that want light. Runs for them are proposed with their figures, and laid by one press.
import { useMemo, useState } from 'react';
import { defaultStripOf, lightSpotsEdit, type SpotsTask } from '../../../panel/index.ts';
import {
  Button,
  Buttons,
  Derived,
  Group,
  InspectorTitle,
  Segments,
  SelectField,
} from '../../fields/index.ts';
import { useEdit, useScreen, useSettled, useWorkbench } from '../../workbench/context.ts';
import { nothing } from '../../workbench/selection.ts';
import { Note, Outcome } from './dialog.tsx';
import { inWords, outlookOf } from './lay-out-tasks.ts';
import { stripChoices } from './strip-choices.ts';

const directions = [
  { id: 'rows', label: 'Across' },
  { id: 'columns', label: 'Upright' },
] as const satisfies readonly { id: SpotsTask['direction']; label: string }[];

/** Why a spot stays dark, behind their count. */
const reasons: Readonly<Record<string, string>> = {
  'off-panel': 'off the panel',
  'keep-out': 'in a keep-out',
  'no-room': 'without room for a run',
  limit: 'beyond what a project holds',
};

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
  const dark = proposal?.layout.dark ?? [];
  const darkWords = Object.entries(reasons).flatMap(([reason, words]) => {
    const count = dark.filter((one) => one.reason === reason).length;
    return count > 0 ? [`${inWords(count, 'spot')} ${words}`] : [];
  });
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
          {darkWords.length > 0 && <Outcome tone="warn">Not lit: {darkWords.join(', ')}.</Outcome>}
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
