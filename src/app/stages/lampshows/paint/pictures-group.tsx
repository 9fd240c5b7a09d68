// Pictures and animated GIFs into the clip's frames: chosen from a file, or dropped here.
import { type DragEvent, useState } from 'react';
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
  const onDrop = (event: DragEvent) => {
    event.preventDefault();
    setOver(false);
    const [file] = event.dataTransfer.files;
    if (file) take(file);
  };
  return (
    <Group title="From a picture">
      {/* biome-ignore lint/a11y/noStaticElementInteractions: the button in it does the same */}
      <div
        className={css['drop']}
        data-over={isOver}
        onDragOver={(event) => {
          event.preventDefault();
          setOver(true);
        }}
        onDragLeave={() => setOver(false)}
        onDrop={onDrop}
        data-drop-picture
      >
        <p className={inspector['note']} role="status">
          {busyWith === undefined
            ? `A PNG, JPEG or animated GIF takes the place of all frames, brought down to ${painted.effect.columns} × ${painted.effect.rows} cells. Drop it here, or choose it.`
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
