// Jumpers and injection points. Data is teal and dashed where it leaves the strip; +5 V runs red beside it, or is cut, which a ring says.
import { memo } from 'react';
import {
  between,
  distanceMm,
  type Jumper,
  jumperClearanceMm,
  jumperRoute,
  type Layout,
  type PlacedRun,
  type PointMm,
  routeLengthMm,
} from '../../panel/index.ts';
import type { Feed, KeepOut } from '../../project/index.ts';
import type { Selection } from '../workbench/selection.ts';
import css from './canvas.module.css';
import { jumperCurve, type PointPx, pointAlong, type Sight, toScreen } from './geometry.ts';

/** Wires go through the backing at the ends of a run (8 to 10 mm: common practice, no source). */
const holeMm = 8;

/** The way behind the backing, moved aside by so much for a second line. */
function routePath(jumper: Jumper, keepOuts: readonly KeepOut[], asideMm = 0): string {
  const way = jumperRoute(jumper.from.doutEnd, jumper.to.dinEnd, keepOuts, jumperClearanceMm);
  return way
    .map((point, i) => {
      const [a, b] = [way[Math.max(0, i - 1)]!, way[Math.min(way.length - 1, i + 1)]!];
      const length = Math.hypot(b.xMm - a.xMm, b.yMm - a.yMm) || 1;
      const x = point.xMm - (asideMm * (b.yMm - a.yMm)) / length;
      const y = point.yMm + (asideMm * (b.xMm - a.xMm)) / length;
      return `${i === 0 ? 'M' : 'L'}${x} ${y}`;
    })
    .join('');
}

const JumperLines = memo(function JumperLines({
  jumper,
  isChosen,
  behind,
}: {
  readonly jumper: Jumper;
  readonly isChosen: boolean;
  /** Seen from the rear: the way the wires really go, round these keep-outs. */
  readonly behind: readonly KeepOut[] | undefined;
}) {
  const path = behind ? routePath(jumper, behind) : jumperCurve(jumper).path;
  const plus = behind ? routePath(jumper, behind, 2.5) : jumperCurve(jumper, 4).path;
  return (
    <g data-chosen={isChosen}>
      <path className={css['jumper-hit']} d={path} />
      {isChosen && <path className={css['jumper-chosen']} d={path} />}
      {jumper.power === 'carried' && <path className={css['plus']} d={plus} />}
      <path className={css['data']} d={path} />
      {behind &&
        [jumper.from.doutEnd, jumper.to.dinEnd].map(({ xMm, yMm }) => (
          <circle key={`${xMm} ${yMm}`} className={css['hole']} cx={xMm} cy={yMm} r={holeMm / 2} />
        ))}
    </g>
  );
});

export const jumperKey = ({ line, place }: { line: number; place: number }): string => `${line} ${place}`;

export function Jumpers({
  layout,
  selection,
  behind,
}: {
  readonly layout: Layout;
  readonly selection: Selection;
  readonly behind: readonly KeepOut[] | undefined;
}) {
  return layout.lines.flatMap((line) =>
    line.jumpers.map((jumper) => (
      <g
        key={`${jumper.from.run.id} ${jumper.to.run.id}`}
        data-jumper={jumperKey({ line: line.index, place: jumper.place })}
      >
        <JumperLines
          jumper={jumper}
          behind={behind}
          isChosen={
            selection.kind === 'jumper' && selection.line === line.index && selection.place === jumper.place
          }
        />
      </g>
    )),
  );
}

/** A red ring that holds a gap: here +5 V ends. */
const CutRing = ({ at }: { readonly at: PointPx }) => (
  <g className={css['cut-ring']} transform={`translate(${at.x} ${at.y})`}>
    <circle r={6} />
    <path d="M-2 -3v6M2 -3v6" />
  </g>
);

/** Half way along the wires. */
function middleOfJumper(jumper: Jumper, behind: readonly KeepOut[] | undefined): PointMm {
  if (!behind) return jumperCurve(jumper).middle;
  const way = jumperRoute(jumper.from.doutEnd, jumper.to.dinEnd, behind, jumperClearanceMm);
  let left = routeLengthMm(way) / 2;
  for (const [i, point] of way.slice(1).entries()) {
    const length = distanceMm(way[i]!, point);
    if (left <= length) return between(way[i]!, point, length === 0 ? 0 : left / length);
    left -= length;
  }
  return way.at(-1)!;
}

export const CutRings = ({
  layout,
  sight,
  behind,
}: {
  readonly layout: Layout;
  readonly sight: Sight;
  readonly behind: readonly KeepOut[] | undefined;
}) =>
  layout.lines.flatMap((line) =>
    line.jumpers
      .filter(({ power }) => power === 'cut')
      .map((jumper) => (
        <CutRing
          key={`${jumper.from.run.id} ${jumper.to.run.id}`}
          at={toScreen(sight, middleOfJumper(jumper, behind))}
        />
      )),
  );

/** Injection points: a diamond with a plus, its name beside it. */
export function Feeds({
  feeds,
  runs,
  sight,
  selection,
  areNamed,
}: {
  readonly feeds: readonly Feed[];
  readonly runs: readonly PlacedRun[];
  readonly sight: Sight;
  readonly selection: Selection;
  readonly areNamed: boolean;
}) {
  return feeds.map((feed, index) => {
    const placed = runs.find(({ run }) => run.id === feed.run);
    if (!placed) return null;
    const at = toScreen(sight, pointAlong(placed, feed.led));
    const isChosen = selection.kind === 'feed' && selection.index === index;
    return (
      <g
        // Feeds have no id of their own.
        // biome-ignore lint/suspicious/noArrayIndexKey: see above
        key={index}
        className={css['feed']}
        data-feed={index}
        data-chosen={isChosen}
        transform={`translate(${at.x} ${at.y})`}
      >
        <path className={css['feed-diamond']} d="M0 -7.5L7.5 0L0 7.5L-7.5 0z" />
        <path className={css['feed-plus']} d="M-3 0h6M0 -3v6" />
        {areNamed && (
          <g transform="translate(11 -9)">
            <rect className={css['feed-name']} width={24} height={17} rx={2} />
            <text className={css['feed-text']} x={12} y={12.5}>
              F{index + 1}
            </text>
          </g>
        )}
      </g>
    );
  });
}
