// Boards: what the firmware may use of each microcontroller board. The ids name the chip, not a brand. All run at 16 MHz: from a crystal, and with the
// clock divider off, which fuses and start-up programs see to.
// Sources: register addresses, SRAM and EEPROM from avr-libc's device headers (iom328p.h, iom32u4.h, iom2560.h); pin numbers, serial, I2C and timer
// pins from pins_arduino.h of the Arduino core's variants standard, leonardo and mega; usable flash and upload speed from its boards.txt.
// test/board/board-rows.test.ts reads all three again.
// Output levels: the chips' data sheets, at 20 mA (ATmega328P: read; ATmega2560: from memory) or 10 mA (ATmega32U4: an excerpt of it read).
// Not here: what the player itself needs of flash and SRAM (the manifest of the prebuilt programs).

export interface BoardPin {
  /** Number used in Arduino sketches. */
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
  /** Flash that program and show data may fill, from address 0 on. */
  readonly flashBytes: number;
  readonly sramBytes: number;
  /** Data-space address of the first byte of SRAM. */
  readonly sramStart: number;
  readonly eepromBytes: number;
  /** Least high level of a pin with the chip at 5 V and up to 85 C, at the load that its data sheet tests with: far more than an LED's input takes. */
  readonly outputHighVolts: number;
  readonly uploadBaud: number;
  /** Whether the chip itself is on USB: its start-up program then answers for some seconds after a reset only, and the ready-to-flash program turns USB off. */
  readonly hasOwnUsb: boolean;
  /** Whether the program may turn the watchdog on: an older start-up program leaves it on after its reset and never gets to the program. */
  readonly hasWatchdog: boolean;
  /** Pins for data lines, event pins and the room button. */
  readonly pins: readonly BoardPin[];
  /** Number of pin A0. */
  readonly firstAnaloguePin: number;
  /** Pins that carry the USB serial link, so they can't be data pins. */
  readonly usbSerialPins: readonly number[];
  /** Receiving and sending pin of the serial port that game events come over. */
  readonly serialPins: readonly number[];
  /** SDA and SCL. */
  readonly i2cPins: readonly number[];
  /** Pins that Timer1 would dim: it belongs to the show, so analogWrite does nothing useful there. */
  readonly timer1Pins: readonly number[];
}

/** Data-space addresses of the PORTx registers; a port has the same one on every chip that has it. */
const ports: Readonly<Record<string, number>> = {
  A: 0x22,
  B: 0x25,
  C: 0x28,
  D: 0x2b,
  E: 0x2e,
  F: 0x31,
  G: 0x34,
  H: 0x102,
  J: 0x105,
  K: 0x108,
  L: 0x10b,
};

/** Pins from a number on, each written as port and bit: "D2 D3". */
const pinsFrom = (firstPin: number, places: string): BoardPin[] =>
  places.split(' ').map((place, i) => ({
    pin: firstPin + i,
    portAddress: ports[place[0]!]!,
    bit: Number(place[1]),
  }));

const atmega328p = {
  mcu: 'atmega328p',
  clockHz: 16_000_000,
  // Either start-up program: the fuses keep 2 KB for it even where it is smaller.
  flashBytes: 30_720,
  sramBytes: 2048,
  sramStart: 0x100,
  eepromBytes: 1024,
  outputHighVolts: 4.2,
  hasOwnUsb: false,
  pins: [
    ...pinsFrom(0, 'D0 D1 D2 D3 D4 D5 D6 D7'),
    ...pinsFrom(8, 'B0 B1 B2 B3 B4 B5'),
    ...pinsFrom(14, 'C0 C1 C2 C3 C4 C5'),
  ],
  firstAnaloguePin: 14,
  usbSerialPins: [0, 1],
  serialPins: [0, 1],
  i2cPins: [18, 19],
  timer1Pins: [9, 10],
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
  {
    id: 'atmega32u4',
    label: 'ATmega32U4',
    mcu: 'atmega32u4',
    clockHz: 16_000_000,
    flashBytes: 28_672,
    sramBytes: 2560,
    sramStart: 0x100,
    eepromBytes: 1024,
    outputHighVolts: 4.2,
    uploadBaud: 57_600,
    hasOwnUsb: true,
    hasWatchdog: true,
    pins: [
      ...pinsFrom(0, 'D2 D3 D1 D0 D4 C6 D7 E6 B4 B5 B6 B7 D6 C7'),
      // Numbers 24 to 30 are other names of pins above and a lamp. Number 17 drives a lamp that the core's USB code switches from an interrupt.
      ...pinsFrom(14, 'B3 B1 B2'),
      ...pinsFrom(18, 'F7 F6 F5 F4 F1 F0'),
    ],
    firstAnaloguePin: 18,
    usbSerialPins: [],
    serialPins: [0, 1],
    i2cPins: [2, 3],
    timer1Pins: [9, 10],
  },
  {
    id: 'atmega2560',
    label: 'ATmega2560',
    mcu: 'atmega2560',
    clockHz: 16_000_000,
    // Of 253,952: the player reads show data by `lpm` through 16-bit addresses, which reach 64 KB. One page less, so that an address behind the last
    // byte is never 0. A sketch's own code may lie behind them.
    flashBytes: 65_280,
    sramBytes: 8192,
    sramStart: 0x200,
    eepromBytes: 4096,
    outputHighVolts: 4.2,
    uploadBaud: 115_200,
    hasOwnUsb: false,
    hasWatchdog: true,
    pins: [
      ...pinsFrom(0, 'E0 E1 E4 E5 G5 E3 H3 H4 H5 H6 B4 B5 B6 B7'),
      ...pinsFrom(14, 'J1 J0 H1 H0 D3 D2 D1 D0'),
      ...pinsFrom(22, 'A0 A1 A2 A3 A4 A5 A6 A7 C7 C6 C5 C4 C3 C2 C1 C0'),
      ...pinsFrom(38, 'D7 G2 G1 G0 L7 L6 L5 L4 L3 L2 L1 L0 B3 B2 B1 B0'),
      ...pinsFrom(54, 'F0 F1 F2 F3 F4 F5 F6 F7 K0 K1 K2 K3 K4 K5 K6 K7'),
    ],
    firstAnaloguePin: 54,
    usbSerialPins: [0, 1],
    serialPins: [0, 1],
    i2cPins: [20, 21],
    // 13 is Timer0's first, and the core lets it dim that one.
    timer1Pins: [11, 12],
  },
];

/** A pin's name as printed on the board: D2, A0. */
export const pinLabel = (board: Pick<Board, 'firstAnaloguePin'>, pin: number): string =>
  pin < board.firstAnaloguePin ? `D${pin}` : `A${pin - board.firstAnaloguePin}`;
