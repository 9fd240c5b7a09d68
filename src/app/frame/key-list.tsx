// All keys, from the same rows that run the commands. Opened by its button or by "?".
import { Keyboard as KeyboardIcon } from 'lucide-react';
import { Button as AriaButton, Dialog, Heading, Keyboard, Modal, ModalOverlay } from 'react-aria-components';
import { Button } from '../fields/index.ts';
import { type Command, commands } from '../workbench/commands/index.ts';
import { useScreen, useWorkbench } from '../workbench/context.ts';
import css from './key-list.module.css';

const groups: readonly { readonly title: string; readonly holds: (id: string) => boolean }[] = [
  { title: 'Chosen run', holds: (id) => id.startsWith('run-') },
  { title: 'Chosen clips', holds: (id) => id.startsWith('clip-') },
  { title: 'Chosen area, feed, jumper', holds: (id) => /^(area|feed|jumper)-/.test(id) },
  { title: 'Timeline', holds: (id) => /^(marker|beat|loop|timeline)-/.test(id) },
  { title: 'Painting on the glass', holds: (id) => id.startsWith('paint-') },
  { title: 'Tools', holds: (id) => id.startsWith('tool-') },
  { title: 'Project', holds: (id) => /^(open|save|save-as|undo|redo|keys)$/.test(id) },
  { title: 'Playing', holds: (id) => /^(play|frame-|show-1$)/.test(id) },
  { title: 'Playing as the game', holds: (id) => /^(game-(play|again|keep)|event-1$)/.test(id) },
  { title: 'In front of the panel', holds: (id) => id.startsWith('room-') },
  { title: 'View', holds: (id) => /^(view-|stage-|zoom-|fit$|other-side|deselect)/.test(id) },
];

/** As a keyboard has it. */
const keyWords = (stroke: string): string =>
  stroke
    .replace('Mod', 'Ctrl')
    .replace('ArrowLeft', '←')
    .replace('ArrowRight', '→')
    .replace('ArrowUp', '↑')
    .replace('ArrowDown', '↓')
    .replace(/(?<=.)\+(?=.)/g, ' ');

const Row = ({ label, keys = [] }: Command) => (
  <div>
    <dt>
      {label
        .replace('show 1', 'show 1 to 9')
        .replace('game event 1', 'game event 1 to 9, the others by the letters on their buttons')}
    </dt>
    <dd>
      {keys.map((stroke) => (
        <Keyboard key={stroke}>{keyWords(stroke)}</Keyboard>
      ))}
    </dd>
  </div>
);

export function KeyList() {
  const workbench = useWorkbench();
  const isOpen = useScreen((state) => state.listsKeys);
  const set = (listsKeys: boolean) => workbench.set({ listsKeys });
  return (
    <>
      <AriaButton className={css['button']!} aria-label="Keys" onPress={() => set(true)}>
        <KeyboardIcon size={16} aria-hidden="true" />
      </AriaButton>
      <ModalOverlay className={css['overlay']!} isOpen={isOpen} onOpenChange={set} isDismissable>
        <Modal className={css['modal']!}>
          <Dialog className={css['dialog']!}>
            <header>
              <Heading slot="title">Keys</Heading>
              <Button onPress={() => set(false)}>Close</Button>
            </header>
            {groups.map(({ title, holds }) => (
              <section key={title}>
                <h3>{title}</h3>
                <dl>
                  {commands
                    .filter(({ id, keys }) => keys && holds(id))
                    .map((command) => (
                      <Row key={command.id} {...command} />
                    ))}
                </dl>
              </section>
            ))}
          </Dialog>
        </Modal>
      </ModalOverlay>
    </>
  );
}
