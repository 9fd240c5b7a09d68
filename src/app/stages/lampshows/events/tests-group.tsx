// Games that are kept in the project as tests: played again, renamed, deleted; and whether each still plays as it is expected to.
import { Trash2 } from 'lucide-react';
import { deletePressLog, type PressLog, renamePressLog } from '../../../../project/index.ts';
import { Button, Buttons, Group, TextField } from '../../../fields/index.ts';
import { useCommander, useEdit, useProject, useWorkbench } from '../../../workbench/context.ts';
import { expectedNow, replayLog } from '../../../workbench/game.ts';
import inspector from '../inspector.module.css';
import { nameOf } from '../words.ts';
import css from './events.module.css';
import { useKeptLog } from './use-game.ts';
import { type Differences, useLogChecks } from './use-log-checks.ts';

const iconPx = 14;

/** How much is told of a log that differs a lot. */
const mostTold = 6;

function Verdict({ log, differs }: { readonly log: PressLog; readonly differs: Differences | undefined }) {
  if (!log.expected?.length) return <p className={css['verdict']}>Nothing is expected of it yet.</p>;
  if (!differs) return <p className={css['verdict']}>Being played...</p>;
  if (differs.length === 0)
    return (
      <p className={css['verdict']} data-tone="good">
        Plays as expected.
      </p>
    );
  const more = differs.length - mostTold;
  return (
    <>
      <p className={css['verdict']} data-tone="warn">
        Plays differently now.
      </p>
      <ul className={css['differs']}>
        {differs.slice(0, mostTold).map((one) => (
          <li key={one}>{one}</li>
        ))}
        {more > 0 && <li>And {more} more.</li>}
      </ul>
    </>
  );
}

function LogRow({
  log,
  differs,
  isPlayed,
}: {
  readonly log: PressLog;
  readonly differs: Differences | undefined;
  readonly isPlayed: boolean;
}) {
  const workbench = useWorkbench();
  const edit = useEdit();
  const name = nameOf(log);
  const count = log.presses.length;
  const isAsExpected = Boolean(log.expected?.length) && differs?.length === 0;
  return (
    <li className={css['log']} data-log={log.id}>
      <div>
        <TextField
          isBare
          label={`Name of ${name}`}
          value={name}
          onChange={(typed) => edit('Rename test', renamePressLog(log.id, typed))}
        />
        <Button label={`Delete ${name}`} onPress={() => edit('Delete test', deletePressLog(log.id))}>
          <Trash2 size={iconPx} aria-hidden="true" />
        </Button>
      </div>
      <p className={inspector['note']}>
        {count === 1 ? 'One press' : `${count} presses`} in {(log.lengthMs / 1000).toFixed(1)} s
        {isPlayed && ', replayed now'}
      </p>
      <Verdict log={log} differs={differs} />
      <Buttons>
        <Button label={`Replay ${name}`} onPress={() => replayLog(workbench, log)}>
          Replay
        </Button>
        <Button
          label={`Take what plays now as expected of ${name}`}
          isDisabled={isAsExpected}
          onPress={() => {
            const taken = expectedNow(workbench, log);
            if (taken) edit('Take what plays as expected', taken);
          }}
        >
          Expect what plays now
        </Button>
      </Buttons>
    </li>
  );
}

export function TestsGroup() {
  const commander = useCommander();
  const logs = useProject(({ pressLogs }) => pressLogs) ?? [];
  const played = useKeptLog();
  const checks = useLogChecks();
  return (
    <Group title="Kept as tests">
      {logs.length === 0 && (
        <p className={inspector['note']}>
          None yet. A game that is kept remembers its presses and which show then had the panel; after a
          change of shows or events it says what plays differently.
        </p>
      )}
      <ul className={css['list']}>
        {logs.map((log) => (
          <LogRow key={log.id} log={log} differs={checks.get(log)} isPlayed={played?.id === log.id} />
        ))}
      </ul>
      <Buttons>
        <Button isDisabled={played !== undefined} onPress={() => commander.run('game-keep')}>
          Keep this game as a test
        </Button>
      </Buttons>
    </Group>
  );
}
