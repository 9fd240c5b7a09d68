// The resistances that the power model rests on, against the printed tables.
import { describe, expect, test } from 'vitest';
import { copperFactor, rowById, strips, wires } from '../../src/catalogue/index.ts';
import { pitchOhms, wireById, wireFor, wireOhms } from '../../src/power/index.ts';
import { expectClose, expectPrinted } from './expect-volts.ts';

describe('American wire gauge, ohm/km at 20 C (ASTM B258 diameters, rho 1.7241e-8 ohm m; derived)', () => {
  test.each([
    ['AWG 10', '3.277'],
    ['AWG 12', '5.211'],
    ['AWG 14', '8.285'],
    ['AWG 16', '13.17'],
    ['AWG 18', '20.95'],
    ['AWG 20', '33.31'],
    ['AWG 22', '52.96'],
    ['AWG 24', '84.21'],
    ['AWG 26', '133.9'],
    ['AWG 28', '212.9'],
    // 338.5499: tables that print 338.6 rounded 338.55 a second time.
    ['AWG 30', '338.55'],
  ])('%s has %s', (id, printed) => {
    expectPrinted(wireById(id).ohmPerKm, printed);
  });
});

describe('metric wire, ohm/km at 20 C (IEC 60228, class 5, plain copper)', () => {
  test.each([
    ['0.5 mm2', 39.0],
    ['0.75 mm2', 26.0],
    ['1 mm2', 19.5],
    ['1.5 mm2', 13.3],
    ['2.5 mm2', 7.98],
    ['4 mm2', 4.95],
    ['6 mm2', 3.3],
  ])('%s has %s', (id, ohmPerKm) => {
    expect(wireById(id).ohmPerKm).toBe(ohmPerKm);
  });
});

test('the two tables hold every wire of the catalogue', () => {
  expect(wires).toHaveLength(11 + 7);
});

test('copper has 1.1179 times its resistance at 50 C (IEC 60028, from memory; derived)', () => {
  expectPrinted(copperFactor(50), '1.1179');
});

test('3 m of 18 AWG have 0.06284 ohm (worked case 4)', () => {
  expectPrinted(wireOhms(wireById('AWG 18'), 3000), '0.06284');
});

test('a pitch of 60 LEDs/m has a sixtieth of the usual 0.1 ohm/m rail (common practice, no source)', () => {
  expectClose(pitchOhms(rowById(strips, 'ws2812b-60')!), 0.1 / 60);
});

describe('the thinnest wire for a current (design currents: common practice, no source)', () => {
  test.each([
    [3, 'AWG 18', 'AWG 22'],
    [3.1, 'AWG 18', 'AWG 20'],
    [30, 'AWG 18', 'AWG 10'],
    [5, '4 mm2', '0.75 mm2'],
    [5.1, '4 mm2', '1 mm2'],
  ])('%s A, like %s: %s', (amps, like, id) => {
    expect(wireFor(amps, wireById(like))?.id).toBe(id);
  });
  test('above 30 A there is none', () => {
    expect(wireFor(30.1, wireById('AWG 18'))).toBeUndefined();
  });
});

test('a wire that the catalogue lacks is our own fault and throws', () => {
  expect(() => wireById('AWG 99')).toThrow('no wire "AWG 99"');
});
