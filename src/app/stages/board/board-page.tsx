// Three columns: the board and its pins, its memory and speed, what to save. Below: what the game can ask for, and what findings say about it.

import { frameBufferBytes, isQuiet, sramReserveBytes } from '../../../board/index.ts';
import { type Board, boards, pinLabel, rowById } from '../../../catalogue/index.ts';
import { eventDefaults } from '../../../lampshow/index.ts';
import { setAttractMode, setBoard, setPin } from '../../../project/index.ts';
import { LitGlass } from '../../canvas/lit-glass.tsx';
import { Button, Buttons, Cautions, SelectField } from '../../fields/index.ts';
import { useExport, useSaveExport } from '../../files/use-export.ts';
import { figure } from '../../format.ts';
import { showName } from '../../playback/frames.ts';
import {
  useCommander,
  useEdit,
  useFigures,
  usePlaybackPart,
  usePlaybackState,
  useProject,
  useSettled,
  useWorkbench,
} from '../../workbench/context.ts';
import { nothing, type Selection } from '../../workbench/selection.ts';
import css from './board.module.css';
import { Budget, type Part } from './budget.tsx';
import { SpeedBars } from './speed-bars.tsx';

const benchCautions = [
  '330 Ω in each data line, 10 kΩ from it to ground.',
  'Join the board’s ground and the supply’s ground first.',
  'Strips get +5 V from their own supply, never from the board.',
];

const boardOf = (id: string): Board => rowById(boards, id)!;

/** Pins that can send data; a pin that the board can't use is listed too where the project has it. */
function pinChoices(board: Board, chosen: number | undefined) {
  const usable = board.pins.map(({ pin }) => pin).filter((pin) => !board.usbSerialPins.includes(pin));
  const isListed = chosen === undefined || usable.includes(chosen);
  return [
    { id: '', label: 'No pin' },
    ...usable.map((pin) => ({ id: String(pin), label: pinLabel(board, pin) })),
    ...(isListed ? [] : [{ id: String(chosen), label: `Pin ${chosen}, not usable` }]),
  ];
}

/** What the board sends, as the eye sees it. */
function BoardGlass() {
  const { widthMm, heightMm } = useProject((project) => project.panel);
  const { frame } = usePlaybackState();
  const commander = useCommander();
  const isPlaying = usePlaybackPart('playing');
  return (
    <>
      <div className={css['glass']} style={{ aspectRatio: `${widthMm} / ${heightMm}` }}>
        <LitGlass />
      </div>
      <div className={css['transport']}>
        <p className={css['soft']}>
          What the board sends, frame <b>{figure(frame)}</b>
        </p>
        <Button onPress={() => commander.run('play')}>{isPlaying ? 'Pause' : 'Play'}</Button>
      </div>
    </>
  );
}

function BoardAndPins() {
  const edit = useEdit();
  const project = useProject((one) => one);
  const { layout } = useSettled();
  const board = boardOf(project.board.id);
  return (
    <section>
      <h2>Board and pins</h2>
      <p className={css['soft']}>
        {board.clockHz / 1e6} MHz, uploads at {figure(board.uploadBaud)} baud. Timer1 belongs to the show: no
        analogWrite on {board.timer1Pins.map((pin) => pinLabel(board, pin)).join(' and ')}.
      </p>
      <BoardGlass />
      <SelectField
        label="Board"
        value={project.board.id}
        choices={boards.map(({ id, label }) => ({ id, label }))}
        onChange={(id) => edit('Choose board', setBoard(id))}
      />
      <SelectField
        label="Plays after power-up"
        value={project.attractMode}
        choices={project.lampshows.map((show) => ({ id: show.id, label: showName(show) }))}
        onChange={(id) => edit('Choose attract mode', setAttractMode(id))}
      />
      <h3>Data lines</h3>
      {project.dataLines.length === 0 && <p className={css['soft']}>None yet: a chain makes one.</p>}
      {project.dataLines.map((line, index) => (
        <div
          // Data lines have no id: their order is what they are known by.
          // biome-ignore lint/suspicious/noArrayIndexKey: see above
          key={index}
          className={css['line']}
        >
          <SelectField
            label={`Line ${index + 1}, ${layout.lines.find((one) => one.index === index)?.ledCount ?? 0} LEDs: pin`}
            value={line.pin === undefined ? '' : String(line.pin)}
            choices={pinChoices(board, line.pin)}
            onChange={(pin) => edit('Choose pin', setPin(index, pin === '' ? undefined : Number(pin)))}
          />
        </div>
      ))}
      <h3>On the bench</h3>
      <Cautions words={benchCautions} />
    </section>
  );
}

function MemoryAndSpeed() {
  const { budget, program, showData, layout } = useSettled();
  const board = boardOf(useProject((project) => project.board.id));
  const quiet = useProject(isQuiet);
  const ledCount = layout.wireLeds.length;
  const sram: readonly Part[] = [
    {
      label: 'Player state',
      bytes: quiet ? program.quietSramBytes : program.staticSramBytes,
      colour: 'var(--zone-4)',
    },
    { label: 'Frame buffer, 3 B per LED', bytes: frameBufferBytes(ledCount), colour: 'var(--brass)' },
    {
      label: 'Kept for the stack',
      bytes: sramReserveBytes(board, quiet),
      colour: 'var(--zone-2)',
    },
  ];
  const flash: readonly Part[] = [
    { label: 'Player and output stage', bytes: program.programBytes, colour: 'var(--zone-4)' },
    {
      label: 'Up to the next page',
      bytes: program.showDataAt - program.programBytes,
      colour: 'var(--rule)',
    },
    { label: 'Show data', bytes: showData?.bytes.length ?? 0, colour: 'var(--data)' },
  ];
  return (
    <section>
      <h2>Memory and speed</h2>
      <Budget title="SRAM" parts={sram} used={budget?.sram.usedBytes} total={board.sramBytes} />
      <Budget title="Flash" parts={flash} used={budget?.flash.usedBytes} total={board.flashBytes} />
      <SpeedBars />
      <GameEvents />
    </section>
  );
}

/** The sketch's many files are one thing to the builder. */
function fileRows(files: ReadonlyMap<string, Uint8Array>) {
  const rows = new Map<string, { count: number; bytes: number }>();
  for (const [path, { length }] of files) {
    const [folder, inner] = path.split('/');
    const name = folder === 'sketch' ? `sketch/${inner}` : path;
    const { count, bytes } = rows.get(name) ?? { count: 0, bytes: 0 };
    rows.set(name, { count: count + 1, bytes: bytes + length });
  }
  return [...rows].map(([name, { count, bytes }]) => ({
    name: count === 1 ? name : `${name}, ${count} files`,
    bytes,
  }));
}

function Save() {
  const plan = useExport();
  const save = useSaveExport();
  const board = boardOf(useProject((project) => project.board.id));
  const { findings } = useFigures();
  const hexPath = `firmware/${board.id}.hex`;
  const hasProgram = plan?.files.has(hexPath) ?? false;
  const errors = findings.filter(({ severity }) => severity === 'error');
  return (
    <section>
      <h2>Save</h2>
      <p className={css['soft']}>
        The sketch compiles as it is, without any library. The .hex is ready to flash.
      </p>
      <Buttons>
        <Button tone="main" isDisabled={!hasProgram} onPress={() => save.one(hexPath)}>
          Save .hex
        </Button>
        <Button isDisabled={!hasProgram} onPress={() => save.zip(['sketch/'], '-sketch')}>
          Save sketch
        </Button>
        <Button isDisabled={!plan} onPress={() => save.zip([''], '')}>
          Save everything
        </Button>
      </Buttons>
      {plan && !hasProgram && (
        <p className={css['warn']}>
          No program: an error would make it untrue. {errors[0]?.message} {errors[0]?.mend}
        </p>
      )}
      <h3>Files</h3>
      <ul className={css['files']}>
        {fileRows(plan?.files ?? new Map()).map(({ name, bytes }) => (
          <li key={name}>
            <span>{name}</span>
            <span>{figure(bytes)} B</span>
          </li>
        ))}
      </ul>
      <h3>Before you upload</h3>
      <ol className={css['steps']}>
        <li>Switch the supply off and unplug the game.</li>
        <li>Part the link that could feed the strips from USB.</li>
        <li>Check that board and supply share one ground.</li>
        {board.hasOwnUsb && (
          <li>
            Press reset, on some boards twice, and upload within 8 seconds: while a show plays the board is
            not on USB.
          </li>
        )}
      </ol>
    </section>
  );
}

function GameEvents() {
  const workbench = useWorkbench();
  const commander = useCommander();
  /** Where they are edited and pressed. */
  const goTo = (selection: Selection) => {
    workbench.enter('lampshows');
    workbench.select(selection);
  };
  const events = useProject((project) => project.gameEvents);
  const shows = useProject((project) => project.lampshows);
  const board = boardOf(useProject((project) => project.board.id));
  const inputs = useProject((project) => project.inputs);
  const rows = events ?? [];
  const messages = inputs?.serial ? 'serial port' : inputs?.i2cAddress === undefined ? 'none' : 'I2C';
  return (
    <div>
      <h3>Game events</h3>
      <p className={css['soft']}>
        {rows.length === 0
          ? 'This project has none.'
          : 'Each starts its show on the board. The greater priority wins; others are dropped, or wait their turn.'}
      </p>
      {rows.length > 0 && (
        <table>
          <thead>
            <tr>
              <th scope="col">Event</th>
              <th scope="col">Input</th>
              <th scope="col">Plays</th>
              <th scope="col">Priority</th>
            </tr>
          </thead>
          <tbody>
            {rows.map(({ id, name, pin, lampshow, priority, when }) => {
              const show = shows.find((one) => one.id === lampshow);
              return (
                <tr key={id}>
                  <th scope="row">
                    <button
                      type="button"
                      className={css['lead']}
                      onClick={() => goTo({ kind: 'game-event', id })}
                    >
                      {name ?? id}
                    </button>
                  </th>
                  <td>{pin === undefined ? messages : `${pinLabel(board, pin)} low`}</td>
                  <td>{show ? showName(show) : lampshow}</td>
                  <td>
                    {priority ?? eventDefaults.priority}
                    {when === 'queue' && ', waits'}
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
      )}
      <Buttons>
        <Button
          onPress={() => {
            goTo(nothing);
            if (!workbench.state.game.isOn) commander.run('game-play');
          }}
        >
          Play as the game
        </Button>
        <Button onPress={() => goTo({ kind: 'inputs' })}>Inputs</Button>
      </Buttons>
    </div>
  );
}

export const BoardPage = () => (
  // biome-ignore lint/a11y/noNoninteractiveTabindex: a part that scrolls must be reachable by key
  <section className={css['page']} tabIndex={0} aria-label="Board">
    <BoardAndPins />
    <MemoryAndSpeed />
    <Save />
  </section>
);
