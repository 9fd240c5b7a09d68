// Something to tell that needs no answer: a file that can't be opened, and why.
import { X } from 'lucide-react';
import { Button } from '../fields/index.ts';
import { useScreen, useWorkbench } from '../workbench/context.ts';
import css from './message.module.css';

export function Message() {
  const workbench = useWorkbench();
  const message = useScreen((state) => state.message);
  if (!message) return null;
  return (
    <div className={css['message']} role="alert">
      <div>
        <b>{message.title}</b>
        {message.lines.map((line) => (
          <p key={line}>{line}</p>
        ))}
      </div>
      <Button label="Close the message" onPress={() => workbench.set({ message: undefined })}>
        <X size={14} aria-hidden="true" />
      </Button>
    </div>
  );
}
