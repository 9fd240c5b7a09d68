// One rail of a path of LEDs, solved in a single sweep each way: the same as network.ts for this shape, without its general machinery.
// Method: everything left of an LED is, as seen from it, one conductor to the terminal and one current; each step takes the next joint into these two.
// Only positive numbers are added, multiplied and divided. Not here: which LEDs and feeds (plan-problem.ts).

/** Room for sweeps, grown as needed: planning solves many thousand paths. */
let siemensLeft = new Float64Array(0);
let ampsLeft = new Float64Array(0);

/**
 * How far each LED's node lies from the terminal, volts, written to `rises` from `first` to `last`: positive where current flows to the terminal.
 * `jointOhms[i]` lies between LEDs i and i + 1, 0 allowed; `tieSiemens[i]` joins LED i to the terminal, and one of them at least is above 0.
 */
export function pathRises(
  first: number,
  last: number,
  jointOhms: Float64Array,
  drawnAmps: Float64Array,
  tieSiemens: Float64Array,
  rises: Float64Array,
): void {
  if (siemensLeft.length <= last) {
    siemensLeft = new Float64Array(2 * last + 1);
    ampsLeft = new Float64Array(2 * last + 1);
  }
  let siemens = 0;
  let amps = 0;
  for (let led = first; led <= last; led++) {
    siemens += tieSiemens[led]!;
    amps += drawnAmps[led]!;
    siemensLeft[led] = siemens;
    ampsLeft[led] = amps;
    const share = 1 / (1 + siemens * jointOhms[led]!);
    siemens *= share;
    amps *= share;
  }
  let rise = ampsLeft[last]! / siemensLeft[last]!;
  rises[last] = rise;
  for (let led = last - 1; led >= first; led--) {
    const ohms = jointOhms[led]!;
    rise = (rise + ampsLeft[led]! * ohms) / (1 + siemensLeft[led]! * ohms);
    rises[led] = rise;
  }
}

/** For each LED, what lies behind the joint to its right: siemens to the terminal, and amperes that come from there if the LED's node is held at 0 V. */
export function rightOfPath(
  jointOhms: Float64Array,
  drawnAmps: Float64Array,
  tieSiemens: Float64Array,
): { readonly siemens: Float64Array; readonly amps: Float64Array } {
  const count = drawnAmps.length;
  const siemens = new Float64Array(count);
  const amps = new Float64Array(count);
  for (let led = count - 2; led >= 0; led--) {
    const siemensThere = siemens[led + 1]! + tieSiemens[led + 1]!;
    const share = 1 / (1 + siemensThere * jointOhms[led]!);
    siemens[led] = siemensThere * share;
    amps[led] = (amps[led + 1]! + drawnAmps[led + 1]!) * share;
  }
  return { siemens, amps };
}
