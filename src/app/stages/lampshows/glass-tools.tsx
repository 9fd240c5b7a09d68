// Of the tool bar: how the lit panel is looked at.
import { Button } from '../../fields/index.ts';
import { useCommander } from '../../workbench/context.ts';
import { Exposure } from './exposure.tsx';
import { ShareButton } from './share/share-button.tsx';

export function GlassTools() {
  const commander = useCommander();
  return (
    <>
      <Button label="Stand in front of the panel" onPress={() => commander.run('view-stand')}>
        Stand in front
      </Button>
      <ShareButton />
      <Exposure />
    </>
  );
}
