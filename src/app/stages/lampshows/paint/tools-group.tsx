// What a press on the cells does: brush, line, filling, erasing, picking; how broad; and whether strokes are mirrored.
import { changePainting } from '../../../canvas/drags-paint.ts';
import { CheckField, type Choice, Group, NumberField, Segments } from '../../../fields/index.ts';
import { useScreen, useWorkbench } from '../../../workbench/context.ts';
import { mostBrushCells, type PaintTool } from '../../../workbench/painting.ts';
import inspector from '../inspector.module.css';
import css from './paint.module.css';

const tools: readonly Choice<PaintTool>[] = [
  { id: 'brush', label: 'Brush' },
  { id: 'line', label: 'Line' },
  { id: 'fill', label: 'Fill' },
  { id: 'erase', label: 'Erase' },
  { id: 'pick', label: 'Pick' },
];

const says: Readonly<Record<PaintTool, string>> = {
  brush: 'Press or drag over cells on the glass.',
  line: 'Drag from one cell to another; Shift keeps to one axis.',
  fill: 'Press on a cell: all of its colour that hang together are filled.',
  erase: 'Paints in the darkest colour.',
  pick: 'Press on a cell to paint in its colour; Alt does so with every tool.',
  artwork: 'Press on the print to take its colour into the palette.',
};

export function ToolsGroup() {
  const workbench = useWorkbench();
  const { tool, brushCells, mirroring } = useScreen(({ painting }) => painting);
  return (
    <Group title="Tool">
      <div className={css['tools']}>
        <Segments
          label="Tool"
          value={tool}
          choices={tools}
          onChange={(id) => changePainting(workbench, { tool: id, lineFrom: undefined })}
        />
      </div>
      <p className={inspector['note']}>{says[tool]}</p>
      <NumberField
        label="Brush, cells wide"
        digits={0}
        least={1}
        most={mostBrushCells}
        value={brushCells}
        onChange={(typed) => changePainting(workbench, { brushCells: typed })}
      />
      <CheckField
        label="Mirror left and right"
        value={mirroring.leftRight}
        onChange={(leftRight) => changePainting(workbench, { mirroring: { ...mirroring, leftRight } })}
      />
      <CheckField
        label="Mirror up and down"
        value={mirroring.upDown}
        onChange={(upDown) => changePainting(workbench, { mirroring: { ...mirroring, upDown } })}
      />
    </Group>
  );
}
