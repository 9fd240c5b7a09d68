// The sums behind the fields of runs and areas: lists of LEDs as text, orders and the points of a drawn line. Expected values follow from the rules
// that each says of itself.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  addedPoint,
  canLosePoint,
  hasRoomForPoint,
  movedPoint,
  orderChoices,
  orderOfKind,
  removedPoint,
} from '../../src/app/stages/runs/area-orders.ts';
import { ledListRefusal, ledListText, parseLedList } from '../../src/app/stages/runs/led-list.ts';
import { setAreaOrder } from '../../src/project/index.ts';
import { holdsLaws } from '../support/edit-laws.ts';
import { sample } from '../support/lamploom.ts';

describe('lists of LEDs', () => {
  test.each([
    ['', []],
    ['3, 7-9', [3, 7, 8, 9]],
    ['9-7,3', [3, 7, 8, 9]],
    ['4;4 , 4', [4]],
    ['0 - 2', [0, 1, 2]],
    ['3-1', [1, 2, 3]],
    ['9', [9]],
  ])('"%s" names %j', (text, leds) => {
    expect(parseLedList(text, 10)).toEqual(leds);
    expect(ledListRefusal(text, 10)).toBeUndefined();
  });

  test.each(['10', '3-10', '-1', '1.5', '3,', 'three', '1 2', '2-3-4'])('"%s" is not taken', (text) => {
    expect(parseLedList(text, 10)).toBeUndefined();
    expect(ledListRefusal(text, 10)).toBeDefined();
  });

  // The words name what the builder has to mend: the part that is no number, or the numbers that there are.
  test.each([
    ['99', 10, /no LED 99.*0 to 9$/],
    ['3-12', 10, /no LED 12.*0 to 9$/],
    ['1', 1, /no LED 1.*only one of this run is 0$/],
    ['a,b', 10, /^"a" is no LED/],
    ['2,', 10, /missing beside a comma$/],
  ])('"%s" of %i LEDs is refused in words', (text, ledCount, words) => {
    expect(ledListRefusal(text, ledCount)).toMatch(words);
  });

  test('three in a row are a stretch, two are two', () => {
    expect(ledListText([9, 3, 8, 7, 0, 1])).toBe('0, 1, 3, 7-9');
    expect(ledListText([])).toBe('');
  });

  test('what is written is read back', () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.nat(719)), (leds) => {
        expect(parseLedList(ledListText(leds), 720)).toEqual(leds.sort((a, b) => a - b));
      }),
      { seed: 91, numRuns: 100 },
    );
  });
});

describe('orders of an area', () => {
  const middle = { xMm: 100, yMm: 60 };
  const line = orderOfKind('path', { kind: 'across', reversed: true }, middle, 40);
  if (line.kind !== 'path') throw new Error('not a line');

  test('a line begins along the middle, from one side to the other', () => {
    expect(line.points).toEqual([
      { xMm: 60, yMm: 60 },
      { xMm: 140, yMm: 60 },
    ]);
  });

  test('another order is travelled the same way round as the one before', () => {
    for (const { id } of orderChoices) {
      expect(orderOfKind(id, line, middle, 40).reversed).toBe(true);
      expect(orderOfKind(id, { kind: 'up', reversed: false }, middle, 40).reversed).toBe(false);
      expect(orderOfKind(id, { kind: 'up' }, middle, 40)).not.toHaveProperty('reversed');
    }
  });

  test('a point is moved, added in the middle of the longest stretch, and removed; two always stay', () => {
    const bent = movedPoint(line, 1, { yMm: 90 });
    expect(bent.points[1]).toEqual({ xMm: 140, yMm: 90 });
    expect(bent.points[0]).toEqual(line.points[0]);
    const longer = addedPoint(bent);
    expect(longer.points).toEqual([bent.points[0], { xMm: 100, yMm: 75 }, bent.points[1]]);
    const uneven = movedPoint(longer, 2, { xMm: 300 });
    expect(addedPoint(uneven).points[2]).toEqual({ xMm: 200, yMm: 82.5 });
    expect(canLosePoint(longer)).toBe(true);
    expect(removedPoint(longer, 1).points).toEqual([longer.points[0], longer.points[2]]);
    expect(canLosePoint(line)).toBe(false);
  });

  test('a line of as many points as the document holds has no room for one more', () => {
    let longest = line;
    while (hasRoomForPoint(longest)) longest = addedPoint(longest);
    expect(longest.points).toHaveLength(200);
    const project = sample('first-light');
    holdsLaws(project, 'order', setAreaOrder(project.areas[0]!.id, longest));
  });
});
