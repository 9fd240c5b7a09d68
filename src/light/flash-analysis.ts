// Flash analysis of one sequence of frames: which seconds break a rule, how large an area flashes then, and where. Fed frame by frame, so that who
// runs it decides how long a slice lasts. Not here: which sequences a project can play (src/board/flash-plays.ts).
// It finds flashes; that none are found does not mean that nobody can be harmed.
import { FlashCounter } from './flash-counter.ts';
import { type FieldArea, largestField } from './flash-field.ts';
import { type FlashPoints, flashPoints, lightAtPoints } from './flash-points.ts';
import { broadcastAreaShare, mostAreaMm2, secondMs } from './flash-rules.ts';
import type { LightScene } from './scene.ts';
import { channelCount, ledFlux } from './sources.ts';

/** `general` and `red` with the area of WCAG; `broadcast`: either kind over too much of the panel, whatever the viewing distance. */
export type FlashKind = 'general' | 'red' | 'broadcast';

export interface FlashSpan {
  readonly kind: FlashKind;
  /** From the beginning of the first second that is too many to the end of the last one, ms from the sequence's frame 0. */
  readonly fromMs: number;
  readonly toMs: number;
  /** Flashing area at its largest: in one visual field, or for `broadcast` on the whole panel. */
  readonly area: FieldArea;
  /** What would be allowed, mm2. */
  readonly mostAreaMm2: number;
}

export interface FlashViewing {
  readonly distanceMm: number;
  readonly frameMs: number;
  /** The brightness at which the panel's white is meant, 0 to 1. */
  readonly whiteShare: number;
}

/** What all sequences of a project share: the places looked at and how much each LED lights them. */
export interface FlashScene extends FlashViewing {
  readonly scene: LightScene;
  readonly points: FlashPoints;
}

export const flashScene = (scene: LightScene, viewing: FlashViewing): FlashScene => ({
  ...viewing,
  scene,
  points: flashPoints(scene, viewing.whiteShare),
});

/** Frames of one sequence in turn: `add` each frame's wire bytes, then read `spans`. */
export class FlashAnalysis {
  private readonly of: FlashScene;
  private readonly counter: FlashCounter;
  /** Of the last frame added, as ledFlux gives it. */
  readonly flux: Float32Array;
  private readonly light: Float32Array;
  /** For each kind and cell the frame up to which it has flashed too often, plus one; 0 for never. */
  private readonly flashedUntil = { general: new Int32Array(0), red: new Int32Array(0) };
  private readonly found: FlashSpan[] = [];
  /** The frame before: where nothing changed, the light is the same. */
  private bytes = new Uint8Array();
  private frame = 0;

  constructor(of: FlashScene) {
    const { points, frameMs, scene } = of;
    this.of = of;
    this.counter = new FlashCounter(points.cellOf.length, frameMs);
    this.flux = new Float32Array(scene.sources.length * channelCount);
    this.light = new Float32Array(points.cellOf.length * channelCount);
    const cells = points.grid.columns * points.grid.rows;
    this.flashedUntil = { general: new Int32Array(cells), red: new Int32Array(cells) };
  }

  /** `wireBytes`: one frame as it goes out. */
  add(wireBytes: Uint8Array): void {
    const { scene, points } = this.of;
    if (this.frame > 0 && isSame(wireBytes, this.bytes)) {
      this.counter.addSame();
      this.frame++;
      return;
    }
    this.bytes = wireBytes.slice();
    lightAtPoints(points, ledFlux(scene.sources, wireBytes, this.flux), this.light);
    const flashing = this.counter.add(this.light);
    if (flashing.hasGeneral) this.note('general', flashing.general);
    if (flashing.hasRed) this.note('red', flashing.red);
    this.frame++;
  }

  /** As FlashCounter has it: how near to too many each frame's second came. */
  get changes(): readonly number[] {
    return this.counter.changes;
  }

  /** In order of time; seconds that touch each other are one span. */
  get spans(): readonly FlashSpan[] {
    return this.found;
  }

  private note(kind: 'general' | 'red', places: Uint8Array): void {
    const { points, distanceMm, frameMs } = this.of;
    const until = this.flashedUntil[kind];
    for (const [index, is] of places.entries()) if (is) until[points.cellOf[index]!] = this.frame + 1;
    // What flashed too often in seconds that overlap flashes at once.
    const since = this.frame + 1 - Math.ceil(secondMs / frameMs);
    const cells = Uint8Array.from(until, (frame) => Number(frame > 0 && frame > since));
    const area = largestField(points.grid, cells, distanceMm);
    const allowed = mostAreaMm2(distanceMm);
    if (area.areaMm2 > allowed) this.record(kind, area, allowed);
    const { cellWidthMm, cellHeightMm } = points.grid;
    const cellMm2 = cellWidthMm * cellHeightMm;
    const wholeMm2 = cells.reduce((sum, one) => sum + one, 0) * cellMm2;
    const mostOfPanelMm2 = broadcastAreaShare * cells.length * cellMm2;
    if (wholeMm2 > mostOfPanelMm2) this.record('broadcast', { ...area, areaMm2: wholeMm2 }, mostOfPanelMm2);
  }

  private record(kind: FlashKind, area: FieldArea, allowed: number): void {
    const toMs = (this.frame + 1) * this.of.frameMs;
    const fromMs = Math.max(0, toMs - secondMs);
    const last = this.found.findLastIndex((span) => span.kind === kind);
    const before = this.found[last];
    if (before && before.toMs >= fromMs)
      this.found[last] = {
        ...before,
        toMs,
        area: area.areaMm2 > before.area.areaMm2 ? area : before.area,
      };
    else this.found.push({ kind, fromMs, toMs, area, mostAreaMm2: allowed });
  }
}

function isSame(a: Uint8Array, b: Uint8Array): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}
