// The project's game events in their order, which is also that of their keys and of their numbers in messages.
import { ArrowDown, ArrowUp, Trash2 } from 'lucide-react';
import { deleteGameEvent, moveGameEvent } from '../../../../project/index.ts';
import { Button, Buttons, Group } from '../../../fields/index.ts';
import { useEdit, useProject, useWorkbench } from '../../../workbench/context.ts';
import inspector from '../inspector.module.css';
import { nameOf } from '../words.ts';
import { mostEvents, plannedEvent } from './event-plans.ts';
import css from './events.module.css';

const iconPx = 14;

export function EventList() {
  const workbench = useWorkbench();
  const edit = useEdit();
  const events = useProject(({ gameEvents }) => gameEvents) ?? [];
  return (
    <>
      <Group title="Game events">
        <p className={inspector['note']}>
          In messages an event goes by its number, counted from 0 in this order: moving one changes the
          numbers.
        </p>
        <ol className={css['list']}>
          {events.map((event, index) => {
            const name = nameOf(event);
            return (
              <li key={event.id} className={css['event-row']}>
                <Button
                  label={`Edit ${name}`}
                  onPress={() => workbench.select({ kind: 'game-event', id: event.id })}
                >
                  {name}
                </Button>
                <Button
                  label={`Move ${name} up`}
                  isDisabled={index === 0}
                  onPress={() => edit('Move game event', moveGameEvent(index, index - 1))}
                >
                  <ArrowUp size={iconPx} aria-hidden="true" />
                </Button>
                <Button
                  label={`Move ${name} down`}
                  isDisabled={index === events.length - 1}
                  onPress={() => edit('Move game event', moveGameEvent(index, index + 1))}
                >
                  <ArrowDown size={iconPx} aria-hidden="true" />
                </Button>
                <Button
                  label={`Delete ${name}`}
                  onPress={() => edit('Delete game event', deleteGameEvent(event.id))}
                >
                  <Trash2 size={iconPx} aria-hidden="true" />
                </Button>
              </li>
            );
          })}
        </ol>
        <Buttons>
          <Button
            isDisabled={events.length >= mostEvents}
            onPress={() => {
              const planned = plannedEvent(workbench.project);
              if (!planned) return;
              edit('New game event', planned.edit);
              workbench.select({ kind: 'game-event', id: planned.id });
            }}
          >
            New game event
          </Button>
        </Buttons>
      </Group>
      <Group title="How the board hears of them">
        <p className={inspector['note']}>
          By pins, one an event, or by messages over the serial port or I2C.
        </p>
        <Buttons>
          <Button onPress={() => workbench.select({ kind: 'inputs' })}>Inputs</Button>
        </Buttons>
      </Group>
    </>
  );
}
