// A button for each game event, with its key, and with the value that comes with it where it has one. A button also says what of the director's
// concerns its event just now.
import { memo } from 'react';
import type { GameEvent } from '../../../../project/index.ts';
import { Button, NumberField } from '../../../fields/index.ts';
import { eventKeys } from '../../../workbench/commands/game-commands.ts';
import { useEdit, useProject, useWorkbench } from '../../../workbench/context.ts';
import { pressEvent, pressValue } from '../../../workbench/game.ts';
import { nameOf } from '../words.ts';
import { type EventState, eventState } from './director-words.ts';
import { plannedEvent } from './event-plans.ts';
import css from './events.module.css';
import { useDirector, useGame } from './use-game.ts';

const stateWords: Readonly<Record<EventState, string>> = {
  plays: 'plays',
  waits: 'waits',
  delayed: 'delay runs',
  rests: '',
};

interface PressProps {
  readonly event: GameEvent;
  readonly index: number;
  readonly state: EventState;
  readonly value: number | undefined;
}

const PressButton = memo(function PressButton({ event, index, state, value }: PressProps) {
  const workbench = useWorkbench();
  const key = eventKeys[index];
  const setValue = (next: number) => {
    const { game } = workbench.state;
    workbench.set({ game: { ...game, values: { ...game.values, [event.id]: next } } });
  };
  const name = nameOf(event);
  return (
    <li className={css['event']} data-state={state}>
      <button
        type="button"
        className={css['press']}
        data-event={event.id}
        aria-keyshortcuts={key}
        // A press counts when the button goes down, as on the machine; keys and readers click.
        onPointerDown={(pressed) => {
          if (pressed.button === 0) pressEvent(workbench, event.id);
        }}
        // The keys go on being those of the page.
        onMouseDown={(pressed) => pressed.preventDefault()}
        onClick={({ detail }) => {
          if (detail === 0) pressEvent(workbench, event.id);
        }}
      >
        {key !== undefined && <kbd aria-hidden="true">{key}</kbd>}
        <span>{name}</span>
        <small>{stateWords[state]}</small>
      </button>
      {value !== undefined && (
        <span className={css['value']}>
          <input
            type="range"
            aria-label={`Value of ${name}`}
            min={0}
            max={255}
            value={value}
            onChange={({ currentTarget }) => setValue(currentTarget.valueAsNumber)}
          />
          <NumberField
            isBare
            label={`Value of ${name}, 0 to 255`}
            digits={0}
            least={0}
            most={255}
            value={value}
            onChange={setValue}
          />
        </span>
      )}
    </li>
  );
});

const noEvents: readonly GameEvent[] = [];

export function EventStrip() {
  const workbench = useWorkbench();
  const edit = useEdit();
  const events = useProject(({ gameEvents }) => gameEvents) ?? noEvents;
  const game = useGame();
  const director = useDirector();
  if (events.length === 0)
    return (
      <div className={css['none']}>
        <p>The game has no events yet: each starts a lampshow when something happens on the machine.</p>
        <Button
          onPress={() => {
            const planned = plannedEvent(workbench.project);
            if (!planned) return;
            edit('New game event', planned.edit);
            workbench.select({ kind: 'game-event', id: planned.id });
          }}
        >
          New game event
        </Button>
      </div>
    );
  return (
    <ul className={css['strip']} aria-label="Game events">
      {events.map((event, index) => (
        <PressButton
          key={event.id}
          event={event}
          index={index}
          state={director ? eventState(director, event.id) : 'rests'}
          value={event.hasValue ? pressValue(game, event.id) : undefined}
        />
      ))}
    </ul>
  );
}
