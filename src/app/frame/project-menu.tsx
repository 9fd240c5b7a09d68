// The project's name as a menu: new, open, save, the samples. Its rows are commands.
import { ChevronDown } from 'lucide-react';
import { useSyncExternalStore } from 'react';
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
  { label: 'Project', ids: ['new', 'open', 'save', 'save-as'] },
  { label: 'Samples', ids: ['sample-midnight-carnival', 'sample-first-light', 'sample-deep-sea'] },
];

const keyWords = (stroke: string): string => stroke.replace('Mod', 'Ctrl').replaceAll('+', ' ');

/** Items of the section that has no commands of its own. */
const asideIndex = (id: string): number | undefined =>
  id.startsWith('aside-') ? Number(id.slice('aside-'.length)) : undefined;

export function ProjectMenu() {
  const commander = useCommander();
  const name = useProject((project) => project.name);
  const { files } = commander;
  const aside = useSyncExternalStore(files.aside.subscribe, files.aside.current);
  const act = (id: string) => {
    const index = asideIndex(id);
    if (index === undefined) commander.run(id);
    else void files.bringBack(index);
  };
  return (
    <MenuTrigger>
      <Button className={css['name']!} aria-label={`Project: ${name}`}>
        <span>{name}</span>
        <ChevronDown size={14} aria-hidden="true" />
      </Button>
      <Popover className={css['sheet']!} placement="bottom start">
        <Menu className={css['menu']!} onAction={(id) => act(String(id))}>
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
          {aside.length > 0 && <Separator className={css['rule']!} />}
          {aside.length > 0 && (
            <MenuSection aria-label="Put aside">
              {aside.map(({ name: asideName, on }, index) => (
                <MenuItem
                  key={on}
                  id={`aside-${index}`}
                  className={css['item']!}
                  textValue={`Bring back ${asideName}`}
                >
                  Bring back {asideName}
                  <span className={css['key']}>{on.slice(11, 16)}</span>
                </MenuItem>
              ))}
            </MenuSection>
          )}
        </Menu>
      </Popover>
    </MenuTrigger>
  );
}
