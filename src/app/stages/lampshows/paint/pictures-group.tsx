// Pictures and animated GIFs into the clip's frames: chosen from a file, or dropped on the page.
import { useEffect, useRef, useState } from 'react';
import { paintedLimits } from '../../../../project/index.ts';
import { Button, Buttons, Group, NumberField } from '../../../fields/index.ts';
import type { PaintedPlace } from '../../../workbench/painting.ts';
import inspector from '../inspector.module.css';
import css from './paint.module.css';
import { usePicture } from './use-picture.ts';

export function PicturesGroup({ painted }: { readonly painted: PaintedPlace }) {
  const [colours, setColours] = useState<number>(paintedLimits.colours);
  const [isOver, setOver] = useState(false);
  const { busyWith, choose, take } = usePicture(painted, colours);
  const latest = useRef(take);
  latest.current = take;
  // Wherever it is dropped: the browser would leave the page for the picture.
  useEffect(() => {
    const hasFile = (event: DragEvent) => event.dataTransfer?.types.includes('Files') ?? false;
    const onOver = (event: DragEvent) => {
      if (!hasFile(event)) return;
      event.preventDefault();
      setOver(true);
    };
    const onLeave = (event: DragEvent) => event.relatedTarget === null && setOver(false);
    const onDrop = (event: DragEvent) => {
      if (!hasFile(event)) return;
      event.preventDefault();
      setOver(false);
      const file = event.dataTransfer?.files[0];
      if (file) latest.current(file);
    };
    addEventListener('dragover', onOver);
    addEventListener('dragleave', onLeave);
    addEventListener('drop', onDrop);
    return () => {
      removeEventListener('dragover', onOver);
      removeEventListener('dragleave', onLeave);
      removeEventListener('drop', onDrop);
    };
  }, []);
  return (
    <Group title="From a picture">
      <div className={css['drop']} data-over={isOver}>
        <p className={inspector['note']} role="status">
          {busyWith === undefined
            ? `A PNG, JPEG or animated GIF takes the place of all frames, brought down to ${painted.effect.columns} × ${painted.effect.rows} cells. Drop it anywhere, or choose it.`
            : `Taking in ${busyWith}…`}
        </p>
        <NumberField
          label="Colours at most"
          digits={0}
          least={2}
          most={paintedLimits.colours}
          value={colours}
          onChange={setColours}
        />
        <Buttons>
          <Button isDisabled={busyWith !== undefined} onPress={choose}>
            Choose a picture
          </Button>
        </Buttons>
      </div>
    </Group>
  );
}
