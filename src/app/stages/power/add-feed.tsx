// A new feed by run and LED number: what pressing an LED with the tool does, without the pointer.
import { useState } from 'react';
import { addFeed, limits } from '../../../project/index.ts';
import { Button, Buttons, Group, NumberField, SelectField } from '../../fields/index.ts';
import { runName } from '../../workbench/commands/run-commands.ts';
import { useEdit, useProject, useWorkbench } from '../../workbench/context.ts';

/** What a new feed begins with, as when an LED is pressed. */
const newFeed = { wire: 'AWG 18', lengthMm: 600 } as const;

export function AddFeed() {
  const workbench = useWorkbench();
  const edit = useEdit();
  const project = useProject((one) => one);
  const [point, setPoint] = useState({ run: '', led: 0 });
  const run = project.runs.find(({ id }) => id === point.run) ?? project.runs[0];
  if (!run) return null;
  const led = Math.min(point.led, run.ledCount - 1);
  const isFull = project.power.feeds.length >= limits.runs;
  return (
    <Group title="New feed">
      <SelectField
        label="Into run"
        value={run.id}
        choices={project.runs.map((one) => ({ id: one.id, label: runName(one) }))}
        onChange={(id) => setPoint({ run: id, led: 0 })}
      />
      <NumberField
        label="At LED, from DIN"
        value={led}
        least={0}
        most={run.ledCount - 1}
        digits={0}
        onChange={(to) => setPoint({ run: run.id, led: to })}
      />
      <Buttons>
        <Button
          takesFigures
          isDisabled={isFull}
          onPress={() => {
            const index = project.power.feeds.length;
            edit('Add feed', addFeed({ run: run.id, led, ...newFeed }));
            workbench.select({ kind: 'feed', index });
          }}
        >
          Add this feed
        </Button>
      </Buttons>
    </Group>
  );
}
