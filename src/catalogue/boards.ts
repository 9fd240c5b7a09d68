// Boards: what the firmware may use of each microcontroller board. The ids name the chip, not a brand.
// Sources: ATmega328P data sheet (from memory for register addresses; sizes read in the device header): 32 KB flash,
// 2 KB SRAM from 0x100, 16 MHz crystal. Usable flash 30,720 bytes with either start-up program (boards.txt of the Arduino core).

export interface BoardPin {
  /** Number printed in Arduino sketches; A0 = 14. */
  readonly pin: number;
  /** Data-space address of the PORTx register; DDRx is one below, PINx two below. */
  readonly portAddress: number;
  readonly bit: number;
}

export interface Board {
  readonly id: string;
  readonly label: string;
  readonly mcu: string;
  readonly clockHz: number;
  readonly flashBytes: number;
  readonly sramBytes: number;
  readonly sramStart: number;
  readonly uploadBaud: number;
  /** Whether the program may turn the watchdog on: an older start-up program leaves it on after its reset and never gets to the program. */
  readonly hasWatchdog: boolean;
  readonly pins: readonly BoardPin[];
  /** Pins that carry the USB serial link, so they can't be data pins. */
  readonly serialPins: readonly number[];
}

const portB = 0x25;
const portC = 0x28;
const portD = 0x2b;
const pinsOf = (firstPin: number, portAddress: number, bits: number): BoardPin[] =>
  Array.from({ length: bits }, (_, bit) => ({ pin: firstPin + bit, portAddress, bit }));

const atmega328p = {
  mcu: 'atmega328p',
  clockHz: 16_000_000,
  flashBytes: 30_720,
  sramBytes: 2048,
  sramStart: 0x100,
  pins: [...pinsOf(0, portD, 8), ...pinsOf(8, portB, 6), ...pinsOf(14, portC, 6)],
  serialPins: [0, 1],
} as const;

export const boards: readonly Board[] = [
  {
    ...atmega328p,
    id: 'atmega328p',
    label: 'ATmega328P, newer start-up program',
    uploadBaud: 115_200,
    hasWatchdog: true,
  },
  {
    ...atmega328p,
    id: 'atmega328p-old',
    label: 'ATmega328P, older start-up program',
    uploadBaud: 57_600,
    hasWatchdog: false,
  },
];
