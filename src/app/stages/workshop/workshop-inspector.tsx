// What the drawing assumes, and the files to take away.
import { buildSheetPath, channelDepthMm, channels, clearanceMm, endRoomMm } from '../../../workshop/index.ts';
import { Button, Buttons, Cautions, Derived, Group, InspectorTitle } from '../../fields/index.ts';
import { baseName } from '../../files/exports.ts';
import { useExport, useSaveExport } from '../../files/use-export.ts';
import { figure } from '../../format.ts';
import { useCompiled, useProject } from '../../workbench/context.ts';
import css from './workshop.module.css';

const cautions = [
  'Never leave a laser alone while it cuts, and know what your material gives off.',
  'Measure the drawing’s size on a print or a scrap before you cut.',
  'Solder and flux fumes: work in moving air.',
];

const folder = 'workshop/';

export function WorkshopInspector() {
  const { layout } = useCompiled();
  const { widthMm, heightMm } = useProject((project) => project.panel);
  const plan = useExport();
  const save = useSaveExport();
  const all = channels(layout);
  const widths = [...new Set(all.map((channel) => channel.widthMm.toFixed(1)))];
  const files = [...(plan?.files ?? [])].filter(
    ([path]) => path === buildSheetPath || path.startsWith(folder),
  );
  return (
    <>
      <InspectorTitle title="Workshop">
        Backing, {widthMm} × {heightMm} mm
      </InspectorTitle>
      <Group title="Channels">
        <Derived label="How many">{all.length}</Derived>
        <Derived label="Clearance each side" unit="mm">
          {clearanceMm.toFixed(1)}
        </Derived>
        <Derived label="Width" unit="mm">
          {widths.length === 0 ? '-' : widths.join(', ')}
        </Derived>
        <Derived label="Depth" unit="mm">
          {channelDepthMm.toFixed(1)}
        </Derived>
        <Derived label="Room at each end" unit="mm">
          {endRoomMm.toFixed(1)}
        </Derived>
      </Group>
      <Group title="Files">
        <ul className={css['files']}>
          {files.map(([path, bytes]) => (
            <li key={path}>
              <button type="button" onClick={() => save.one(path)}>
                {baseName(path)}
              </button>
              <span>{figure(bytes.length)} B</span>
            </li>
          ))}
        </ul>
        <Buttons>
          <Button
            tone="main"
            isDisabled={files.length === 0}
            onPress={() => save.zip([buildSheetPath, folder], '-workshop')}
          >
            Save all files
          </Button>
        </Buttons>
      </Group>
      <Group title="Cautions">
        <Cautions words={cautions} />
      </Group>
    </>
  );
}
