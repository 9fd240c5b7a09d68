// What the stage Power adds to the tool bar: a feed is added by pressing the LED at which it should enter, or all are placed by planning.

import { useState } from 'react';
import { voltsFigure } from '../../../power/index.ts';
import { Button, Segments } from '../../fields/index.ts';
import { useFigures, useScreen, useWorkbench } from '../../workbench/context.ts';
import type { ToolId } from '../../workbench/workbench.ts';
import { PlaceFeedsDialog } from './place-feeds-dialog.tsx';
import css from './power.module.css';

const tools = [
  { id: 'select', label: 'Choose' },
  { id: 'add-feed', label: 'Add a feed' },
] as const satisfies readonly { id: ToolId; label: string }[];

export function PowerTools() {
  const workbench = useWorkbench();
  const tool = useScreen((state) => state.tool);
  const { power } = useFigures();
  const feeds = power.feeds.length;
  const [isPlacing, setPlacing] = useState(false);
  return (
    <>
      <span className={css['feed-count']}>
        {feeds === 1 ? '1 feed' : `${feeds} feeds`}
        {power.leds.length > 0 && (
          <>
            , lowest <span className={css['figure']}>{voltsFigure(power.worstCase.lowestVolts)} V</span>
          </>
        )}
      </span>
      <Segments<ToolId>
        label="A press on the panel"
        value={tool}
        choices={tools}
        onChange={(id) => workbench.set({ tool: id })}
      />
      <Button onPress={() => setPlacing(true)}>Place feeds for me</Button>
      {isPlacing && <PlaceFeedsDialog onClose={() => setPlacing(false)} />}
    </>
  );
}
