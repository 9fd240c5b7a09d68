// What lies over the drawing at the screen's own size: the runs' numbers, and the chosen run's handles. Never mirrored.
import type { PlacedRun } from '../../panel/index.ts';
import css from './canvas.module.css';
import { type PointPx, pitchOf, pointAlong, type Sight, toScreen } from './geometry.ts';

const tagPx = { height: 17, perDigit: 7.2, pad: 8 } as const;

export function NumberTags({
  runs,
  numbers,
  sight,
  chosen,
}: {
  readonly runs: readonly PlacedRun[];
  readonly numbers: ReadonlyMap<string, number>;
  readonly sight: Sight;
  readonly chosen: readonly string[];
}) {
  return runs.map((placed) => {
    const { id } = placed.run;
    const text = String(numbers.get(id) ?? '-');
    const width = text.length * tagPx.perDigit + tagPx.pad;
    // Beside the dot where data enters, away from the strip.
    const beyond = (0.5 * pitchOf(placed) * sight.view.pxPerMm + 8 + width / 2) / sight.view.pxPerMm;
    const pitches = beyond / pitchOf(placed);
    const at = toScreen(
      sight,
      placed.run.ring
        ? pointAlong(placed, 0, -placed.run.ring.radiusMm)
        : pointAlong(placed, placed.isTurned ? placed.run.ledCount - 1 + pitches : -pitches),
    );
    return (
      <g
        key={id}
        className={css['tag']}
        data-chosen={chosen.includes(id)}
        transform={`translate(${at.x} ${at.y})`}
        aria-hidden="true"
      >
        <rect x={-width / 2} y={-tagPx.height / 2} width={width} height={tagPx.height} rx={2} />
        <text y={4.2}>{text}</text>
      </g>
    );
  });
}

export type HandleId = 'length' | 'turn' | 'reverse' | 'cut';

/** Distance of the turning handle from the cut edge. */
const turnBeyondPx = 26;
const besidePx = 20;

/** Where the chosen run's handles are on the screen. `cut` stands at the gap that the pointer is nearest to. */
export function handlePlaces(
  placed: PlacedRun,
  sight: Sight,
  cutBefore: number | undefined,
): Readonly<Partial<Record<HandleId, PointPx>>> & { readonly turn: PointPx } {
  const pitch = pitchOf(placed);
  const perPx = 1 / sight.view.pxPerMm;
  const side = (placed.strip.boardWidthMm / 2) * sight.view.pxPerMm + besidePx - 8;
  const at = (pitches: number, besideMm = 0) => toScreen(sight, pointAlong(placed, pitches, besideMm));
  if (placed.run.ring) {
    const reach = placed.run.ring.radiusMm + (turnBeyondPx + side) * perPx;
    return { turn: at(0, reach - placed.run.ring.radiusMm), reverse: at(0.5, -side * perPx) };
  }
  return {
    length: at(placed.run.ledCount - 0.5),
    turn: at(placed.run.ledCount - 0.5 + (turnBeyondPx * perPx) / pitch),
    reverse: at(0, side * perPx),
    ...(cutBefore === undefined ? {} : { cut: at(cutBefore - 0.5, side * perPx) }),
  };
}

const handleShapes: Readonly<Record<HandleId, { readonly path: string; readonly title: string }>> = {
  length: { path: 'M-4 -4h8v8h-8z', title: 'Drag to lengthen or shorten' },
  turn: { path: 'M5 0a5 5 0 1 1 -1.8 -3.8M3.4 -7v3.4h-3.4', title: 'Drag to turn; Alt turns freely' },
  reverse: {
    path: 'M-5 -2.5h9M1.5 -5.2l2.8 2.7l-2.8 2.7M5 3h-9M-1.5 0.3l-2.8 2.7l2.8 2.7',
    title: 'Turn the arrow round',
  },
  cut: { path: 'M0 -5v10M-4 -5l3 3M4 -5l-3 3M-4 5l3 -3M4 5l-3 -3', title: 'Split the run here' },
};

export function Handles({
  placed,
  sight,
  cutBefore,
}: {
  readonly placed: PlacedRun;
  readonly sight: Sight;
  readonly cutBefore: number | undefined;
}) {
  const places = handlePlaces(placed, sight, cutBefore);
  const end = places.length ?? toScreen(sight, pointAlong(placed, 0));
  return (
    <g aria-hidden="true">
      <path className={css['handle-arm']} d={`M${end.x} ${end.y}L${places.turn.x} ${places.turn.y}`} />
      {Object.entries(places).map(([id, at]) => {
        const { path, title } = handleShapes[id as HandleId];
        return (
          <g key={id} className={css['handle']} data-handle={id} transform={`translate(${at.x} ${at.y})`}>
            <title>{title}</title>
            <circle r={id === 'length' ? 8 : 9} />
            <path d={path} />
          </g>
        );
      })}
    </g>
  );
}
