// A game event in the inspector: which show it starts, how it gets its turn, and how the board hears of it.
import { boards, rowById } from '../../../../catalogue/index.ts';
import { eventDefaults } from '../../../../lampshow/index.ts';
import { type Change, changeGameEvent, deleteGameEvent, type GameEvent } from '../../../../project/index.ts';
import {
  Button,
  Buttons,
  Cautions,
  CheckField,
  Derived,
  Group,
  InspectorTitle,
  NumberField,
  SelectField,
  TextField,
} from '../../../fields/index.ts';
import { useEdit, useProject, useWorkbench } from '../../../workbench/context.ts';
import { nothing } from '../../../workbench/selection.ts';
import inspector from '../inspector.module.css';
import { namedChoices, nameOf } from '../words.ts';
import { pinCautions } from './cautions.ts';
import { FindingsAt } from './findings-at.tsx';
import { pinChoices, pinOf } from './pin-choices.ts';

const turns = [
  { id: 'interrupt', label: 'Interrupts it' },
  { id: 'queue', label: 'Waits its turn' },
] as const;
const comebacks = [
  { id: 'anew', label: 'From its beginning' },
  { id: 'resume', label: 'Where it was' },
] as const;

/** What is left out of the document: it is what stands there anyway. */
const orDefault = <T,>(value: T, standard: T): T | undefined => (value === standard ? undefined : value);

type Properties = Omit<GameEvent, 'id'>;
type ChangeEvent = (label: string, change: Change<Properties>, gesture?: string) => void;

interface PartProps {
  readonly event: GameEvent;
  readonly change: ChangeEvent;
}

function Turn({ event, change }: PartProps) {
  const plays = event.plays ?? eventDefaults.plays;
  return (
    <Group title="Its turn">
      <NumberField
        label="Priority"
        digits={0}
        least={0}
        most={255}
        value={event.priority ?? eventDefaults.priority}
        onChange={(priority, gesture) =>
          change('Change priority', { priority: orDefault(priority, eventDefaults.priority) }, gesture)
        }
      />
      <SelectField
        label="When another plays"
        value={event.when ?? 'interrupt'}
        choices={turns}
        onChange={(when) => change('Change turn of event', { when: orDefault(when, 'interrupt') })}
      />
      <p className={inspector['note']}>
        {event.when === 'queue'
          ? 'It waits until what plays is over; up to four wait, the greater priority first.'
          : 'It takes the place of what has the same priority or a lower one. Against a greater one it is dropped.'}
      </p>
      <SelectField
        label="What it interrupted"
        value={event.resume ? 'resume' : 'anew'}
        choices={comebacks}
        onChange={(id) =>
          change('Change how a show comes back', { resume: id === 'resume' ? true : undefined })
        }
      />
      <p className={inspector['note']}>
        {event.resume
          ? 'It goes on where it was when this one is over.'
          : 'It begins anew when this one is over; the attract mode is where it would be by then.'}
      </p>
      <CheckField
        label="Until the next event"
        value={plays === 'until-next'}
        onChange={(is) => change('Change how often it plays', { plays: is ? 'until-next' : undefined })}
      />
      {plays !== 'until-next' && (
        <NumberField
          label="Plays"
          unit="x"
          digits={0}
          least={1}
          most={255}
          value={plays}
          onChange={(times, gesture) =>
            change('Change how often it plays', { plays: orDefault(times, eventDefaults.plays) }, gesture)
          }
        />
      )}
    </Group>
  );
}

function Times({ event, change }: PartProps) {
  return (
    <Group title="Times">
      <NumberField
        label="Crossfade"
        unit="ms"
        digits={0}
        step={50}
        least={0}
        most={10_000}
        value={event.crossfadeMs ?? eventDefaults.crossfadeMs}
        onChange={(ms, gesture) => change('Change crossfade', { crossfadeMs: orDefault(ms, 0) }, gesture)}
      />
      <NumberField
        label="Delay for a late sound"
        unit="ms"
        digits={0}
        step={10}
        least={0}
        most={500}
        value={event.delayMs ?? eventDefaults.delayMs}
        onChange={(ms, gesture) => change('Change delay', { delayMs: orDefault(ms, 0) }, gesture)}
      />
      <p className={inspector['note']}>
        The light starts so much later, where the game’s sound comes later than the event.
      </p>
      <NumberField
        label="Heard again after"
        unit="ms"
        digits={0}
        step={100}
        least={0}
        most={60_000}
        value={event.retriggerMs ?? eventDefaults.retriggerMs}
        onChange={(ms, gesture) =>
          change('Change when it is heard again', { retriggerMs: orDefault(ms, 0) }, gesture)
        }
      />
      <p className={inspector['note']}>Presses that come sooner are not heard. 0: each one begins it anew.</p>
    </Group>
  );
}

function Heard({ event, change, number }: PartProps & { readonly number: number }) {
  const project = useProject((one) => one);
  const board = rowById(boards, project.board.id)!;
  const { serial, i2cAddress } = project.inputs ?? {};
  const takesMessages = serial || i2cAddress !== undefined;
  return (
    <Group title="How the board hears of it">
      <SelectField
        label="Pin, held low for 60 ms"
        value={event.pin === undefined ? '' : String(event.pin)}
        choices={pinChoices(project, board, event.pin)}
        onChange={(pin) => change('Choose pin of event', { pin: pinOf(pin) })}
      />
      {takesMessages && <Derived label="Number in messages">{number}</Derived>}
      <CheckField
        label="Comes with a value"
        value={event.hasValue ?? false}
        onChange={(is) => change('Change value of event', { hasValue: is || undefined })}
      />
      {event.hasValue && (
        <p className={inspector['note']}>
          0 to 255, such as a score: column effects show it. A pin brings no value, messages do.
        </p>
      )}
      {event.pin !== undefined && <Cautions words={pinCautions} />}
    </Group>
  );
}

export function EventPane({ event, index }: { readonly event: GameEvent; readonly index: number }) {
  const workbench = useWorkbench();
  const edit = useEdit();
  const shows = useProject(({ lampshows }) => lampshows);
  const change: ChangeEvent = (label, properties, gesture) =>
    edit(label, changeGameEvent(event.id, properties), gesture);
  return (
    <>
      <InspectorTitle title={nameOf(event)}>
        Game event: starts {nameOf(shows.find(({ id }) => id === event.lampshow) ?? { id: event.lampshow })}
      </InspectorTitle>
      <Group title="Event">
        <TextField
          label="Name"
          value={nameOf(event)}
          onChange={(name) => change('Rename game event', { name: name === '' ? undefined : name })}
        />
        <SelectField
          label="Starts"
          value={event.lampshow}
          choices={namedChoices(shows)}
          onChange={(lampshow) => change('Choose lampshow of event', { lampshow })}
        />
        <Buttons>
          <Button onPress={() => workbench.select(nothing)}>All events</Button>
          <Button
            onPress={() => {
              edit('Delete game event', deleteGameEvent(event.id));
              workbench.select(nothing);
            }}
          >
            Delete event
          </Button>
        </Buttons>
      </Group>
      <FindingsAt places={[`/gameEvents/${index}`]} />
      <Turn event={event} change={change} />
      <Times event={event} change={change} />
      <Heard event={event} change={change} number={index} />
    </>
  );
}
