// The stage's inspector: what the builder starts from, one group after the other.
import { renameProject } from '../../../project/index.ts';
import { Figure, Group, InspectorTitle, TextField } from '../../fields/index.ts';
import { useEdit, useProject } from '../../workbench/context.ts';
import { ArtworkGroup } from './artwork-group.tsx';
import { BafflesGroup } from './baffles-group.tsx';
import { GridGroup, GuidesGroup } from './grid-group.tsx';
import { KeepOutsGroup } from './keep-outs-group.tsx';
import { BackingGroup, DiffuserGroup, GlassGroup } from './sandwich-group.tsx';
import { ScaleGroup } from './scale-group.tsx';
import { SizesGroup } from './sizes-group.tsx';

export function PanelInspector() {
  const edit = useEdit();
  const name = useProject((project) => project.name);
  const { widthMm, heightMm } = useProject((project) => project.panel);
  return (
    <>
      <InspectorTitle title="Artwork and panel">
        <Figure unit="mm">
          {widthMm.toFixed(1)} × {heightMm.toFixed(1)}
        </Figure>
      </InspectorTitle>
      <Group title="Project">
        <TextField
          label="Project name"
          value={name}
          onChange={(typed) => typed !== '' && edit('Rename project', renameProject(typed))}
        />
      </Group>
      <ArtworkGroup />
      <ScaleGroup />
      <SizesGroup />
      <KeepOutsGroup />
      <DiffuserGroup />
      <BackingGroup />
      <BafflesGroup />
      <GlassGroup />
      <GridGroup />
      <GuidesGroup />
    </>
  );
}
