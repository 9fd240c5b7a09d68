// Lamploom's mark: three strips woven over and under three others, with a lamp on every crossing that lies on top. Decoration only.
const warpMm = [7, 14, 21] as const;
const lampColours = ['var(--brass)', 'var(--data)', 'var(--feed)'] as const;
/** Half the gap that a strip leaves where it dives under another. */
const gap = 3.4;
const first = 2.5;
const last = 25.5;

/** A strip along one axis, broken where it passes under; `under` are the places of those crossings. */
function pieces(under: readonly number[]): readonly (readonly [number, number])[] {
  const ends = [first, ...under.flatMap((at) => [at - gap, at + gap]), last];
  return Array.from({ length: ends.length / 2 }, (_, i) => [ends[2 * i]!, ends[2 * i + 1]!] as const).filter(
    ([from, to]) => to > from,
  );
}

const weft = warpMm.flatMap((y, row) =>
  pieces(warpMm.filter((_, column) => (row + column) % 2 === 1)).map(([from, to]) => `M${from} ${y}H${to}`),
);
const warp = warpMm.flatMap((x, column) =>
  pieces(warpMm.filter((_, row) => (row + column) % 2 === 0)).map(([from, to]) => `M${x} ${from}V${to}`),
);

export const Mark = ({ size = 28 }: { readonly size?: number }) => (
  <svg width={size} height={size} viewBox="0 0 28 28" aria-hidden="true" focusable="false">
    <path
      d={[...weft, ...warp].join('')}
      fill="none"
      stroke="currentColor"
      strokeWidth={2.4}
      strokeLinecap="round"
    />
    {warpMm.flatMap((y, row) =>
      warpMm.map((x, column) => (
        <circle
          key={`${x} ${y}`}
          cx={x}
          cy={y}
          r={2.1}
          fill={lampColours[(row * 2 + column) % lampColours.length]}
        />
      )),
    )}
  </svg>
);
