// The inspector of the stage Power: what is chosen, or else all of it.
import { useSelected } from '../../workbench/context.ts';
import { JumperPower, RunPower } from './conductor-inspectors.tsx';
import { FeedInspector } from './feed-inspector.tsx';
import { Overview } from './overview.tsx';

export function PowerInspector() {
  const feed = useSelected('feed');
  const jumper = useSelected('jumper');
  const run = useSelected('run');
  if (jumper) return <JumperPower line={jumper.line} place={jumper.place} />;
  if (run) return <RunPower id={run.id} />;
  return feed ? <FeedInspector key={feed.index} index={feed.index} /> : <Overview />;
}
