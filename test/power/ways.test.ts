// Ways of a current on nets of any shape, also such as no panel has: against walking every way, and against a solved circuit.
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { blocksTowards, type Ends } from '../../src/power/ways.ts';
import { bySolving, byWalking } from './fuse-circuits.ts';

const nodeCount = 7;
const node = fc.nat({ max: nodeCount - 1 });

/** The conductors on any way from a node to the target, by the blocks between them. */
function byBlocks(conductors: readonly Ends[], from: number, target: number): Set<number> {
  const { ofConductor, above, topOf } = blocksTowards(nodeCount, conductors, target);
  const blocks = new Set<number>();
  for (let block = above[from]!; block >= 0; block = above[topOf[block]!]!) blocks.add(block);
  return new Set(conductors.flatMap((_, i) => (blocks.has(ofConductor[i]!) ? [i] : [])));
}

test.each([
  ['walked', byWalking],
  ['solved', bySolving],
])(
  'loops, branches, parallel conductors, pieces apart, and a conductor from a node to itself: as %s',
  (_, find) => {
    fc.assert(
      fc.property(
        fc.array(fc.record({ a: node, b: node }), { maxLength: 10 }),
        node,
        node,
        (conductors, from, target) => {
          const pieces = conductors.map(({ a, b }) => ({ a: `${a}`, b: `${b}`, names: [] }));
          expect([...byBlocks(conductors, from, target)]).toEqual(
            [...(find(pieces, `${from}`, `${target}`) ?? [])].sort((one, other) => one - other),
          );
        },
      ),
      { numRuns: 1000 },
    );
  },
);

test('a chain of 20,000 nodes is no deeper than any other', () => {
  const count = 20_000;
  const chain = Array.from({ length: count - 1 }, (_, i) => ({ a: i, b: i + 1 }));
  const { count: blocks, above } = blocksTowards(count, chain, 0);
  expect([blocks, above[0], above[count - 1]! >= 0]).toEqual([count - 1, -1, true]);
});
