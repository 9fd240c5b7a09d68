// What is worth telling about the board's inputs: pins that can't be event pins, events that nothing can start, buses that have to wait.
// Rules I-1 and so on are in firmware-templates/player/SPEC.md. Not here: data pins by themselves
// (src/panel/findings.ts).
import { type Board, boards, bytesPerLed, rowById } from '../catalogue/index.ts';
import { linePairs, segmentsOf } from '../lampshow/index.ts';
import type { Layout } from '../panel/index.ts';
import { type Finding, type Project, pointer } from '../project/index.ts';

/** Pins that the prebuilt programs keep a state of: inputs_avr.h's mostEventPins, by the board's SRAM. */
const mostEventPins = ({ sramBytes }: Board): number => (sramBytes > 4096 ? 48 : 16);
/** Rule I-5: number 63 is the hello, so these can come as messages. */
const mostMessageEvents = 63;
/** Rule I-4: a press of 60 ms is never missed while sending takes no longer. */
const longestSendMs = 19;
const pressMs = 60;
/** 24 bits of 1.25 us for each three bytes. */
const msPerByte = 0.01;

interface InputPin {
  readonly pin: number;
  readonly at: string;
  readonly what: string;
}

const inputPins = (project: Project): InputPin[] => [
  ...(project.gameEvents ?? []).flatMap(({ id, pin }, index) =>
    pin === undefined ? [] : [{ pin, at: pointer('gameEvents', index, 'pin'), what: `Game event "${id}"` }],
  ),
  ...(project.inputs?.roomPin === undefined
    ? []
    : [{ pin: project.inputs.roomPin, at: '/inputs/roomPin', what: 'The room button' }]),
];

interface Bus {
  readonly code: 'serial' | 'i2c';
  readonly pins: readonly number[];
  readonly what: string;
  readonly mend: string;
}

/** Buses that are on; each takes its pins away from everything else. */
const busesOf = ({ inputs }: Project, board: Board): Bus[] => [
  ...(inputs?.serial
    ? [
        {
          code: 'serial' as const,
          pins: board.serialPins,
          what: 'the serial events',
          mend: 'Choose another pin, or turn the serial events off.',
        },
      ]
    : []),
  ...(inputs?.i2cAddress === undefined
    ? []
    : [
        {
          code: 'i2c' as const,
          pins: board.i2cPins,
          what: 'the I2C bus',
          mend: 'Choose another pin, or turn I2C off.',
        },
      ]),
];

/** Data pins that a bus takes: the line would send nothing, or rubbish. */
function takenLineFindings(project: Project, board: Board): Finding[] {
  return project.dataLines.flatMap(({ pin }, line) =>
    busesOf(project, board)
      .filter((bus) => pin !== undefined && bus.pins.includes(pin))
      .map(
        ({ code, what, mend }): Finding => ({
          severity: 'error',
          code: `pin-is-${code}`,
          at: pointer('dataLines', line, 'pin'),
          message: `Data line ${line} is on pin ${pin}, which carries ${what}.`,
          mend,
        }),
      ),
  );
}

function pinFindings(project: Project, board: Board): Finding[] {
  const findings: Finding[] = [];
  const usable = board.pins.map((row) => row.pin);
  const dataPins = new Map(project.dataLines.map(({ pin }, line) => [pin, line]));
  const error = (code: string, at: string, message: string, mend: string) =>
    findings.push({ severity: 'error', code, at, message, mend });
  const taken = new Map<number, string>();
  for (const { pin, at, what } of inputPins(project)) {
    const line = dataPins.get(pin);
    const earlier = taken.get(pin);
    const bus = busesOf(project, board).find(({ pins }) => pins.includes(pin));
    if (!usable.includes(pin))
      error(
        'input-pin-unknown',
        at,
        `${what} is on pin ${pin}, which the board ${board.id} does not have.`,
        `Choose a pin from ${Math.min(...usable)} to ${Math.max(...usable)}.`,
      );
    else if (line !== undefined)
      error(
        'input-pin-is-data',
        at,
        `${what} is on pin ${pin}, which drives data line ${line}.`,
        'Choose another pin.',
      );
    else if (bus)
      error(`input-pin-is-${bus.code}`, at, `${what} is on pin ${pin}, which carries ${bus.what}.`, bus.mend);
    else if (earlier !== undefined)
      error(
        'input-pin-shared',
        at,
        `${what} is on pin ${pin}, as is ${earlier}.`,
        'Give each a pin of its own.',
      );
    taken.set(
      pin,
      what.replace(/^[TG]/, (letter) => letter.toLowerCase()),
    );
  }
  const eventPins = (project.gameEvents ?? []).filter(({ pin }) => pin !== undefined).length;
  const most = mostEventPins(board);
  if (eventPins > most)
    error(
      'event-pins-too-many',
      '/gameEvents',
      `${eventPins} game events have a pin; the player watches ${most} on this board.`,
      'Let some of them come over the serial port.',
    );
  return findings;
}

/** How long one frame takes to go out, ms; two lines that go out together count once, as the longer one. */
function sendMs(project: Project, layout: Layout): number {
  const lineMs = layout.lines.map((line) =>
    line.runs.reduce(
      (sum, { wireLeds, strip }) => sum + msPerByte * wireLeds.length * bytesPerLed(strip.colourOrder),
      0,
    ),
  );
  const saved = linePairs(project, layout, segmentsOf(layout)).reduce(
    (sum, [a, b]) => sum + Math.min(lineMs[a]!, lineMs[b]!),
    0,
  );
  return lineMs.reduce((sum, ms) => sum + ms, 0) - saved;
}

function messageFindings(project: Project, board: Board): Finding[] {
  const { serial, i2cAddress } = project.inputs ?? {};
  const findings: Finding[] = [];
  if (serial && i2cAddress !== undefined)
    findings.push({
      severity: 'error',
      code: 'serial-and-i2c',
      at: '/inputs',
      message:
        'Events come over the serial port and over I2C; the player counts the messages of one sender only.',
      mend: 'Turn one of them off.',
    });
  if (serial && board.hasOwnUsb)
    findings.push({
      severity: 'note',
      code: 'serial-not-usb',
      at: '/inputs/serial',
      message: `On ${board.id} serial events come over pins ${board.serialPins.join(' and ')}, not over USB.`,
      mend: 'Wire the game to these pins and to ground.',
    });
  if (i2cAddress !== undefined)
    findings.push({
      severity: 'warning',
      code: 'i2c-holds-bus',
      at: '/inputs/i2cAddress',
      message:
        'While a frame is rendered and sent, the board holds the I2C clock low: up to one frame for each byte.',
      mend: 'Use a bus of its own whose controller allows that, or serial events.',
    });
  const events = project.gameEvents ?? [];
  if ((serial || i2cAddress !== undefined) && events.length > mostMessageEvents)
    findings.push({
      severity: 'error',
      code: 'events-too-many',
      at: '/gameEvents',
      message: `${events.length} game events; messages can name ${mostMessageEvents}.`,
      mend: 'Take some out.',
    });
  return findings;
}

function startFindings(project: Project): Finding[] {
  const { serial, i2cAddress } = project.inputs ?? {};
  if (serial || i2cAddress !== undefined) return [];
  return (project.gameEvents ?? []).flatMap(({ id, pin }, index): Finding[] =>
    pin === undefined
      ? [
          {
            severity: 'note',
            code: 'event-without-input',
            at: pointer('gameEvents', index),
            message: `Nothing on the board can start the game event "${id}".`,
            mend: 'Give it a pin, or turn the serial events on.',
          },
        ]
      : [],
  );
}

/** Findings about game events and inputs. */
export function eventFindings(project: Project, layout: Layout): Finding[] {
  const board = rowById(boards, project.board.id);
  if (!board) throw new Error(`no board "${project.board.id}"; the project was not checked`);
  const findings = [
    ...pinFindings(project, board),
    ...takenLineFindings(project, board),
    ...messageFindings(project, board),
    ...startFindings(project),
  ];
  const takesMs = sendMs(project, layout);
  const first = (project.gameEvents ?? []).findIndex(({ pin }) => pin !== undefined);
  if (first >= 0 && takesMs > longestSendMs) {
    const neededMs = Math.ceil(pressMs + 3 * (takesMs - longestSendMs));
    findings.push({
      severity: 'warning',
      code: 'event-press-long',
      at: pointer('gameEvents', first, 'pin'),
      message: `A frame takes ${Math.round(takesMs)} ms to go out, and pins can't be read meanwhile: a press is missed if it is shorter than ${neededMs} ms.`,
      mend: `Hold event pins low for at least ${neededMs} ms, or split the LEDs over data lines of one port.`,
    });
  }
  return findings;
}
