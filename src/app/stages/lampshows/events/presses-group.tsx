// What was pressed when, in figures: moments and values are typed, presses taken out. Those of a kept log are the document's, so undo brings them back.
import { Trash2 } from 'lucide-react';
import { memo } from 'react';
import { changePressLog, limits, type PressLog } from '../../../../project/index.ts';
import { Button, Group, NumberField } from '../../../fields/index.ts';
import { useEdit, useProject, useWorkbench } from '../../../workbench/context.ts';
import { changePresses, type Press, playedGame } from '../../../workbench/game.ts';
import inspector from '../inspector.module.css';
import { typedMs } from '../units.ts';
import { nameOf } from '../words.ts';
import css from './events.module.css';
import { useKeptLog, usePlayedGame } from './use-game.ts';

const iconPx = 14;

interface RowProps {
  readonly press: Press;
  readonly index: number;
  readonly name: string;
}

const PressRow = memo(function PressRow({ press, index, name }: RowProps) {
  const workbench = useWorkbench();
  const current = () => playedGame(workbench.project, workbench.state.game).presses;
  const change = (label: string, part: Partial<Press>, gesture?: string) =>
    changePresses(
      workbench,
      label,
      current().map((one, i) => (i === index ? { ...one, ...part } : one)),
      gesture,
    );
  const number = index + 1;
  return (
    <li className={css['press-row']} data-press={press.event}>
      <span title={name}>{name}</span>
      {press.value === undefined ? (
        <span />
      ) : (
        <NumberField
          isBare
          label={`Value of press ${number}`}
          digits={0}
          least={0}
          most={255}
          value={press.value}
          onChange={(value, gesture) => change('Change value of press', { value }, gesture)}
        />
      )}
      <NumberField
        isBare
        label={`Press ${number}, ${name}, at`}
        unit="s"
        digits={3}
        step={0.1}
        least={0}
        most={limits.showMs / 1000}
        value={press.atMs / 1000}
        onChange={(typed, gesture) => change('Move press', { atMs: typedMs(typed) }, gesture)}
      />
      <Button
        label={`Delete press ${number}, ${name}`}
        onPress={() =>
          changePresses(
            workbench,
            'Delete press',
            current().filter((_, i) => i !== index),
          )
        }
      >
        <Trash2 size={iconPx} aria-hidden="true" />
      </Button>
    </li>
  );
});

function LogLength({ log }: { readonly log: PressLog }) {
  const edit = useEdit();
  return (
    <NumberField
      label="The test lasts"
      unit="s"
      digits={3}
      step={0.1}
      least={0.02}
      most={limits.showMs / 1000}
      value={log.lengthMs / 1000}
      onChange={(typed, gesture) =>
        edit('Change length of test', changePressLog(log.id, { lengthMs: typedMs(typed) }), gesture)
      }
    />
  );
}

export function PressesGroup() {
  const { presses } = usePlayedGame();
  const log = useKeptLog();
  const events = useProject(({ gameEvents }) => gameEvents) ?? [];
  const nameOfEvent = (id: string) => nameOf(events.find((one) => one.id === id) ?? { id });
  return (
    <Group title={log ? `Presses of ${nameOf(log)}` : 'Presses'}>
      {presses.length === 0 && (
        <p className={inspector['note']}>
          None yet. Press an event by its button, or by the key that stands on it.
        </p>
      )}
      <ol className={css['list']} aria-label="Presses">
        {presses.map((press, index) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a press is known by its place
          <PressRow key={index} press={press} index={index} name={nameOfEvent(press.event)} />
        ))}
      </ol>
      {log && <LogLength log={log} />}
    </Group>
  );
}
