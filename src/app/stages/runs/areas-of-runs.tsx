// Puts the chosen runs into an area, a new one or one that there is.
import { memo } from 'react';
import { addArea, freeId, setAreaMembers } from '../../../project/index.ts';
import { Group, SelectField } from '../../fields/index.ts';
import { useEdit, useProject, useWorkbench } from '../../workbench/context.ts';
import { intoInspector } from './into-inspector.ts';
import { withRuns } from './members-with-runs.ts';

export const AreasOfRuns = memo(function AreasOfRuns({ ids }: { readonly ids: readonly string[] }) {
  const edit = useEdit();
  const workbench = useWorkbench();
  const areas = useProject((project) => project.areas);
  const others = areas.filter(({ members }) => !members.some(({ kind }) => kind === 'all'));
  const put = (choice: string) => {
    const area = areas.find(({ id }) => `area ${id}` === choice);
    if (area) {
      intoInspector(() => {
        edit('Add runs to area', setAreaMembers(area.id, withRuns(area.members, ids)));
        workbench.select({ kind: 'area', id: area.id });
      });
      return;
    }
    if (choice !== 'new') return;
    const id = freeId(
      areas.map((one) => one.id),
      'area',
    );
    intoInspector(() => {
      edit(
        'Add area',
        addArea({ id, members: [{ kind: 'runs', runs: [...ids] }], order: { kind: 'across' } }),
      );
      workbench.select({ kind: 'area', id });
    });
  };
  return (
    <Group title="Areas">
      <SelectField<string>
        label={ids.length === 1 ? 'Put it into' : 'Put them into'}
        value=""
        choices={[
          { id: '', label: 'Choose' },
          { id: 'new', label: 'A new area' },
          ...others.map(({ id, name }) => ({ id: `area ${id}`, label: name ?? id })),
        ]}
        onChange={put}
      />
    </Group>
  );
});
