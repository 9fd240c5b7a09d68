// Of the tool bar: opens the dialog "Share", whose code comes when it is asked for.
import { lazy, Suspense, useState } from 'react';
import { Button } from '../../../fields/index.ts';
import { useWorkbench } from '../../../workbench/context.ts';

const ShareDialog = lazy(async () => ({ default: (await import('./share-dialog.tsx')).ShareDialog }));

export function ShareButton() {
  const workbench = useWorkbench();
  const [isOpen, setIsOpen] = useState(false);
  return (
    <>
      <Button
        label="Share shows, a film or a picture"
        onPress={() => {
          // The moment that is seen is the one that is shared.
          workbench.playback.setPlaying(false);
          setIsOpen(true);
        }}
      >
        Share
      </Button>
      {isOpen && (
        <Suspense>
          <ShareDialog onClose={() => setIsOpen(false)} />
        </Suspense>
      )}
    </>
  );
}
