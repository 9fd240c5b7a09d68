// All commands in the order in which a key finds them: what acts on the selection comes before what acts on the screen. In front of the panel only
// those of the room and of playing work.
import { clipCommands } from './clip-commands.ts';
import type { Command } from './command.ts';
import { fileCommands } from './file-commands.ts';
import { gameCommands } from './game-commands.ts';
import { itemCommands } from './item-commands.ts';
import { paintCommands } from './paint-commands.ts';
import { roomCommands } from './room-commands.ts';
import { runCommands } from './run-commands.ts';
import { screenCommands } from './screen-commands.ts';
import { timelineCommands } from './timeline-commands.ts';

export const commands: readonly Command[] = [
  ...roomCommands,
  ...paintCommands,
  ...runCommands,
  ...clipCommands,
  ...itemCommands,
  ...gameCommands,
  ...timelineCommands,
  ...fileCommands,
  ...screenCommands,
];
export * from './command.ts';
