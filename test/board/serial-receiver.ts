// The receiving half of the ATmega328P's serial port as the chip has it: two bytes wait unread, a third waits in the
// shift register, and a further one overwrites that third byte. avr8js alone keeps only the newest byte.
// Source: ATmega328P datasheet, USART0, "Data OverRun". The overrun flag and the line's bit times are not modelled:
// the overwritten byte is lost when the next one has arrived, one byte time later than on the chip.
import type { AVRUSART, CPU } from 'avr8js';
import { usart0Config } from 'avr8js';

const RXEN0 = 1 << 4; // UCSR0B: receiver enable
const WAITING_BYTES = 2;

export class SerialReceiver {
  /** Bytes that arrived while the receiver was off or full. */
  lostByteCount = 0;
  readonly #cpu: CPU;
  readonly #usart: AVRUSART;
  /** Unread bytes, oldest first; the first is the one that avr8js shows in UDR0. */
  #waiting: number[] = [];
  #shiftRegister: number | null = null;

  constructor(cpu: CPU, usart: AVRUSART) {
    this.#cpu = cpu;
    this.#usart = usart;
    this.#hookDataRegister();
    this.#hookControlRegister();
  }

  /** A byte's stop bit has just passed. */
  arrive(byte: number): void {
    if (!this.#isEnabled()) {
      this.lostByteCount++;
    } else if (this.#waiting.length < WAITING_BYTES) {
      this.#waiting.push(byte);
      if (this.#waiting.length === 1) this.#show();
    } else {
      if (this.#shiftRegister !== null) this.lostByteCount++;
      this.#shiftRegister = byte;
    }
  }

  #isEnabled(): boolean {
    return ((this.#cpu.data[usart0Config.UCSRB] ?? 0) & RXEN0) !== 0;
  }

  /** Puts the oldest waiting byte into UDR0 and raises RXC0. */
  #show(): void {
    const oldest = this.#waiting[0];
    if (oldest !== undefined) this.#usart.writeByte(oldest, true);
  }

  #hookDataRegister(): void {
    const { readHooks } = this.#cpu;
    const readUdr = readHooks[usart0Config.UDR];
    if (readUdr === undefined) throw new Error('avr8js no longer hooks reads of UDR0');
    readHooks[usart0Config.UDR] = (address) => {
      const byte = readUdr(address);
      this.#waiting.shift();
      if (this.#shiftRegister !== null) {
        this.#waiting.push(this.#shiftRegister);
        this.#shiftRegister = null;
      }
      this.#show();
      return byte;
    };
  }

  #hookControlRegister(): void {
    const { writeHooks } = this.#cpu;
    const writeUcsrb = writeHooks[usart0Config.UCSRB];
    if (writeUcsrb === undefined) throw new Error('avr8js no longer hooks writes of UCSR0B');
    writeHooks[usart0Config.UCSRB] = (value, oldValue, address, mask) => {
      const handled = writeUcsrb(value, oldValue, address, mask);
      if (this.#isEnabled()) {
        // avr8js clears RXC0 on every write of UCSR0B; the chip keeps it while a byte waits.
        this.#show();
      } else {
        // The chip empties its buffer when the receiver is switched off.
        this.#waiting = [];
        this.#shiftRegister = null;
      }
      return handled;
    };
  }
}
