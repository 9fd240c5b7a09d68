// An eye that gets used to the light it sees: the state that single pictures don't have. The sums are in src/light/eye.ts.
import {
  adaptedStops,
  channelCount,
  type LightScene,
  ledFlux,
  meanLevel,
  settledStops,
} from '../../light/index.ts';

/** After a longer pause the eye has settled. */
const longestSeconds = 5;

export class Eye {
  private stops: number | undefined;
  private atMs = 0;
  private flux = new Float32Array(0);

  /** How far it has opened now that it sees this frame; settled at once where nothing moves. */
  stopsAt(scene: LightScene, wireBytes: Uint8Array, roomLight: number, moves: boolean): number {
    const { sources } = scene;
    const length = sources.length * channelCount;
    if (this.flux.length !== length) this.flux = new Float32Array(length);
    const settled = settledStops(meanLevel(ledFlux(sources, wireBytes, this.flux)), roomLight);
    const nowMs = performance.now();
    const seconds = (nowMs - this.atMs) / 1000;
    this.atMs = nowMs;
    this.stops =
      moves && this.stops !== undefined && seconds < longestSeconds
        ? adaptedStops(this.stops, settled, seconds)
        : settled;
    return this.stops;
  }
}
