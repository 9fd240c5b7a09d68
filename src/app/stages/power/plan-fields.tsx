// What planning may do: where feeds may enter, of which wire, fuse and plug, how far volts may fall, and whether it may cut + jumpers. The places that are
// kept or forbidden are listed; they are chosen in the feed's own inspector.
import type { FuseKind } from '../../../catalogue/index.ts';
import { usualFeedWire } from '../../../power/index.ts';
import { type Feed, type Project, setForbidden } from '../../../project/index.ts';
import { Button, CheckField, NumberField, Segments, SelectField } from '../../fields/index.ts';
import { runName } from '../../workbench/commands/run-commands.ts';
import { useEdit } from '../../workbench/context.ts';
import { Note } from '../runs/dialog.tsx';
import { fuseKindChoices, plugChoices } from './feed-choices.ts';
import type { PlanChoices } from './feed-plan-task.ts';
import css from './power-dialogs.module.css';
import { SupplyPlaceFields } from './supply-place-fields.tsx';
import { wireChoices } from './wire-choices.ts';

const places = [
  { id: 'ends', label: 'At runs’ ends' },
  { id: 'anywhere', label: 'At any LED' },
] as const;

/** Where the drop is limited without a figure so far, volts: LEDs that differ by less look alike (common practice, no source). */
const usualDropVolts = 0.3;

function without<K extends keyof PlanChoices>(choices: PlanChoices, key: K): PlanChoices {
  const { [key]: _, ...others } = choices;
  return others;
}

function Forbidden({ project }: { readonly project: Project }) {
  const edit = useEdit();
  const forbidden = project.power.planning?.forbidden ?? [];
  if (forbidden.length === 0) return null;
  return (
    <>
      <Note>No feed may enter at:</Note>
      <ul className={css['places']}>
        {forbidden.map(({ run, led }) => {
          const name = `${runName(project.runs.find(({ id }) => id === run) ?? { id: run })}, LED ${led}`;
          return (
            <li key={`${led} ${run}`}>
              <span>{name}</span>
              <Button
                label={`Allow feeds at ${name} again`}
                onPress={() => edit('Allow feeds here again', setForbidden(run, led, false))}
              >
                Allow
              </Button>
            </li>
          );
        })}
      </ul>
    </>
  );
}

export function PlanFields({
  project,
  choices,
  onChange,
}: {
  readonly project: Project;
  readonly choices: PlanChoices;
  readonly onChange: (choices: PlanChoices) => void;
}) {
  const set = (change: PlanChoices) => onChange({ ...choices, ...change });
  const kept = project.power.feeds.flatMap(({ isKept }, index) => (isKept ? [`F${index + 1}`] : []));
  return (
    <>
      <Segments
        label="Where feeds may enter"
        value={choices.places ?? 'ends'}
        choices={places}
        onChange={(to) => set({ places: to })}
      />
      <SelectField
        label="Thickest wire"
        value={choices.wire ?? usualFeedWire}
        choices={wireChoices}
        onChange={(wire) => set({ wire })}
      />
      <SelectField<FuseKind>
        label="Fuses"
        value={choices.fuseKind ?? 'blade'}
        choices={fuseKindChoices}
        onChange={(fuseKind) => set({ fuseKind })}
      />
      <SelectField
        label="Plug at the strip"
        value={choices.plug ?? ''}
        choices={plugChoices}
        onChange={(plug) =>
          plug === '' ? onChange(without(choices, 'plug')) : set({ plug: plug as NonNullable<Feed['plug']> })
        }
      />
      <CheckField
        label="It may cut and join + jumpers"
        value={!choices.jumpersStay}
        onChange={(may) => (may ? onChange(without(choices, 'jumpersStay')) : set({ jumpersStay: true }))}
      />
      <CheckField
        label="Keep colours even"
        value={choices.mostDropVolts !== undefined}
        onChange={(isOn) =>
          isOn ? set({ mostDropVolts: usualDropVolts }) : onChange(without(choices, 'mostDropVolts'))
        }
      />
      {choices.mostDropVolts !== undefined && (
        <NumberField
          label="Below the supply at most"
          unit="V"
          least={0.01}
          most={5}
          step={0.05}
          digits={2}
          value={choices.mostDropVolts}
          onChange={(mostDropVolts) => set({ mostDropVolts })}
        />
      )}
      <SupplyPlaceFields project={project} supply={undefined} />
      {kept.length > 0 && (
        <Note>
          {kept.join(', ')} {kept.length === 1 ? 'stays' : 'stay'} as{' '}
          {kept.length === 1 ? 'it is' : 'they are'}.
        </Note>
      )}
      <Forbidden project={project} />
      {(project.power.moreSupplies ?? []).length > 0 && (
        <Note>Each data line gets all its feeds from one supply. Spread zones over supplies afterwards.</Note>
      )}
    </>
  );
}
