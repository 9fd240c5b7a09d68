// The project's name as a menu: new, open, save, the samples. Its rows are commands.
import { ChevronDown } from 'lucide-react';
import {
  Button,
  Keyboard,
  Menu,
  MenuItem,
  MenuSection,
  MenuTrigger,
  Popover,
  Separator,
} from 'react-aria-components';
import { commands } from '../workbench/commands/index.ts';
import { useCommander, useProject } from '../workbench/context.ts';
import css from './project-menu.module.css';

const sections: readonly { readonly label: string; readonly ids: readonly string[] }[] = [
  { label: 'Project', ids: ['new', 'open', 'save', 'save-as', 'bring-back'] },
  { label: 'Samples', ids: ['sample-midnight-carnival', 'sample-first-light', 'sample-deep-sea'] },
];

const keyWords = (stroke: string): string => stroke.replace('Mod', 'Ctrl').replaceAll('+', ' ');

export function ProjectMenu() {
  const commander = useCommander();
  const name = useProject((project) => project.name);
  return (
    <MenuTrigger>
      <Button className={css['name']!} aria-label={`Project: ${name}`}>
        <span>{name}</span>
        <ChevronDown size={14} aria-hidden="true" />
      </Button>
      <Popover className={css['sheet']!} placement="bottom start">
        <Menu className={css['menu']!} onAction={(id) => commander.run(String(id))}>
          {sections.flatMap(({ label, ids }, index) => [
            ...(index === 0 ? [] : [<Separator key={`${label}-rule`} className={css['rule']!} />]),
            <MenuSection key={label} aria-label={label}>
              {ids.map((id) => {
                const command = commands.find((one) => one.id === id)!;
                const key = command.keys?.[0];
                return (
                  <MenuItem key={id} id={id} className={css['item']!} textValue={command.label}>
                    {command.label}
                    {key !== undefined && <Keyboard className={css['key']!}>{keyWords(key)}</Keyboard>}
                  </MenuItem>
                );
              })}
            </MenuSection>,
          ])}
        </Menu>
      </Popover>
    </MenuTrigger>
  );
}
