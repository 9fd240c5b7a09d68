// The pulse windows of the 800 kHz single-wire LED chips, and how far measured pulses stay inside them.
// Not here: the catalogue that the app shows; this list exists so that tests judge the wire independently.
// Sources stand in each row. "secondary source": a page that quotes the datasheet. "from memory": not re-read.
// Low times are compared but not judged: chips accept some microseconds (common practice, no source).
import type { CycleSpan, WirePulses } from './wire-decoder.ts';

interface NsWindow {
  readonly minNs: number;
  readonly maxNs: number;
}

export interface ChipWindows {
  readonly chip: string;
  /** Null: only a nominal value is known, so nothing can be judged. */
  readonly T0H: NsWindow | null;
  readonly T1H: NsWindow | null;
  readonly T0L: NsWindow | null;
  readonly T1L: NsWindow | null;
  /** Least low time that shows the frame. */
  readonly resetNs: number;
  readonly source: string;
}

const between = (minNs: number, maxNs: number): NsWindow => ({ minNs, maxNs });
const around = (nominalNs: number, toleranceNs: number): NsWindow =>
  between(nominalNs - toleranceNs, nominalNs + toleranceNs);

export const CHIP_WINDOWS: readonly ChipWindows[] = [
  {
    chip: 'WS2812B V1',
    T0H: around(400, 150),
    T1H: around(800, 150),
    T0L: around(850, 150),
    T1L: around(450, 150),
    resetNs: 50_000,
    source: 'datasheet WS2812B V1',
  },
  {
    chip: 'WS2812B-V5',
    T0H: between(220, 380),
    T1H: between(580, 1000),
    T0L: between(580, 1000),
    T1L: between(580, 1000),
    resetNs: 280_000,
    source: 'secondary source quoting the datasheet WS2812B-V5',
  },
  {
    chip: 'WS2812B-2020',
    T0H: between(220, 380),
    T1H: between(580, 1000),
    T0L: between(580, 1000),
    T1L: between(220, 420),
    resetNs: 280_000,
    source: 'pulses from memory, reset from a vendor page',
  },
  {
    chip: 'WS2813',
    T0H: between(300, 450),
    T1H: between(750, 1000),
    T0L: between(300, 100_000),
    T1L: between(300, 100_000),
    resetNs: 300_000,
    source: 'manual WS2813 (a copy), pages 5-6',
  },
  {
    chip: 'WS2813-Mini',
    T0H: between(220, 380),
    T1H: between(580, 1600),
    T0L: between(580, 1600),
    T1L: between(220, 420),
    resetNs: 280_000,
    source: 'datasheet WS2813-Mini (a copy), pages 3-4',
  },
  {
    chip: 'SK6812 and SK6812 RGBW',
    T0H: around(300, 150),
    T1H: around(600, 150),
    T0L: around(900, 150),
    T1L: around(600, 150),
    resetNs: 80_000,
    source: 'nominal values and reset from a secondary source, tolerances from memory',
  },
  {
    // Nominal 250 / 600 / 1000 / 650 ns: the slow mode's values halved; no source states a tolerance.
    chip: 'WS2811, fast mode',
    T0H: null,
    T1H: null,
    T0L: null,
    T1L: null,
    resetNs: 280_000,
    source: 'no tolerance known; reset of newer chips from memory (older: 50 us, secondary source)',
  },
  {
    chip: 'WS2815',
    T0H: between(220, 380),
    T1H: between(580, 1600),
    T0L: between(580, 1600),
    T1L: between(220, 420),
    resetNs: 300_000,
    source: 'pulses from memory, reset from the datasheet WS2815',
  },
];

/** Nanoseconds to the nearest edge of the window: 0 or above is inside, null is not known or not seen. */
export interface ChipMargins {
  readonly chip: string;
  readonly T0H: number | null;
  readonly T1H: number | null;
  readonly reset: number | null;
  /** For comparison only: outside the printed window is common and works. */
  readonly lowTimes: { readonly T0L: number | null; readonly T1L: number | null };
}

function windowMarginNs(span: CycleSpan | null, window: NsWindow | null, cycleNs: number): number | null {
  if (span === null || window === null) return null;
  return Math.min(span.minCycles * cycleNs - window.minNs, window.maxNs - span.maxCycles * cycleNs);
}

export function marginsNs(pulses: WirePulses, clockHz: number): ChipMargins[] {
  const cycleNs = 1e9 / clockHz;
  const latchCycles = pulses.shortestLatchCycles;
  return CHIP_WINDOWS.map((chip) => ({
    chip: chip.chip,
    T0H: windowMarginNs(pulses.T0H, chip.T0H, cycleNs),
    T1H: windowMarginNs(pulses.T1H, chip.T1H, cycleNs),
    reset: latchCycles === null ? null : latchCycles * cycleNs - chip.resetNs,
    lowTimes: {
      T0L: windowMarginNs(pulses.T0L, chip.T0L, cycleNs),
      T1L: windowMarginNs(pulses.T1L, chip.T1L, cycleNs),
    },
  }));
}

/** The chips whose high times or reset time the pulses miss, in words for an assertion's message. */
export function chipsMissed(margins: readonly ChipMargins[]): string[] {
  const missed: string[] = [];
  for (const margin of margins) {
    for (const name of ['T0H', 'T1H', 'reset'] as const) {
      const ns = margin[name];
      if (ns !== null && ns < 0) missed.push(`${margin.chip}: ${name} outside by ${formatNs(-ns)} ns`);
    }
  }
  return missed;
}

const formatNs = (ns: number): string => String(Math.round(ns * 10) / 10);

function formatMargin(ns: number | null): string {
  if (ns === null) return '-';
  return ns > 0 ? `+${formatNs(ns)}` : formatNs(ns);
}

const COLUMNS: readonly { readonly title: string; readonly cell: (margin: ChipMargins) => string }[] = [
  { title: 'chip (margins in ns)', cell: (margin) => margin.chip },
  { title: 'T0H', cell: (margin) => formatMargin(margin.T0H) },
  { title: 'T1H', cell: (margin) => formatMargin(margin.T1H) },
  { title: 'reset', cell: (margin) => formatMargin(margin.reset) },
  { title: '(T0L)', cell: (margin) => formatMargin(margin.lowTimes.T0L) },
  { title: '(T1L)', cell: (margin) => formatMargin(margin.lowTimes.T1L) },
];

/** A plain-text table; the low times stand in brackets, since they are compared and not judged. */
export function formatMargins(margins: readonly ChipMargins[]): string {
  const rows = [COLUMNS.map((column) => column.title), ...margins.map((m) => COLUMNS.map((c) => c.cell(m)))];
  const widths = COLUMNS.map((_, index) => Math.max(...rows.map((row) => (row[index] ?? '').length)));
  const pad = (text: string, index: number) =>
    index === 0 ? text.padEnd(widths[0] ?? 0) : text.padStart(widths[index] ?? 0);
  return rows.map((row) => row.map(pad).join('  ').trimEnd()).join('\n');
}
