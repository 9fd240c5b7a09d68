// Times the solver on one strip fed at both ends: median milliseconds of factoring and solving, and of solving alone.
// For the bench runner; not a test, because a shared machine's times vary.
import { factorNetwork } from '../../src/power/index.ts';
import { stripDraw, stripNetwork } from './strip-network.ts';

export interface NetworkTimes {
  readonly ledCount: number;
  readonly factorAndSolveMs: number;
  readonly solveMs: number;
}

function medianMs(work: () => void, rounds: number): number {
  const times = Array.from({ length: rounds }, () => {
    const start = performance.now();
    work();
    return performance.now() - start;
  }).sort((a, b) => a - b);
  return times[Math.floor(rounds / 2)]!;
}

export function benchNetwork(ledCounts: readonly number[] = [300, 2000], rounds = 31): NetworkTimes[] {
  return ledCounts.map((ledCount) => {
    const network = stripNetwork(ledCount, 0.2 / 60, [
      { led: 0, ohms: 0.05 },
      { led: ledCount - 1, ohms: 0.05 },
    ]);
    const drawn = stripDraw(ledCount, 0.036);
    const factored = factorNetwork(network);
    const volts = new Float64Array(network.nodeCount);
    return {
      ledCount,
      factorAndSolveMs: medianMs(() => factorNetwork(network).solve(drawn, volts), rounds),
      solveMs: medianMs(() => factored.solve(drawn, volts), rounds),
    };
  });
}
