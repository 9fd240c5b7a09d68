// Channels traced by hand: the chosen runs' outlines become engraved channels, locked, as wide as the tool cuts them.
import { memo } from 'react';
import { addChannels } from '../../../project/index.ts';
import { Button, Buttons, Group } from '../../fields/index.ts';
import { useEdit, useProject, useWorkbench } from '../../workbench/context.ts';
import { channelsOfRuns } from './channel-outlines.ts';

export const ChannelsOfRuns = memo(function ChannelsOfRuns({ ids }: { readonly ids: readonly string[] }) {
  const edit = useEdit();
  const workbench = useWorkbench();
  const hasStraight = useProject(({ runs }) => runs.some((run) => ids.includes(run.id) && !run.ring));
  if (!hasStraight) return null;
  return (
    <Group title="Engraved channels">
      <Buttons>
        <Button
          onPress={() =>
            edit(
              ids.length === 1 ? 'Add channel' : 'Add channels',
              addChannels(channelsOfRuns(workbench.project, ids)),
            )
          }
        >
          {ids.length === 1 ? 'Add its outline as a channel' : 'Add their outlines as channels'}
        </Button>
      </Buttons>
    </Group>
  );
});
