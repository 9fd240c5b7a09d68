// The builder's own reels: a list, one of them in figures, and the catalogue to copy from, with where its figures are from.
import { useState } from 'react';
import { strips } from '../../../catalogue/index.ts';
import { addStrip, freeId, type OwnStrip, removeStrip } from '../../../project/index.ts';
import { Button, Buttons, Group, SelectField } from '../../fields/index.ts';
import { useEdit, useSettled } from '../../workbench/context.ts';
import { Halves, Note, StageDialog } from './dialog.tsx';
import { inWords } from './lay-out-tasks.ts';
import { ReelFields } from './reel-fields.tsx';

/** A reel of one's own that begins as the catalogue's strip. The catalogue holds no supply but 5 and 12 V, and leaves out what it doesn't know. */
const copyOf = (strip: (typeof strips)[number], taken: readonly string[]): OwnStrip =>
  ({
    ...structuredClone(strip),
    id: freeId(taken, `own-${strip.id}`.slice(0, 36)),
    label: `Own reel, ${strip.label}`,
  }) as OwnStrip;

export function ReelsDialog({ onClose }: { readonly onClose: () => void }) {
  const edit = useEdit();
  const { project } = useSettled();
  const own = project.strips ?? [];
  const [wanted, setWanted] = useState<string>();
  const [row, setRow] = useState(strips[1]!.id);
  const reel = own.find(({ id }) => id === wanted) ?? own[0];
  const strip = strips.find(({ id }) => id === row)!;
  const uses = project.runs.filter((run) => run.strip === reel?.id).length;
  const copy = () => {
    const fresh = copyOf(
      strip,
      own.map(({ id }) => id),
    );
    edit('Add a reel', addStrip(fresh));
    setWanted(fresh.id);
  };
  return (
    <StageDialog title="Reels" act="Done" onAct={onClose} onClose={onClose} close={undefined}>
      <Halves
        fields={
          <>
            <Group title="Copy from the catalogue">
              <SelectField
                label="Strip"
                value={row}
                choices={strips.map(({ id, label }) => ({ id, label }))}
                onChange={setRow}
              />
              <Note>Figures from: {strip.source}.</Note>
              <Buttons>
                <Button onPress={copy}>Copy as a reel of my own</Button>
              </Buttons>
            </Group>
            {reel && (
              <Group title="Own reels">
                <SelectField
                  label="Reel"
                  value={reel.id}
                  choices={own.map(({ id, label }) => ({ id, label: label ?? id }))}
                  onChange={setWanted}
                />
                <Note>{uses === 0 ? 'No run is cut from it.' : `${inWords(uses, 'run')} cut from it.`}</Note>
                <Buttons>
                  <Button onPress={() => edit('Remove a reel', removeStrip(reel.id))}>
                    Remove this reel
                  </Button>
                </Buttons>
              </Group>
            )}
          </>
        }
      >
        {reel ? (
          <ReelFields key={reel.id} reel={reel} />
        ) : (
          <Note>
            No reel of your own yet. Copy the strip that is most like yours, then put in what you measured:
            current, rail, colour order.
          </Note>
        )}
      </Halves>
    </StageDialog>
  );
}
