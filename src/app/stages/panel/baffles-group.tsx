// Baffles: walls on the backing that keep the light of neighbours apart, by their numbers.
import { X } from 'lucide-react';
import { wallFinishes } from '../../../catalogue/index.ts';
import {
  addBaffles,
  type Baffle,
  changeBaffle,
  limits,
  removeBaffle,
  setBaffles,
} from '../../../project/index.ts';
import { Button, Buttons, FieldRow, Group, NumberField, SelectField } from '../../fields/index.ts';
import { useEdit, useProject } from '../../workbench/context.ts';
import { freshWall, wallsBetweenRows } from './baffle-facts.ts';
import css from './panel.module.css';

const furthestMm = 10_000;
const ends = [
  { id: 'from', label: 'From' },
  { id: 'to', label: 'To' },
] as const;
const ways = [
  { key: 'xMm', label: 'left' },
  { key: 'yMm', label: 'top' },
] as const;

function Wall({ wall, index }: { readonly wall: Baffle; readonly index: number }) {
  const edit = useEdit();
  const name = `Wall ${index + 1}`;
  return (
    <fieldset className={css['wall']} aria-label={name}>
      <div>
        <span>{name}</span>
        <Button label={`Remove ${name}`} onPress={() => edit('Remove wall', removeBaffle(index))}>
          <X size={14} aria-hidden="true" />
        </Button>
      </div>
      {ends.map(({ id, label }) => (
        <FieldRow key={id} label={label}>
          {ways.map((way) => (
            <NumberField
              key={way.key}
              isBare
              label={`${name} ${label.toLowerCase()}, ${way.label}`}
              unit="mm"
              value={wall[id][way.key]}
              least={-furthestMm}
              most={furthestMm}
              onChange={(mm, gesture) =>
                edit('Move wall', changeBaffle(index, { [id]: { ...wall[id], [way.key]: mm } }), gesture)
              }
            />
          ))}
        </FieldRow>
      ))}
    </fieldset>
  );
}

export function BafflesGroup() {
  const edit = useEdit();
  const panel = useProject((project) => project.panel);
  const { baffles, airGapMm } = panel;
  const walls = baffles?.walls ?? [];
  const between = wallsBetweenRows(panel);
  return (
    <Group title="Baffles">
      {!baffles && <p className={css['soft']}>Walls that keep the light of neighbours apart.</p>}
      {baffles && (
        <>
          <NumberField
            label="Wall thickness"
            unit="mm"
            value={baffles.thicknessMm}
            least={0.1}
            most={50}
            step={0.1}
            onChange={(thicknessMm, gesture) => edit('Change walls', setBaffles({ thicknessMm }), gesture)}
          />
          <NumberField
            label="Below the sheet"
            unit="mm"
            value={baffles.belowSheetMm ?? 0}
            least={0}
            most={airGapMm}
            step={0.5}
            onChange={(belowSheetMm, gesture) => edit('Change walls', setBaffles({ belowSheetMm }), gesture)}
          />
          <SelectField
            label="Finish"
            value={baffles.finish ?? wallFinishes[0]!.id}
            choices={wallFinishes}
            onChange={(finish) => edit('Change walls', setBaffles({ finish }))}
          />
          {walls.map((wall, index) => (
            // Walls have no id of their own.
            // biome-ignore lint/suspicious/noArrayIndexKey: see above
            <Wall key={index} wall={wall} index={index} />
          ))}
        </>
      )}
      <Buttons>
        <Button
          isDisabled={walls.length >= limits.baffles}
          onPress={() => edit('Add a wall', addBaffles([freshWall(panel)]))}
        >
          Add a wall
        </Button>
        {between.length > 0 && (
          <Button
            isDisabled={walls.length + between.length > limits.baffles}
            onPress={() => edit('Add walls between rows', addBaffles(between))}
          >
            Between every two grid rows
          </Button>
        )}
        {baffles && (
          <Button onPress={() => edit('Remove all walls', setBaffles(undefined))}>Remove all</Button>
        )}
      </Buttons>
    </Group>
  );
}
