// What can hurt someone or spoil something about the power, in short sentences; the page and the build sheet say the same.
import { coilClearanceMm } from '../panel/index.ts';
import { dataLineParts } from './data-line.ts';

export const powerCautions: readonly string[] = [
  'Mains is for someone qualified. Switch off and unplug before you reach in.',
  'Old cabinets have supplies of their own: 50 V for coils, others for lamps, and on some displays a lethal high voltage. Keep low voltage apart from all of them.',
  'Fuses and wire are sized for all white, not for the limit: a limit is a program and protects nothing.',
  'Each feed has its fuse at the supply, and no fuse is larger than its wire may carry. The board’s own + wire needs one too, of 1 A or less than its wire may carry.',
  'A closed box gets hot: copper, plugs and supply carry less there. Leave air around the supply.',
  'Feed the strips from their own supply, never through the board’s 5 V pin and never from the game’s logic supply.',
  'With the supply off, USB must not feed the strips: a link that can be removed, or a diode.',
  'Join the grounds before +, and take them apart last.',
  `Keep data wires ${coilClearanceMm} mm from coil wiring.`,
  `Put ${dataLineParts.capacitorMicrofarads} µF across + and ground at each feed, the right way round: rated 10 V or more on 5 V, 25 V on 12 V.`,
  'This is arithmetic, no certificate: local codes and licensed practice decide.',
];
