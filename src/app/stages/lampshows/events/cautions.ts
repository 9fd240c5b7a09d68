// What can hurt a board whose inputs come from a game.
// Not here: what each pin may be (findings of src/board/event-findings.ts).

/**
 * Lamps of a game have about 6 to 18 V, coils and flashers 20 to 70 V with spikes: common practice, no source. The resistors give an opto-isolator's LED
 * of 1.2 V its 5 mA, from the next standard value above (V - 1.2) / 5 mA.
 */
export const pinCautions: readonly string[] = [
  'A switch or a 5 V logic output that pulls the pin to ground: nothing else may go to it.',
  'Never wire a lamp, coil or flasher line straight to a pin. Through an opto-isolator: 2.2 kΩ at 12 V, 4.7 kΩ at 24 V, 10 kΩ of half a watt at 50 V, and for coils a diode in reverse across its LED.',
  'Leave a switch matrix alone: it is strobed, and tapping it disturbs the game.',
];

export const serialCautions: readonly string[] = [
  '115,200 baud, 8 bits, no parity, 5 V. A sender of 3.3 V needs a buffer: it drives a 5 V board only just.',
];

export const i2cCautions: readonly string[] = ['4.7 kΩ from each of both lines to +5 V, once on the bus.'];
