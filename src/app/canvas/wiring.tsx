// Jumpers and injection points. Data is teal and dashed where it leaves the strip; +5 V runs red beside it, or is cut, which a ring says.
import { memo } from 'react';
import type { Jumper, Layout, PlacedRun } from '../../panel/index.ts';
import type { Feed } from '../../project/index.ts';
import type { Selection } from '../workbench/selection.ts';
import css from './canvas.module.css';
import { jumperCurve, type PointPx, pointAlong, type Sight, toScreen } from './geometry.ts';

const JumperLines = memo(function JumperLines({
  jumper,
  isChosen,
}: {
  readonly jumper: Jumper;
  readonly isChosen: boolean;
}) {
  const data = jumperCurve(jumper);
  return (
    <g data-chosen={isChosen}>
      <path className={css['jumper-hit']} d={data.path} />
      {isChosen && <path className={css['jumper-chosen']} d={data.path} />}
      {jumper.power === 'carried' && <path className={css['plus']} d={jumperCurve(jumper, 4).path} />}
      <path className={css['data']} d={data.path} />
    </g>
  );
});

export const jumperKey = ({ line, place }: { line: number; place: number }): string => `${line} ${place}`;

export function Jumpers({ layout, selection }: { readonly layout: Layout; readonly selection: Selection }) {
  return layout.lines.flatMap((line) =>
    line.jumpers.map((jumper) => (
      <g
        key={`${jumper.from.run.id} ${jumper.to.run.id}`}
        data-jumper={jumperKey({ line: line.index, place: jumper.place })}
      >
        <JumperLines
          jumper={jumper}
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

export const CutRings = ({ layout, sight }: { readonly layout: Layout; readonly sight: Sight }) =>
  layout.lines.flatMap((line) =>
    line.jumpers
      .filter(({ power }) => power === 'cut')
      .map((jumper) => (
        <CutRing
          key={`${jumper.from.run.id} ${jumper.to.run.id}`}
          at={toScreen(sight, jumperCurve(jumper).middle)}
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
