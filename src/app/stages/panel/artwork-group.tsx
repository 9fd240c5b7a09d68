// The artwork and its opacity layer: what is kept of them, and how they come and go.
import { useState } from 'react';
import { type PanelImage, setArtwork, setOpacity } from '../../../project/index.ts';
import { useArtwork, useOpacity } from '../../canvas/use-artwork.ts';
import { Button, Buttons, Derived, Group, ShortName } from '../../fields/index.ts';
import { artworkName, bytesInBase64 } from '../../files/artwork.ts';
import { figure } from '../../format.ts';
import { useCommander, useEdit, useProject } from '../../workbench/context.ts';
import { PictureDialogs, type ToStraighten } from './picture-dialogs.tsx';
import { kilobytes } from './size-words.ts';

const isDrawing = ({ mediaType }: PanelImage): boolean => mediaType === 'image/svg+xml';

function KeptSize({
  label,
  data,
  image,
}: {
  readonly label: string;
  readonly data: PanelImage;
  readonly image: HTMLImageElement | undefined;
}) {
  return (
    <>
      {isDrawing(data) || !image ? (
        <Derived label={label}>{isDrawing(data) ? 'drawing (SVG)' : ''}</Derived>
      ) : (
        <Derived label={label} unit="px">
          {figure(image.naturalWidth)} × {figure(image.naturalHeight)}
        </Derived>
      )}
      <Derived label="In the project" unit="kB">
        {kilobytes(bytesInBase64(data.base64))}
      </Derived>
    </>
  );
}

export function ArtworkGroup() {
  const commander = useCommander();
  const edit = useEdit();
  const { widthMm, heightMm, artwork: data, opacity } = useProject((project) => project.panel);
  const artwork = useArtwork();
  const layer = useOpacity();
  const [straightening, setStraightening] = useState<ToStraighten>();
  const name = data && artworkName(data);
  return (
    <Group title="Artwork">
      {name !== undefined && (
        <Derived label="File">
          <ShortName>{name}</ShortName>
        </Derived>
      )}
      {data && <KeptSize label="Picture" data={data} image={artwork?.image} />}
      {data && artwork && !isDrawing(data) && (
        <Derived label="Scale">{(artwork.image.naturalWidth / widthMm).toFixed(2)} px/mm</Derived>
      )}
      {opacity && <KeptSize label="Opacity layer" data={opacity} image={layer?.image} />}
      <Buttons>
        <Button onPress={() => commander.run('artwork')}>
          {data ? 'Another picture...' : 'Place a picture...'}
        </Button>
        {data && (
          <Button label="Remove the artwork" onPress={() => edit('Remove artwork', setArtwork(undefined))}>
            Remove
          </Button>
        )}
        {data && artwork && !isDrawing(data) && (
          <Button
            onPress={() =>
              setStraightening({
                image: artwork.image,
                name: name ?? 'artwork',
                widthMm,
                heightMm,
                fillsPanel: true,
              })
            }
          >
            Straighten the photo...
          </Button>
        )}
        {data && (
          <Button onPress={() => void commander.files.pickOpacity()}>
            {opacity ? 'Another opacity layer...' : 'Load an opacity layer...'}
          </Button>
        )}
        {opacity && (
          <Button
            label="Remove the opacity layer"
            onPress={() => edit('Remove the opacity layer', setOpacity(undefined))}
          >
            Remove the layer
          </Button>
        )}
      </Buttons>
      <PictureDialogs placed={straightening} onDone={() => setStraightening(undefined)} />
    </Group>
  );
}
