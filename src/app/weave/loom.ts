// Does work in slices, one piece after the other, so that the page goes on drawing. Who asks has a slot: asking again replaces what still waits
// there and keeps its place in the queue; what has begun is finished, so that a picture also moves while a hand keeps changing it.
// The clock comes from outside.
import type { Work } from './weave.ts';

export interface LoomPorts {
  readonly nowMs: () => number;
  /** Runs something when the page has had time to breathe. */
  readonly later: (run: () => void) => void;
}

/** A third of the shortest frame: playing must not stumble. */
const sliceMs = 5;

export class Loom {
  private readonly ports: LoomPorts;
  private readonly waiting = new Map<object, () => Work<void>>();
  private current: Work<void> | undefined;
  private runs = false;

  constructor(ports: LoomPorts) {
    this.ports = ports;
  }

  ask(slot: object, begin: () => Work<void>): void {
    this.waiting.set(slot, begin);
    if (this.runs) return;
    this.runs = true;
    this.ports.later(this.slice);
  }

  withdraw(slot: object): void {
    this.waiting.delete(slot);
  }

  private readonly slice = (): void => {
    const endMs = this.ports.nowMs() + sliceMs;
    do {
      this.current ??= this.next();
      if (!this.current) {
        this.runs = false;
        return;
      }
      if (this.current.next().done) this.current = undefined;
    } while (this.ports.nowMs() < endMs);
    this.ports.later(this.slice);
  };

  private next(): Work<void> | undefined {
    for (const [slot, begin] of this.waiting) {
      this.waiting.delete(slot);
      return begin();
    }
    return undefined;
  }
}
