// The director's and the inputs' share of the show data: the event table, which inputs are on, and the text that answers a hello.
// show-data.ts calls writeEvents anywhere behind the header, and writeHelloText last of all.
// Layout as in firmware-templates/player/show_data.h. Not here: shows (show-data.ts), lines and room steps' bytes (line-data.ts).
import { boards, rowById } from '../catalogue/index.ts';
import type { GameEvent, Project } from '../project/index.ts';
import type { ByteWriter } from './byte-writer.ts';
import { portOf, type RoomSteps } from './line-data.ts';

/** Places in show_data.h's header that belong to events and inputs. */
const headerAt = { eventCount: 15, inputs: 17, events: 26, text: 28, i2cAddress: 41 } as const;
/** Values of show_data.h. */
export const eventSize = 13;
const flagBits = { queues: 1, resumes: 2, hasValue: 4 } as const;
const inputBits = { serial: 1, i2c: 2, watchdog: 4 } as const;

/** What stands where a game event leaves something out. */
export const eventDefaults = { priority: 100, plays: 1, crossfadeMs: 0, retriggerMs: 0, delayMs: 0 } as const;
/** Steps of a room button whose percentages are left out. */
const roomPercents: RoomSteps['percents'] = [100, 60, 30];

/** The steps of room brightness: all alike where there is no button. */
export function roomSteps({ inputs }: Pick<Project, 'inputs'>): RoomSteps {
  const given = inputs?.roomPercents;
  const [first, second, third] = given?.length === 3 ? (given as [number, number, number]) : roomPercents;
  return inputs?.roomPin === undefined
    ? { percents: [first, first, first] }
    : { percents: [first, second, third], pin: inputs.roomPin };
}

const bit = (is: boolean | undefined, value: number): number => (is ? value : 0);

function writeEvent(to: ByteWriter, project: Project, event: GameEvent, frameMs: number): void {
  to.u8(project.lampshows.findIndex((show) => show.id === event.lampshow));
  to.u8(event.priority ?? eventDefaults.priority);
  to.u8(
    bit(event.when === 'queue', flagBits.queues) |
      bit(event.resume, flagBits.resumes) |
      bit(event.hasValue, flagBits.hasValue),
  );
  const plays = event.plays ?? eventDefaults.plays;
  to.u8(typeof plays === 'number' ? plays : 0);
  to.u16(event.crossfadeMs ?? eventDefaults.crossfadeMs);
  to.u16(event.retriggerMs ?? eventDefaults.retriggerMs);
  to.u16(Math.ceil((event.delayMs ?? eventDefaults.delayMs) / frameMs));
  const port = portOf(project, event.pin);
  // A pin is read two addresses below the register that drives it.
  to.u16(port.address === 0 ? 0 : port.address - 2);
  to.u8(port.mask);
}

/**
 * Writes the event table, and fills in the header's fields eventCount, inputs, events and i2cAddress, which must have been written already (as
 * zeros). Shows have the numbers of their places in the document. `frameMs` is the time from one frame to the next, in which delays are counted.
 */
export function writeEvents(to: ByteWriter, project: Project, frameMs: number): void {
  const events = project.gameEvents ?? [];
  const { serial, i2cAddress } = project.inputs ?? {};
  to.overwrite(headerAt.eventCount, 1, events.length);
  to.overwrite(
    headerAt.inputs,
    1,
    bit(serial, inputBits.serial) |
      bit(i2cAddress !== undefined, inputBits.i2c) |
      bit(rowById(boards, project.board.id)?.hasWatchdog, inputBits.watchdog),
  );
  to.overwrite(headerAt.i2cAddress, 1, i2cAddress ?? 0);
  if (events.length > 0) to.setOffset(headerAt.events, to.length);
  for (const event of events) writeEvent(to, project, event, frameMs);
}

/** Name, date and hash in one line; ASCII, so that no byte of it looks like an acknowledgement. */
export function helloText({ name, savedOn }: Pick<Project, 'name' | 'savedOn'>, hash: number): string {
  const plain = name
    .normalize('NFKD')
    .replace(/[^\x20-\x7e]/g, '')
    .slice(0, 60);
  return `${plain}, ${savedOn}, ${hash.toString(16).toUpperCase().padStart(4, '0')}\n`;
}

/**
 * Writes the text that answers a hello, where serial or I2C is on, and fills in the header's field text. `hash` is 16 bits, made from all that was
 * written before.
 */
export function writeHelloText(to: ByteWriter, project: Project, hash: number): void {
  const { serial, i2cAddress } = project.inputs ?? {};
  if (!serial && i2cAddress === undefined) return;
  const text = new TextEncoder().encode(helloText(project, hash));
  to.setOffset(headerAt.text, to.length);
  to.u8(text.length);
  to.append(text);
}
