// Pins that can hear an event or the room button: those of the board that nothing else has. What is chosen is listed whatever it is; why it can't be
// is told by findings. Pure.
import { type Board, pinLabel } from '../../../../catalogue/index.ts';
import type { Project } from '../../../../project/index.ts';

/** What stands in the way of a pin, beside the event or button that asks. */
function takenPins({ dataLines, gameEvents = [], inputs = {} }: Project, board: Board): Set<number> {
  const named = [
    ...dataLines.map(({ pin }) => pin),
    ...gameEvents.map(({ pin }) => pin),
    inputs.roomPin,
    ...(inputs.serial ? board.serialPins : []),
    ...(inputs.i2cAddress === undefined ? [] : board.i2cPins),
  ];
  return new Set(named.filter((pin) => pin !== undefined));
}

/** "No pin", then by number. The pins of the USB link are none: whoever uploads would press them. */
export function pinChoices(
  project: Project,
  board: Board,
  chosen: number | undefined,
): { readonly id: string; readonly label: string }[] {
  const taken = takenPins(project, board);
  const free = board.pins
    .map(({ pin }) => pin)
    .filter((pin) => pin === chosen || !(taken.has(pin) || board.usbSerialPins.includes(pin)));
  const isListed = chosen === undefined || free.includes(chosen);
  return [
    { id: '', label: 'No pin' },
    ...free.map((pin) => ({ id: String(pin), label: pinLabel(board, pin) })),
    ...(isListed ? [] : [{ id: String(chosen), label: `Pin ${chosen}, not usable` }]),
  ];
}

export const pinOf = (choice: string): number | undefined => (choice === '' ? undefined : Number(choice));
