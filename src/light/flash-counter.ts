// Counts opposing changes of light at many places at once, fed frame by frame, and tells which places have flashed more than three times within the
// last second. Not here: thresholds (flash-rules.ts), areas (flash-field.ts), where the light comes from (flash-points.ts).
import {
  chromaticityRule,
  colourOf,
  firstTooMany,
  generalRule,
  isFarApart,
  isGeneralChange,
  isLitRed,
  isRednessChange,
  type LightState,
  secondMs,
} from './flash-rules.ts';
import { channelCount } from './sources.ts';

/** Opposing changes of one luminance, each counted as soon as it is large enough: counting early never gives fewer in all. */
class LuminanceChanges {
  private low = Number.POSITIVE_INFINITY;
  private high = Number.NEGATIVE_INFINITY;
  /** 1 after a rise, -1 after a fall, 0 before any change. */
  private direction = 0;

  /** Whether this state completes a change. */
  add({ luminance }: LightState): boolean {
    const isRise =
      this.direction <= 0 && luminance > this.low && isGeneralChange(this.low, luminance, generalRule);
    const isFall =
      this.direction >= 0 && luminance < this.high && isGeneralChange(this.high, luminance, generalRule);
    if (isRise || isFall) {
      this.direction = isRise ? 1 : -1;
      this.low = luminance;
      this.high = luminance;
      return true;
    }
    if (luminance < this.low) this.low = luminance;
    if (luminance > this.high) this.high = luminance;
    return false;
  }
}

/** The moments of the last changes at one place, ms. */
class Moments {
  private readonly ms = new Float64Array(firstTooMany).fill(Number.NEGATIVE_INFINITY);
  private next = 0;

  add(atMs: number): void {
    this.ms[this.next] = atMs;
    this.next = (this.next + 1) % firstTooMany;
  }

  countWithin(nowMs: number): number {
    let count = 0;
    while (count < firstTooMany && this.hasWithin(count + 1, nowMs)) count++;
    return count;
  }

  /** Whether so many (at most firstTooMany) lie within the second that ends now. */
  hasWithin(count: number, nowMs: number): boolean {
    return nowMs - this.ms[(this.next + firstTooMany - count) % firstTooMany]! < secondMs;
  }
}

/** Turns of redness towards red and away from it, as luminance is counted, under the older wording of the rule. */
class RednessTurns {
  private low = Number.POSITIVE_INFINITY;
  private high = Number.NEGATIVE_INFINITY;
  /** The same of saturated red alone. */
  private lowOfRed = Number.POSITIVE_INFINITY;
  private highOfRed = Number.NEGATIVE_INFINITY;
  private direction = 0;

  add({ redness, isRed }: LightState): boolean {
    const isMore = (from: number) => isRednessChange(redness - from);
    const isLess = (from: number) => isRednessChange(from - redness);
    const isRise = this.direction <= 0 && (isMore(this.lowOfRed) || (isRed && isMore(this.low)));
    const isFall = this.direction >= 0 && (isLess(this.highOfRed) || (isRed && isLess(this.high)));
    if (isRise || isFall) {
      this.direction = isRise ? 1 : -1;
      this.low = Number.POSITIVE_INFINITY;
      this.high = Number.NEGATIVE_INFINITY;
      this.lowOfRed = this.low;
      this.highOfRed = this.high;
    }
    this.low = Math.min(this.low, redness);
    this.high = Math.max(this.high, redness);
    if (isRed) {
      this.lowOfRed = Math.min(this.lowOfRed, redness);
      this.highOfRed = Math.max(this.highOfRed, redness);
    }
    return isRise || isFall;
  }
}

/** A box round places in the u', v' diagram: what lies in it is no farther from a place than its farthest corner. */
class Box {
  private left = Number.POSITIVE_INFINITY;
  private right = Number.NEGATIVE_INFINITY;
  private top = Number.POSITIVE_INFINITY;
  private bottom = Number.NEGATIVE_INFINITY;

  add({ u, v }: LightState): void {
    if (u < this.left) this.left = u;
    if (u > this.right) this.right = u;
    if (v < this.top) this.top = v;
    if (v > this.bottom) this.bottom = v;
  }

  mayBeFar({ u, v }: LightState): boolean {
    if (this.right < this.left) return false;
    return isFarApart(
      Math.max(Math.abs(u - this.left), Math.abs(u - this.right)),
      Math.max(Math.abs(v - this.top), Math.abs(v - this.bottom)),
    );
  }

  clear(): void {
    this.left = this.top = Number.POSITIVE_INFINITY;
    this.right = this.bottom = Number.NEGATIVE_INFINITY;
  }
}

/** Turns of colour towards red and away from it under the newer wording, which asks for two colours: it remembers those since the last turn. */
class ColourTurns {
  private states: LightState[] = [];
  private readonly colours = new Box();
  private readonly reds = new Box();
  private hasBlack = false;
  private hasRed = false;
  private direction = 0;

  add(now: LightState): boolean {
    const turn = this.mayTurn(now) ? this.turnTo(now) : 0;
    if (turn !== 0) {
      this.direction = turn;
      this.states = [];
      this.colours.clear();
      this.reds.clear();
      this.hasBlack = false;
      this.hasRed = false;
    }
    this.remember(now);
    return turn !== 0;
  }

  /** Quick, and never false where there is a turn. */
  private mayTurn(now: LightState): boolean {
    if (isLitRed(now)) return (this.hasBlack && this.direction <= 0) || this.colours.mayBeFar(now);
    if (!this.hasRed) return false;
    return now.isBlack ? this.direction >= 0 : this.reds.mayBeFar(now);
  }

  private turnTo(now: LightState): number {
    for (const before of this.states) {
      const turn = chromaticityRule(before, now);
      if (turn !== 0 && turn !== this.direction) return turn;
    }
    return 0;
  }

  private remember(now: LightState): void {
    if (now.isBlack) {
      if (this.hasBlack) return;
      this.hasBlack = true;
    } else {
      this.colours.add(now);
      if (now.isRed) {
        this.hasRed = true;
        this.reds.add(now);
      }
    }
    const last = this.states.at(-1);
    if (
      last &&
      last.u === now.u &&
      last.v === now.v &&
      last.share === now.share &&
      last.isBlack === now.isBlack
    )
      return;
    this.states.push(now);
    // So many lie between two turns only where nothing flashes; the oldest are then over a second away.
    if (this.states.length > mostRemembered) this.states.shift();
  }
}

/** Frames of more than a second, however short they are. */
const mostRemembered = 400;

/** What is counted at a place: each kind of change with the moments of its last ones. */
interface Count {
  readonly make: () => { readonly add: (state: LightState) => boolean };
  readonly isRed: boolean;
}

const counts: readonly Count[] = [
  { make: () => new LuminanceChanges(), isRed: false },
  { make: () => new RednessTurns(), isRed: true },
  { make: () => new ColourTurns(), isRed: true },
];

interface Counted {
  readonly changes: ReturnType<Count['make']>;
  readonly moments: Moments;
}

/** Which places flash too often, by place: 1 or 0. */
export interface Flashing {
  readonly general: Uint8Array;
  readonly red: Uint8Array;
  readonly hasGeneral: boolean;
  readonly hasRed: boolean;
}

const unlit = colourOf(0, 0, 0);

/** Frames follow one another `frameMs` apart. */
export class FlashCounter {
  private readonly frameMs: number;
  private readonly places: readonly (readonly Counted[])[];
  /** The last second's light by place, frame after frame in a ring. */
  private readonly ring: (readonly LightState[])[];
  /** By frame: the most changes of one kind that any one place had within the second that ends there; 0 where none ended there. */
  readonly changes: number[] = [];
  private readonly general: Uint8Array;
  private readonly red: Uint8Array;
  private frame = -1;

  constructor(placeCount: number, frameMs: number) {
    this.frameMs = frameMs;
    this.places = Array.from({ length: placeCount }, () =>
      counts.map(({ make }) => ({ changes: make(), moments: new Moments() })),
    );
    // This frame, and those whose moment is less than a second before it.
    const dark = Array.from({ length: placeCount }, () => unlit);
    this.ring = Array.from({ length: Math.ceil(secondMs / frameMs) }, () => dark);
    this.general = new Uint8Array(placeCount);
    this.red = new Uint8Array(placeCount);
  }

  /** `light`: red, green, blue of each place, 1 the panel's white. The result is valid until the next frame. */
  add(light: Float32Array): Flashing {
    this.frame++;
    this.changes.push(0);
    const now: LightState[] = [];
    this.ring[this.frame % this.ring.length] = now;
    const has = { general: false, red: false };
    for (let index = 0, at = 0; index < this.places.length; index++, at += channelCount) {
      const red = light[at]!;
      const green = light[at + 1]!;
      const blue = light[at + 2]!;
      const state = red + green + blue > 0 ? colourOf(red, green, blue) : unlit;
      now.push(state);
      const told = { general: false, red: false };
      for (const [kind, counted] of this.places[index]!.entries())
        if (this.isTooMany(index, kind, counted, state)) told[counts[kind]!.isRed ? 'red' : 'general'] = true;
      this.general[index] = Number(told.general);
      this.red[index] = Number(told.red);
      has.general ||= told.general;
      has.red ||= told.red;
    }
    return { general: this.general, red: this.red, hasGeneral: has.general, hasRed: has.red };
  }

  /** The frame before once more: nothing can be complete in it. */
  addSame(): void {
    const before = this.ring[this.frame % this.ring.length]!;
    this.frame++;
    this.changes.push(0);
    this.ring[this.frame % this.ring.length] = before;
  }

  private isTooMany(index: number, kind: number, { changes, moments }: Counted, state: LightState): boolean {
    const nowMs = this.frame * this.frameMs;
    if (changes.add(state)) {
      moments.add(nowMs);
      const within = moments.countWithin(nowMs);
      if (within > this.changes[this.frame]!) this.changes[this.frame] = within;
    }
    if (!moments.hasWithin(firstTooMany - 1, nowMs)) return false;
    if (moments.hasWithin(firstTooMany, nowMs)) return true;
    // The second's first change may have been counted before it began, as part of a longer one: then look at that second alone.
    return this.changesInSecond(index, kind) >= firstTooMany;
  }

  private changesInSecond(index: number, kind: number): number {
    const changes = counts[kind]!.make();
    let count = 0;
    for (let frame = Math.max(0, this.frame - this.ring.length + 1); frame <= this.frame; frame++)
      count += Number(changes.add(this.ring[frame % this.ring.length]![index]!));
    return count;
  }
}
