// What a picked picture is asked: how wide it is, and for a photo whether to straighten it first. The artwork that is there already can be straightened
// too. Nothing is kept before the builder has seen how large it will be.
import { useState, useSyncExternalStore } from 'react';
import type { Picture } from '../../files/artwork.ts';
import { useCommander, useProject } from '../../workbench/context.ts';
import { PlaceDialog } from './place-dialog.tsx';
import { StraightenDialog } from './straighten-dialog.tsx';

/** A picture that is to be straightened. */
export interface ToStraighten {
  readonly image: HTMLImageElement;
  readonly name: string;
  readonly widthMm: number;
  /** Height of the piece, where it is known. */
  readonly heightMm: number | undefined;
  /** It is the artwork that lies on the panel. */
  readonly fillsPanel: boolean;
}

export function PictureDialogs({
  placed,
  onDone,
}: {
  /** The artwork that is there, where it is to be straightened. */
  readonly placed: ToStraighten | undefined;
  readonly onDone: () => void;
}) {
  const { files } = useCommander();
  const picture = useSyncExternalStore(files.picture.subscribe, files.picture.current);
  const panelMm = useProject(({ panel }) => panel.widthMm);
  const [straightened, setStraightened] = useState<{ of: Picture; widthMm: number }>();
  const close = () => {
    files.picture.set(undefined);
    setStraightened(undefined);
    onDone();
  };
  if (picture && straightened?.of === picture)
    return (
      <StraightenDialog
        source={{
          image: picture.image,
          name: picture.name,
          widthMm: straightened.widthMm,
          heightMm: undefined,
          fillsPanel: false,
        }}
        onClose={close}
      />
    );
  if (picture)
    return (
      <PlaceDialog
        key={picture.name}
        picture={picture}
        firstWidthMm={panelMm}
        onStraighten={(widthMm) => setStraightened({ of: picture, widthMm })}
        onClose={close}
      />
    );
  return placed ? <StraightenDialog source={placed} onClose={close} /> : null;
}
