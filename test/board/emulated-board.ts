// An ATmega328P board in avr8js: processor, ports, timers, serial port, EEPROM, analogue inputs, watchdog.
// Not here: decoding what a pin carries (board-avr8js.ts); I2C, SPI, writing to flash. No files, no clock: time is cycles.
// A write is stamped with the first cycle of its instruction. Steady for pulses made by one kind of instruction;
// real pins change at the instruction's end, so a pulse from `out` (1 cycle) to `st` or `sbi` (2) is 1 cycle off.
// Entering an interrupt takes 2 cycles here and at least 4 on the chip (ATmega328P datasheet, interrupt response).
import {
  AVRADC,
  AVRClock,
  AVREEPROM,
  AVRIOPort,
  AVRTimer,
  AVRUSART,
  AVRWatchdog,
  adcConfig,
  avrInstruction,
  CPU,
  clockConfig,
  eepromConfig,
  portBConfig,
  portCConfig,
  portDConfig,
  timer0Config,
  timer1Config,
  timer2Config,
  usart0Config,
  watchdogConfig,
} from 'avr8js';
import { SerialReceiver } from './serial-receiver.ts';
import { BOARD_CLOCK_HZ } from './wire-decoder.ts';

/** First and last SRAM address of an ATmega328P (datasheet, data memory map). */
export const SRAM_START = 0x100;
export const SRAM_END = 0x8ff;
/** Size of its EEPROM. */
export const EEPROM_BYTES = 1024;
/** An unlikely value, so that bytes which still hold it were never written. */
const SRAM_PAINT = 0xc5;

const PORT_CONFIGS = { B: portBConfig, C: portCConfig, D: portDConfig } as const;
export type PortName = keyof typeof PORT_CONFIGS;

export interface PinPlace {
  readonly port: PortName;
  readonly bit: number;
}

/** Runs of Arduino pin numbers (A0 = 14), as every small ATmega328P board numbers them. */
const PIN_RUNS: readonly { readonly first: number; readonly last: number; readonly port: PortName }[] = [
  { first: 0, last: 7, port: 'D' },
  { first: 8, last: 13, port: 'B' },
  { first: 14, last: 19, port: 'C' },
];

export function placeOfPin(pin: number): PinPlace {
  const run = PIN_RUNS.find(({ first, last }) => pin >= first && pin <= last);
  if (run === undefined) throw new Error(`An ATmega328P board has pins 0 to 19, not ${pin}`);
  return { port: run.port, bit: pin - run.first };
}

/** The state of one port after a change; each number is a mask of eight pins. */
export interface PortState {
  /** Pins that the chip drives. */
  readonly outputs: number;
  /** Pins that the chip drives high. */
  readonly drivenHigh: number;
  /** Inputs whose pull-up resistor is on. */
  readonly pulledUp: number;
}
export type PortListener = (cycle: number, outputs: number, drivenHigh: number, pulledUp: number) => void;

export type InputLevel = 'low' | 'high' | 'open';

export interface EmulatedBoardOptions {
  readonly clockHz?: number;
  /** EEPROM contents, changed in place by the firmware; a new chip's when left out. */
  readonly eeprom?: Uint8Array;
}

interface BoardPort {
  readonly gpio: AVRIOPort;
  readonly listeners: PortListener[];
  /** Pins that something outside holds high or low. */
  heldMask: number;
  /** Pins whose input reads high through their own pull-up. */
  openHigh: number;
  pulledUp: number;
}

export class EmulatedBoard {
  readonly cpu: CPU;
  readonly clockHz: number;
  readonly serial: SerialReceiver;
  readonly eeprom: Uint8Array;
  /** Called with each byte that the firmware sends over the serial port. */
  onSerialByte: (byte: number, cycle: number) => void = () => {};
  /** When the watchdog would have reset the chip; the board stops there. */
  watchdogResetCycle: number | null = null;
  readonly #usart: AVRUSART;
  readonly #ports: Readonly<Record<PortName, BoardPort>>;

  constructor(flash: Uint8Array, options: EmulatedBoardOptions = {}) {
    this.clockHz = options.clockHz ?? BOARD_CLOCK_HZ;
    this.eeprom = options.eeprom ?? new Uint8Array(EEPROM_BYTES).fill(0xff);
    this.cpu = new CPU(new Uint16Array(flash.slice().buffer), SRAM_END - SRAM_START + 1);
    const { cpu } = this;
    // The ports first: the timers look them up for their output pins.
    this.#ports = { B: this.#makePort('B'), C: this.#makePort('C'), D: this.#makePort('D') };
    for (const config of [timer0Config, timer1Config, timer2Config]) new AVRTimer(cpu, config);
    this.#usart = new AVRUSART(cpu, usart0Config, this.clockHz);
    this.#usart.onByteTransmit = (byte) => this.onSerialByte(byte, cpu.cycles);
    this.serial = new SerialReceiver(cpu, this.#usart);
    new AVRADC(cpu, adcConfig);
    new AVREEPROM(cpu, this.#eepromBackend(), eepromConfig);
    new AVRWatchdog(cpu, watchdogConfig, new AVRClock(cpu, this.clockHz, clockConfig));
    cpu.reset = () => {
      this.watchdogResetCycle = cpu.cycles;
    };
  }

  get cycles(): number {
    return this.cpu.cycles;
  }

  /** Runs up to this cycle, to the end of the instruction that reaches it; sooner if the watchdog fires. */
  runUntilCycle(cycle: number): void {
    const { cpu } = this;
    // A local name: looked up through the test runner's module object at each call, it ran at 14 instead of 50 million
    // cycles a second (measured with Vitest 4.1 on Node 20).
    const runInstruction = avrInstruction;
    while (cpu.cycles < cycle && this.watchdogResetCycle === null) {
      runInstruction(cpu);
      cpu.tick();
    }
  }

  runForCycles(cycles: number): void {
    this.runUntilCycle(this.cpu.cycles + cycles);
  }

  /** Does something at a cycle, between two instructions. */
  at(cycle: number, action: () => void): void {
    this.cpu.addClockEvent(action, cycle - this.cpu.cycles);
  }

  /** Listens to every change of a port's levels, directions or pull-ups. */
  watchPort(name: PortName, listener: PortListener): void {
    this.#ports[name].listeners.push(listener);
  }

  portState(name: PortName): PortState {
    const { DDR, PORT } = PORT_CONFIGS[name];
    const outputs = this.cpu.data[DDR] ?? 0;
    const latch = this.cpu.data[PORT] ?? 0;
    return { outputs, drivenHigh: latch & outputs, pulledUp: latch & ~outputs & 0xff };
  }

  /** Listens to the level that the chip drives; an undriven pin counts as low. */
  watchPin(pin: number, listener: (cycle: number, level: 0 | 1) => void): void {
    const { port, bit } = placeOfPin(pin);
    let level: 0 | 1 = (this.portState(port).drivenHigh >> bit) & 1 ? 1 : 0;
    this.watchPort(port, (cycle, _outputs, drivenHigh) => {
      const now = (drivenHigh >> bit) & 1 ? 1 : 0;
      if (now === level) return;
      level = now;
      listener(cycle, now);
    });
  }

  /** Connects an input from outside. An open input reads its pull-up, and low without one. */
  setInput(pin: number, level: InputLevel): void {
    const { port: name, bit } = placeOfPin(pin);
    const port = this.#ports[name];
    const mask = 1 << bit;
    const isOpen = level === 'open';
    port.heldMask = isOpen ? port.heldMask & ~mask : port.heldMask | mask;
    port.openHigh = port.pulledUp & ~port.heldMask;
    port.gpio.setPin(bit, isOpen ? (port.openHigh & mask) !== 0 : level === 'high');
  }

  /** Sends bytes into the serial port back to back, whether or not the firmware reads them. */
  sendSerial(bytes: ArrayLike<number>, baud: number): void {
    const cyclesPerByte = (this.clockHz * 10) / baud; // start bit, eight data bits, stop bit
    for (let index = 0; index < bytes.length; index++) {
      const byte = bytes[index] ?? 0;
      this.at(Math.round(this.cpu.cycles + cyclesPerByte * (index + 1)), () => this.serial.arrive(byte));
    }
  }

  /** Calls back at each write to a register, by its data address. Only for registers that no peripheral owns. */
  watchRegister(dataAddress: number, listener: (cycle: number, value: number) => void): void {
    const { cpu } = this;
    if (cpu.writeHooks[dataAddress] !== undefined)
      throw new Error(`Register ${dataAddress} is already hooked`);
    cpu.writeHooks[dataAddress] = (value) => {
      listener(cpu.cycles, value);
      return false;
    };
  }

  paintSram(): void {
    this.cpu.data.fill(SRAM_PAINT, SRAM_START, SRAM_END + 1);
  }

  /** Longest stretch of SRAM that still holds the paint: the room between static data and the deepest stack. */
  longestPaintedBytes(): number {
    let longest = 0;
    let run = 0;
    for (let address = SRAM_START; address <= SRAM_END; address++) {
      run = this.cpu.data[address] === SRAM_PAINT ? run + 1 : 0;
      if (run > longest) longest = run;
    }
    return longest;
  }

  #makePort(name: PortName): BoardPort {
    const { cpu } = this;
    const { DDR } = PORT_CONFIGS[name];
    const gpio = new AVRIOPort(cpu, PORT_CONFIGS[name]);
    const port: BoardPort = { gpio, listeners: [], heldMask: 0, openHigh: 0, pulledUp: 0 };
    gpio.addListener((levels) => {
      const outputs = cpu.data[DDR] ?? 0;
      const drivenHigh = levels & outputs;
      const pulledUp = levels & ~outputs & 0xff;
      if (pulledUp !== port.pulledUp) {
        port.pulledUp = pulledUp;
        this.#followPullUps(port);
      }
      const { listeners } = port;
      for (let index = 0; index < listeners.length; index++) {
        listeners[index]?.(cpu.cycles, outputs, drivenHigh, pulledUp);
      }
    });
    return port;
  }

  /** avr8js reads an open input as low whatever its pull-up says; a real one reads high. */
  #followPullUps(port: BoardPort): void {
    const openHigh = port.pulledUp & ~port.heldMask;
    const changed = openHigh ^ port.openHigh;
    if (changed === 0) return;
    port.openHigh = openHigh;
    for (let bit = 0; bit < 8; bit++) {
      if ((changed >> bit) & 1) port.gpio.setPin(bit, ((openHigh >> bit) & 1) === 1);
    }
  }

  #eepromBackend() {
    const { eeprom } = this;
    return {
      readMemory: (address: number) => eeprom[address] ?? 0xff,
      writeMemory: (address: number, value: number) => {
        eeprom[address] = (eeprom[address] ?? 0xff) & value;
      },
      eraseMemory: (address: number) => {
        eeprom[address] = 0xff;
      },
    };
  }
}
