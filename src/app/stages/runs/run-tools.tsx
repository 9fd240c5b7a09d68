// What the stage Runs adds to the tool bar: what a press on the panel does, and the automatic layout.
import {
  Brush,
  ChevronDown,
  Lasso,
  type LucideIcon,
  MapPin,
  Pipette,
  Ruler,
  SquareDashed,
} from 'lucide-react';
import { useState } from 'react';
import { Button as AriaButton, Keyboard, Menu, MenuItem, MenuTrigger, Popover } from 'react-aria-components';
import { Button, Segments } from '../../fields/index.ts';
import { commands } from '../../workbench/commands/index.ts';
import { useScreen, useSelected, useWorkbench } from '../../workbench/context.ts';
import type { ToolId } from '../../workbench/workbench.ts';
import { LayOutDialog } from './lay-out-dialog.tsx';
import css from './tools.module.css';

const usual = [
  { id: 'select', label: 'Choose' },
  { id: 'draw-run', label: 'Draw a run' },
] as const satisfies readonly { id: ToolId; label: string }[];

const more: readonly { readonly id: ToolId; readonly label: string; readonly Icon: LucideIcon }[] = [
  { id: 'draw-area', label: 'Area by a rectangle', Icon: SquareDashed },
  { id: 'lasso-area', label: 'Area by a line round LEDs', Icon: Lasso },
  { id: 'brush-area', label: 'Area by a brush', Icon: Brush },
  { id: 'pick-colour', label: 'Area by a colour of the artwork', Icon: Pipette },
  { id: 'mark-spots', label: 'Mark spots to be lit', Icon: MapPin },
  { id: 'measure', label: 'Measure', Icon: Ruler },
];

const keyOf = (id: ToolId): string | undefined =>
  commands.find((command) => command.id === `tool-${id}`)?.keys?.[0];

function MoreTools({ tool, onTool }: { readonly tool: ToolId; readonly onTool: (tool: ToolId) => void }) {
  const active = more.find(({ id }) => id === tool);
  return (
    <MenuTrigger>
      <AriaButton
        className={css['more']!}
        data-active={active !== undefined}
        aria-label={active ? `More tools: ${active.label}` : 'More tools'}
      >
        {active ? <active.Icon size={15} aria-hidden="true" /> : <span>Tools</span>}
        <ChevronDown size={13} aria-hidden="true" />
      </AriaButton>
      <Popover className={css['sheet']!} placement="bottom start">
        <Menu
          aria-label="More tools"
          className={css['menu']!}
          selectionMode="single"
          selectedKeys={active ? [tool] : []}
          onAction={(id) => onTool(id as ToolId)}
        >
          {more.map(({ id, label, Icon }) => (
            <MenuItem key={id} id={id} className={css['item']!} textValue={label}>
              <Icon size={15} aria-hidden="true" />
              <span>{label}</span>
              <Keyboard className={css['key']!}>{keyOf(id)}</Keyboard>
            </MenuItem>
          ))}
        </Menu>
      </Popover>
    </MenuTrigger>
  );
}

export function RunTools() {
  const workbench = useWorkbench();
  const tool = useScreen((state) => state.tool);
  const area = useSelected('area')?.id;
  const [isLayingOut, setLayingOut] = useState(false);
  const choose = (id: ToolId) => workbench.set({ tool: id, measured: undefined });
  return (
    <>
      <div className={css['tools']}>
        <Segments<ToolId> label="A press on the panel" value={tool} choices={usual} onChange={choose} />
        <MoreTools tool={tool} onTool={choose} />
      </div>
      <Button onPress={() => setLayingOut(true)}>Lay out for me</Button>
      {isLayingOut && <LayOutDialog area={area} onClose={() => setLayingOut(false)} />}
    </>
  );
}
