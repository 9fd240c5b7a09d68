// The engraved channels that there are, and fitting runs into a drawing's.
import { Trash2 } from 'lucide-react';
import { useState } from 'react';
import { boundsOf } from '../../../panel/index.ts';
import { removeChannel } from '../../../project/index.ts';
import { Button, Buttons, Group } from '../../fields/index.ts';
import { useEdit, useProject } from '../../workbench/context.ts';
import { FitDialog } from './fit-dialog.tsx';
import css from './runs.module.css';

export function ChannelsGroup() {
  const edit = useEdit();
  const channels = useProject((project) => project.channels) ?? [];
  const [isFitting, setFitting] = useState(false);
  return (
    <Group title="Engraved channels">
      {channels.map(({ id, points }) => {
        const { leftMm, topMm } = boundsOf(points);
        return (
          <div key={id} className={css['member']}>
            <div>
              <span>
                {id} at {leftMm.toFixed(0)}, {topMm.toFixed(0)} mm
              </span>
              <Button label={`Remove ${id}`} onPress={() => edit('Remove channel', removeChannel(id))}>
                <Trash2 size={14} aria-hidden="true" />
              </Button>
            </div>
          </div>
        );
      })}
      <Buttons>
        <Button onPress={() => setFitting(true)}>Fit to channels</Button>
      </Buttons>
      {isFitting && <FitDialog onClose={() => setFitting(false)} />}
    </Group>
  );
}
