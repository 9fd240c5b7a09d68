// Marks of flashes above the rows: spans that overlap become one mark with all their kinds, so that none lies over another.
import { expect, test } from 'vitest';
import { flashMarks } from '../../src/app/stages/lampshows/flash-spans.ts';
import type { FlashKind, FlashSpan } from '../../src/light/index.ts';

const span = (kind: FlashKind, fromMs: number, toMs: number): FlashSpan => ({
  kind,
  fromMs,
  toMs,
  area: { areaMm2: 1, xMm: 0, yMm: 0 },
  mostAreaMm2: 1,
});

test('overlapping spans are one mark, others stay apart, in order of time', () => {
  const marks = flashMarks([
    span('broadcast', 4000, 5000),
    span('general', 1000, 2000),
    span('red', 1500, 2500),
    span('general', 2500, 3000),
  ]);
  expect(marks).toEqual([
    { kinds: ['general', 'red'], fromMs: 1000, toMs: 3000 },
    { kinds: ['broadcast'], fromMs: 4000, toMs: 5000 },
  ]);
  expect(flashMarks([])).toEqual([]);
});
