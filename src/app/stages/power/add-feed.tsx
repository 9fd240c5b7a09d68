// A new feed by run and LED number: what pressing an LED with the tool does, without the pointer.
import { useState } from 'react';
import { addFeed, limits } from '../../../project/index.ts';
import { Button, Buttons, Group, NumberField, SelectField } from '../../fields/index.ts';
import { newFeed } from '../../workbench/commands/new-feed.ts';
import { runName } from '../../workbench/commands/run-commands.ts';
import { useEdit, useFigures, useProject, useWorkbench } from '../../workbench/context.ts';
import { intoInspector } from '../runs/into-inspector.ts';
import { forbid, isForbidden } from './feed-edits.ts';

export function AddFeed() {
  const workbench = useWorkbench();
  const edit = useEdit();
  const project = useProject((one) => one);
  const { layout } = useFigures().compiled;
  const [point, setPoint] = useState({ run: '', led: 0 });
  const run = project.runs.find(({ id }) => id === point.run) ?? project.runs[0];
  if (!run) return null;
  const led = Math.min(point.led, run.ledCount - 1);
  const isPlaced = layout.runs.some((placed) => placed.run.id === run.id && led < placed.leds.length);
  const place = { run: run.id, led };
  const isBarred = isForbidden(project, place);
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
          isDisabled={isFull || !isPlaced}
          onPress={() => {
            const index = project.power.feeds.length;
            edit('Add feed', addFeed(newFeed(project, layout, place)));
            intoInspector(() => workbench.select({ kind: 'feed', index }));
          }}
        >
          Add this feed
        </Button>
        <Button
          takesFigures
          isPressed={isBarred}
          onPress={() =>
            edit(isBarred ? 'Allow feeds here again' : 'Forbid feeds here', forbid(project, place, !isBarred))
          }
        >
          None may enter here
        </Button>
      </Buttons>
    </Group>
  );
}
