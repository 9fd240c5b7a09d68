// What lies on the panel beside the strip: keep-outs, engraved channels, baffles, guides, the grid, measured distances, marked spots; and what comes and
// goes with the hand: lines that a drag clings to, the measuring tool, the box round runs. In millimetres, but for figures and marks that keep the screen's size.
import { distanceMm, gridColumnMm, gridLines, type PointMm } from '../../panel/index.ts';
import type { Baffles, KeepOut, Panel } from '../../project/index.ts';
import { useProject, useScreen } from '../workbench/context.ts';
import type { Selection } from '../workbench/selection.ts';
import css from './canvas.module.css';
import { type Sight, toScreen } from './geometry.ts';
import type { BoxMm } from './use-pointer.ts';

const pathOf = (points: readonly PointMm[]): string =>
  points.map(({ xMm, yMm }, i) => `${i === 0 ? 'M' : 'L'}${xMm} ${yMm}`).join('');

function KeepOutShape({ keepOut, isChosen }: { readonly keepOut: KeepOut; readonly isChosen: boolean }) {
  const { shape, id } = keepOut;
  const common = { className: css['keep-out'], 'data-keep-out': id, 'data-chosen': isChosen };
  return shape.kind === 'circle' ? (
    <circle {...common} cx={shape.centre.xMm} cy={shape.centre.yMm} r={shape.diameterMm / 2} />
  ) : (
    <rect {...common} x={shape.xMm} y={shape.yMm} width={shape.widthMm} height={shape.heightMm} />
  );
}

/** Each wall as thick as it is, seen from above. */
const BaffleWalls = ({ baffles: { thicknessMm, walls } }: { readonly baffles: Baffles }) =>
  walls.map(({ from, to }, index) => {
    const lengthMm = distanceMm(from, to);
    const turnDeg = (Math.atan2(to.yMm - from.yMm, to.xMm - from.xMm) * 180) / Math.PI;
    return (
      <rect
        // Walls have no id of their own.
        // biome-ignore lint/suspicious/noArrayIndexKey: see above
        key={index}
        className={css['baffle']}
        data-baffle={index}
        y={-thicknessMm / 2}
        width={lengthMm}
        height={thicknessMm}
        transform={`translate(${from.xMm} ${from.yMm}) rotate(${turnDeg})`}
      />
    );
  });

/** Lines of the panel's own grid; none where it has none. */
function useGridPath(): string {
  const project = useProject((one) => one);
  const { grid, widthMm, heightMm } = project.panel;
  const columnMm = gridColumnMm(project);
  if (!grid || columnMm === undefined) return '';
  return [
    ...gridLines(grid.origin.xMm, columnMm, widthMm).map((x) => `M${x} 0V${heightMm}`),
    ...gridLines(grid.origin.yMm, grid.rowMm, heightMm).map((y) => `M0 ${y}H${widthMm}`),
  ].join('');
}

/** Under the runs. */
export function PanelUnderlay({ selection }: { readonly selection: Selection }) {
  const panel = useProject((project) => project.panel);
  const channels = useProject((project) => project.channels);
  const gridPath = useGridPath();
  return (
    <g aria-hidden="true">
      <defs>
        <pattern
          id="keep-out-hatch"
          width="4"
          height="4"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <path d="M0 0V4" className={css['hatch']} />
        </pattern>
      </defs>
      {gridPath !== '' && <path className={css['panel-grid']} d={gridPath} />}
      {channels?.map(({ id, points }) => (
        <path key={id} className={css['channel']} d={pathOf(points) + (points.length > 2 ? 'z' : '')} />
      ))}
      {panel.baffles && <BaffleWalls baffles={panel.baffles} />}
      {panel.keepOuts?.map((keepOut) => (
        <KeepOutShape
          key={keepOut.id}
          keepOut={keepOut}
          isChosen={selection.kind === 'keep-out' && selection.id === keepOut.id}
        />
      ))}
    </g>
  );
}

/** Guides reach over the whole canvas. */
function Guides({
  panel,
  sight,
  reachPx,
  selection,
}: {
  readonly panel: Panel;
  readonly sight: Sight;
  readonly reachPx: { readonly width: number; readonly height: number };
  readonly selection: Selection;
}) {
  return panel.guides?.map(({ axis, atMm }, index) => {
    const at = toScreen(sight, { xMm: atMm, yMm: atMm });
    const d = axis === 'x' ? `M${at.x} 0V${reachPx.height}` : `M0 ${at.y}H${reachPx.width}`;
    return (
      // Guides have no id of their own.
      // biome-ignore lint/suspicious/noArrayIndexKey: see above
      <g key={index} data-guide={index} data-axis={axis} className={css['guide']}>
        <path className={css['guide-hit']} d={d} />
        <path data-chosen={selection.kind === 'guide' && selection.index === index} d={d} />
      </g>
    );
  });
}

function Figure({
  at,
  text,
  isCheck,
}: {
  readonly at: { x: number; y: number };
  readonly text: string;
  readonly isCheck?: boolean;
}) {
  const width = text.length * 7.2 + 14;
  return (
    <g className={css['figure']} data-check={isCheck} transform={`translate(${at.x} ${at.y})`}>
      <rect x={-width / 2} y={-11} width={width} height={22} rx={2} />
      <text y={4}>{text}</text>
    </g>
  );
}

const letters = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ';
/** A to B sets the scale, C to D and on check it. */
export const measureName = (index: number): string =>
  `${letters[(2 * index) % 26]} to ${letters[(2 * index + 1) % 26]}`;

function Measures({
  panel,
  sight,
  selection,
}: {
  readonly panel: Panel;
  readonly sight: Sight;
  readonly selection: Selection;
}) {
  return panel.measures?.map(({ from, to, measuredMm }, index) => {
    const ends = { from: toScreen(sight, from), to: toScreen(sight, to) };
    const middle = { x: (ends.from.x + ends.to.x) / 2, y: (ends.from.y + ends.to.y) / 2 };
    return (
      <g
        // Measures have no id of their own.
        // biome-ignore lint/suspicious/noArrayIndexKey: see above
        key={index}
        className={css['measure']}
        data-check={index > 0}
        data-chosen={selection.kind === 'measure' && selection.index === index}
      >
        <path d={`M${ends.from.x} ${ends.from.y}L${ends.to.x} ${ends.to.y}`} />
        {(['from', 'to'] as const).map((end, e) => (
          <g
            key={end}
            data-measure-end={`${index} ${end}`}
            transform={`translate(${ends[end].x} ${ends[end].y})`}
          >
            <circle className={css['measure-hit']} r={14} />
            <circle r={6} />
            <path d="M-10 0h20M0 -10v20" />
            <g transform="translate(13 -13)">
              <rect x={-8} y={-9} width={16} height={18} rx={2} />
              <text y={4.5}>{letters[(2 * index + e) % 26]}</text>
            </g>
          </g>
        ))}
        <Figure at={middle} text={`${measuredMm.toFixed(1)} mm`} isCheck={index > 0} />
      </g>
    );
  });
}

function MeasuredLine({ sight, measured }: { readonly sight: Sight; readonly measured: BoxMm }) {
  const { from, to } = measured;
  const [a, b] = [toScreen(sight, from), toScreen(sight, to)];
  const [dx, dy] = [Math.abs(to.xMm - from.xMm), Math.abs(to.yMm - from.yMm)];
  const text = `${distanceMm(from, to).toFixed(1)} mm · x ${dx.toFixed(1)} · y ${dy.toFixed(1)}`;
  return (
    <g className={css['measured']} data-measured={distanceMm(from, to).toFixed(2)}>
      <path d={`M${a.x} ${a.y}L${b.x} ${b.y}`} />
      <circle cx={a.x} cy={a.y} r={3.5} />
      <circle cx={b.x} cy={b.y} r={3.5} />
      <Figure at={{ x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 - 18 }} text={text} />
    </g>
  );
}

/** Over the runs, at the screen's own size. */
export function PanelOverlay({
  sight,
  reachPx,
  selection,
  box,
}: {
  readonly sight: Sight;
  readonly reachPx: { readonly width: number; readonly height: number };
  readonly selection: Selection;
  readonly box: BoxMm | undefined;
}) {
  const panel = useProject((project) => project.panel);
  const stage = useScreen((state) => state.stage);
  const snapLines = useScreen((state) => state.snapLines);
  const measured = useScreen((state) => state.measured);
  const spots = useScreen((state) => state.spots);
  const board = useProject((project) => project.board.place);
  const isLaying = stage === 'panel' || stage === 'runs';
  if (!isLaying) return null;
  const at = toScreen(sight, { xMm: snapLines.xMm ?? 0, yMm: snapLines.yMm ?? 0 });
  return (
    <g aria-hidden="true">
      <Guides panel={panel} sight={sight} reachPx={reachPx} selection={selection} />
      {snapLines.xMm !== undefined && <path className={css['snap']} d={`M${at.x} 0V${reachPx.height}`} />}
      {snapLines.yMm !== undefined && <path className={css['snap']} d={`M0 ${at.y}H${reachPx.width}`} />}
      {stage === 'panel' && <Measures panel={panel} sight={sight} selection={selection} />}
      {stage === 'runs' &&
        spots.map((spot, index) => {
          const { x, y } = toScreen(sight, spot);
          return (
            <path
              // Two may have the same place.
              // biome-ignore lint/suspicious/noArrayIndexKey: see above
              key={index}
              className={css['spot']}
              d={`M${x} ${y - 8}L${x + 8} ${y}L${x} ${y + 8}L${x - 8} ${y}z`}
            />
          );
        })}
      {stage === 'runs' && board && <BoardMark at={toScreen(sight, board)} />}
      {measured && <MeasuredLine sight={sight} measured={measured} />}
      {box && <BoxShape sight={sight} box={box} />}
    </g>
  );
}

/** Where the board sits behind the panel. */
const BoardMark = ({ at }: { readonly at: { readonly x: number; readonly y: number } }) => (
  <g className={css['board']} transform={`translate(${at.x} ${at.y})`}>
    <rect x={-22} y={-10} width={44} height={20} rx={2} />
    <text y={4}>Board</text>
  </g>
);

function BoxShape({ sight, box }: { readonly sight: Sight; readonly box: BoxMm }) {
  const [a, b] = [toScreen(sight, box.from), toScreen(sight, box.to)];
  return (
    <rect
      className={css['box']}
      x={Math.min(a.x, b.x)}
      y={Math.min(a.y, b.y)}
      width={Math.abs(a.x - b.x)}
      height={Math.abs(a.y - b.y)}
    />
  );
}
