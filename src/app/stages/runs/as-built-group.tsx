// How the chosen run was really soldered, where that differs from the plan, and what follows from it in words.
import { memo } from 'react';
import { colourOrders } from '../../../catalogue/index.ts';
import { builtRun } from '../../../panel/index.ts';
import { changeBuiltRun } from '../../../project/index.ts';
import { CheckField, Group, Segments, SelectField } from '../../fields/index.ts';
import { runName } from '../../workbench/commands/run-commands.ts';
import { useEdit, useSettled } from '../../workbench/context.ts';
import { exchangeEdit, exchangeOf } from './exchanges.ts';
import css from './runs.module.css';
import { builtStripChoices } from './strip-choices.ts';

const ways = [
  { id: 'same', label: 'Same', laidReversed: false, skipped: false },
  { id: 'reversed', label: 'Reversed', laidReversed: true, skipped: false },
  { id: 'out', label: 'Left out', laidReversed: false, skipped: true },
] as const;
type Way = (typeof ways)[number]['id'];

export const AsBuiltGroup = memo(function AsBuiltGroup({ id }: { readonly id: string }) {
  const edit = useEdit();
  const { project } = useSettled();
  const built = builtRun(project, id);
  const way: Way = built.skipped ? 'out' : built.laidReversed ? 'reversed' : 'same';
  const exchange = exchangeOf(project, id);
  return (
    <Group title="As built">
      <div className={css['soldered']}>
        <span aria-hidden="true">Soldered</span>
        <Segments<Way>
          label="Soldered"
          value={way}
          choices={ways}
          onChange={(to) => {
            const { laidReversed, skipped } = ways.find((one) => one.id === to)!;
            edit('Tell how it was soldered', changeBuiltRun(id, { laidReversed, skipped }));
          }}
        />
      </div>
      <CheckField
        label="Fed at DOUT"
        value={built.fedAtDout ?? false}
        onChange={(fedAtDout) => edit('Tell which end is fed', changeBuiltRun(id, { fedAtDout }))}
      />
      <SelectField
        label="Reel as built"
        value={built.strip ?? ''}
        choices={[{ id: '', label: 'As planned' }, ...builtStripChoices(project, id)]}
        onChange={(strip) =>
          edit('Tell which reel', changeBuiltRun(id, { strip: strip === '' ? undefined : strip }))
        }
      />
      <SelectField
        label="Order as built"
        value={built.colourOrder ?? ''}
        choices={[
          { id: '', label: built.strip === undefined ? 'As planned' : "The reel's own" },
          ...colourOrders.map((order) => ({ id: order, label: [...order].join(' ') })),
        ]}
        onChange={(order) =>
          edit(
            'Tell which colour order',
            changeBuiltRun(id, { colourOrder: order === '' ? undefined : order }),
          )
        }
      />
      {project.runs.length > 1 && (
        <SelectField
          label="Took the place of"
          value={exchange?.other ?? ''}
          choices={[
            { id: '', label: 'No other run' },
            ...project.runs
              .filter((one) => one.id !== id)
              .map((one) => ({ id: one.id, label: runName(one) })),
          ]}
          onChange={(other) =>
            edit(
              'Tell which runs changed places',
              exchangeEdit(project, id, other === '' ? undefined : other),
            )
          }
        />
      )}
    </Group>
  );
});
