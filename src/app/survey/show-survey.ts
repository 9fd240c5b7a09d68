// A show surveyed from its first frame to its last: what it draws at most, and its weave, the picture in which time runs across and the LEDs
// run down in the order of the wire. Works in slices with a pause between, so that the page goes on drawing.
// Not here: volts; those of a whole show come from the command line's `power`.
import { wireChannels } from '../../catalogue/index.ts';
import { encodeSrgb } from '../../light/index.ts';
import type { Layout } from '../../panel/index.ts';
import { frameAmps, type PanelNetwork, totalAmps } from '../../power/index.ts';

export interface Weave {
  readonly columns: number;
  readonly rows: number;
  /** RGBA, row by row. */
  readonly pixels: Uint8ClampedArray<ArrayBuffer>;
}

export interface ShowSurvey {
  readonly peakAmps: number;
  readonly weave: Weave;
}

export interface SurveyTask {
  readonly layout: Layout;
  readonly panel: PanelNetwork;
  readonly frameCount: number;
  readonly wireBytes: (frame: number) => Uint8Array;
  /** Waits until there is time for the next slice; false: nobody wants the survey any more. */
  readonly pause: () => Promise<boolean>;
  /** Whether this slice has lasted long enough. */
  readonly isSliceOver: () => boolean;
}

/** More than a screen has across; a longer show has its columns picked evenly. */
const mostColumns = 1600;

const codes = Uint8Array.from({ length: 256 }, (_, byte) => Math.round(255 * encodeSrgb(byte / 255)));

/** For each byte on the wire, where in an RGBA pixel its colour stands. */
const pixelPlaces = (layout: Layout): number[] =>
  layout.lines.flatMap((line) =>
    line.runs.flatMap(({ run, strip }) =>
      Array.from({ length: run.ledCount }, () => wireChannels(strip.colourOrder)).flat(),
    ),
  );

/** Undefined where it was given up. */
export async function surveyShow(task: SurveyTask): Promise<ShowSurvey | undefined> {
  const { layout, panel, frameCount, wireBytes, pause, isSliceOver } = task;
  const rows = layout.wireLeds.length;
  const columns = Math.min(frameCount, mostColumns);
  const pixels = new Uint8ClampedArray(columns * rows * 4).fill(255);
  const places = pixelPlaces(layout);
  const ledAmps = new Float64Array(panel.leds.length);
  let peakAmps = 0;
  let column = 0;
  for (let frame = 0; frame < frameCount; frame++) {
    if (isSliceOver() && !(await pause())) return undefined;
    const bytes = wireBytes(frame);
    peakAmps = Math.max(peakAmps, totalAmps(frameAmps(panel, bytes, ledAmps)));
    if (frame < Math.floor((column * frameCount) / columns)) continue;
    for (let row = 0; row < rows; row++)
      for (let place = 0; place < 3; place++)
        pixels[(row * columns + column) * 4 + places[row * 3 + place]!] = codes[bytes[row * 3 + place]!]!;
    column++;
  }
  return { peakAmps, weave: { columns, rows, pixels } };
}
