// What lies over the glass while cells are painted: the grid, a dab of colour in each cell, the frame before as a faint ground, each LED as a dot, and
// the cells under the pointer and the cell cursor with the LEDs that they light. The glass below shows the light itself.
// Not here: what presses and keys paint (drags-paint.ts).
import { memo, useEffect, useLayoutEffect, useMemo, useRef, useSyncExternalStore } from 'react';
import { cellAtPlace, cellBoxOf, cellsOf, type MappedLed } from '../../lampshow/index.ts';
import type { BoundsMm } from '../../panel/index.ts';
import type { Cell, GridSize, PaintedEffect } from '../../project/index.ts';
import { useCommander, useCompiled, useProject, useScreen } from '../workbench/context.ts';
import { isPainting, type PaintedPlace, paintedPlaceOf } from '../workbench/painting.ts';
import { ledsOfArea } from './drags-paint.ts';
import { type Sight, toScreen } from './geometry.ts';
import css from './paint-marks.module.css';

interface Lattice {
  readonly box: BoundsMm;
  readonly grid: GridSize;
  readonly leds: readonly MappedLed[];
  /** The cell of each LED, row by row. */
  readonly cellOfLed: readonly number[];
}

/** Where the cells lie and which LED takes which, as the show compiler has it. */
function useLattice(painted: PaintedPlace): Lattice | undefined {
  const { layout } = useCompiled();
  const area = useProject(({ areas }) => areas.find(({ id }) => id === painted.clip.area));
  const { columns, rows } = painted.effect;
  return useMemo(() => {
    if (!area) return undefined;
    const leds = ledsOfArea(layout, area);
    const grid = { columns, rows };
    const box = cellBoxOf(leds, grid);
    return box && { box, grid, leds, cellOfLed: cellsOf(leds, grid) };
  }, [layout, area, columns, rows]);
}

interface BoxPx {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** Seen from the rear, what is right on the panel is left on the screen. */
function boxOnScreen(sight: Sight, { leftMm, topMm, rightMm, bottomMm }: BoundsMm): BoxPx {
  const a = toScreen(sight, { xMm: leftMm, yMm: topMm });
  const b = toScreen(sight, { xMm: rightMm, yMm: bottomMm });
  return { left: Math.min(a.x, b.x), top: a.y, width: Math.abs(b.x - a.x), height: b.y - a.y };
}

const cellPx = (box: BoxPx, { columns, rows }: GridSize): { width: number; height: number } => ({
  width: box.width / columns,
  height: box.height / rows,
});

const columnOnScreen = ({ side }: Sight, { columns }: GridSize, column: number): number =>
  side === 'rear' ? columns - 1 - column : column;

/** A dab fills this share of its cell. */
const dabShare = 0.46;
const ghostStrength = 0.3;
const lineStrength = 0.6;
const black = '#000000';
/** Below this a line between cells would hide them. */
const leastLinedPx = 5;
const ledPx = 1.6;

function drawCells(
  context: CanvasRenderingContext2D,
  sight: Sight,
  lattice: Lattice,
  effect: PaintedEffect,
  cells: string,
  ghost: string | undefined,
  colours: { readonly line: string; readonly led: string },
): void {
  const { grid } = lattice;
  const box = boxOnScreen(sight, lattice.box);
  const { width, height } = cellPx(box, grid);
  const corner = (index: number) => ({
    x: box.left + columnOnScreen(sight, grid, index % grid.columns) * width,
    y: box.top + Math.floor(index / grid.columns) * height,
  });
  const colourOf = (digit: string): string => effect.palette[Number.parseInt(digit, 16)]!;
  if (ghost !== undefined) {
    context.globalAlpha = ghostStrength;
    for (let index = 0; index < cells.length; index++) {
      if (ghost[index] === cells[index]) continue;
      const { x, y } = corner(index);
      context.fillStyle = colourOf(ghost[index]!);
      context.fillRect(x, y, width, height);
    }
    context.globalAlpha = 1;
  }
  const isLined = Math.min(width, height) >= leastLinedPx;
  context.strokeStyle = colours.line;
  context.globalAlpha = lineStrength;
  context.lineWidth = 1;
  context.beginPath();
  for (let column = 0; column <= grid.columns; column++) {
    if (!isLined && column > 0 && column < grid.columns) continue;
    const x = Math.round(box.left + column * width) + 0.5;
    context.moveTo(x, box.top);
    context.lineTo(x, box.top + box.height);
  }
  for (let row = 0; row <= grid.rows; row++) {
    if (!isLined && row > 0 && row < grid.rows) continue;
    const y = Math.round(box.top + row * height) + 0.5;
    context.moveTo(box.left, y);
    context.lineTo(box.left + box.width, y);
  }
  context.stroke();
  context.globalAlpha = 1;
  const share = isLined ? dabShare : 0.8;
  const [dabWidth, dabHeight] = [width * share, height * share];
  const dabs: (readonly [left: number, top: number])[] = [];
  for (let index = 0; index < cells.length; index++) {
    const colour = colourOf(cells[index]!);
    // What is dark stays clear, so that the print is seen.
    if (colour === black) continue;
    const { x, y } = corner(index);
    const dab = [x + (width - dabWidth) / 2, y + (height - dabHeight) / 2] as const;
    context.fillStyle = colour;
    context.fillRect(...dab, dabWidth, dabHeight);
    dabs.push(dab);
  }
  if (isLined) for (const dab of dabs) context.strokeRect(...dab, dabWidth, dabHeight);
  context.fillStyle = colours.led;
  for (const led of lattice.leds) {
    const { x, y } = toScreen(sight, led);
    context.fillRect(x - ledPx, y - ledPx, 2 * ledPx, 2 * ledPx);
  }
}

const CellPicture = memo(function CellPicture({
  sight,
  lattice,
  effect,
  cells,
  ghost,
  sizePx,
}: {
  readonly sight: Sight;
  readonly lattice: Lattice;
  readonly effect: PaintedEffect;
  readonly cells: string;
  readonly ghost: string | undefined;
  readonly sizePx: { readonly width: number; readonly height: number };
}) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const mood = useScreen(({ roomLight }) => roomLight >= 0.5);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the room's mood changes the colours that are read
  useLayoutEffect(() => {
    const element = canvas.current!;
    const perPx = globalThis.devicePixelRatio;
    element.width = Math.max(1, Math.round(sizePx.width * perPx));
    element.height = Math.max(1, Math.round(sizePx.height * perPx));
    const context = element.getContext('2d')!;
    context.scale(perPx, perPx);
    const style = getComputedStyle(element);
    const colours = {
      line: style.getPropertyValue('--cell-line'),
      led: style.getPropertyValue('--cell-led'),
    };
    drawCells(context, sight, lattice, effect, cells, ghost, colours);
  }, [sight, lattice, effect.palette, cells, ghost, sizePx.width, sizePx.height, mood]);
  return <canvas ref={canvas} className={css['cells']} aria-hidden="true" />;
});

/** The outline of a cell, and rings round the LEDs that take it. */
function CellMark({
  sight,
  lattice,
  cell: { column, row },
  kind,
}: {
  readonly sight: Sight;
  readonly lattice: Lattice;
  readonly cell: Cell;
  readonly kind: 'pointed' | 'cursor' | 'start';
}) {
  const { grid } = lattice;
  const box = boxOnScreen(sight, lattice.box);
  const { width, height } = cellPx(box, grid);
  const at = row * grid.columns + column;
  return (
    <g className={css['mark']} data-kind={kind} data-cell={`${column} ${row}`}>
      <rect
        x={box.left + columnOnScreen(sight, grid, column) * width}
        y={box.top + row * height}
        width={width}
        height={height}
      />
      {lattice.leds.map((led, index) => {
        if (lattice.cellOfLed[index] !== at) return null;
        const { x, y } = toScreen(sight, led);
        // An LED has no name here but its place in the area.
        // biome-ignore lint/suspicious/noArrayIndexKey: see above
        return <circle key={index} cx={x} cy={y} r={5} />;
      })}
    </g>
  );
}

function PointedCell({ sight, lattice }: { readonly sight: Sight; readonly lattice: Lattice }) {
  const { viewport } = useCommander();
  const pointer = useSyncExternalStore(viewport.pointer.subscribe, viewport.pointer.current);
  const { grid, box } = lattice;
  if (!pointer) return null;
  const cell = cellAtPlace(box, grid, pointer);
  const isInside = cell.column >= 0 && cell.column < grid.columns && cell.row >= 0 && cell.row < grid.rows;
  return isInside ? <CellMark sight={sight} lattice={lattice} cell={cell} kind="pointed" /> : null;
}

const ledWords = (count: number): string =>
  count === 0 ? 'no LED' : count === 1 ? '1 LED' : `${count} LEDs`;

function Marks({
  painted,
  sight,
  sizePx,
}: {
  readonly painted: PaintedPlace;
  readonly sight: Sight;
  readonly sizePx: { readonly width: number; readonly height: number };
}) {
  const lattice = useLattice(painted);
  const hasGhost = useScreen(({ painting }) => painting.hasGhost);
  const lineFrom = useScreen(({ painting }) => painting.lineFrom);
  const root = useRef<HTMLDivElement>(null);
  // Arrows and Space belong to the cells now, wherever the focus was.
  useEffect(() => root.current?.focus({ preventScroll: true }), []);
  if (!lattice) return null;
  const { effect, frame, cursor } = painted;
  const { cells } = effect.frames[frame]!;
  const before = frame > 0 && hasGhost ? effect.frames[frame - 1]!.cells : undefined;
  const at = cursor.row * effect.columns + cursor.column;
  const ledCount = lattice.cellOfLed.filter((cell) => cell === at).length;
  const colour = Number.parseInt(cells.charAt(at), 16);
  return (
    <div
      ref={root}
      className={css['root']}
      role="application"
      aria-label={`Cells of frame ${frame + 1}, ${effect.columns} by ${effect.rows}`}
      // biome-ignore lint/a11y/noNoninteractiveTabindex: the keys of its role act here
      tabIndex={0}
      data-paint-cells
    >
      <CellPicture
        sight={sight}
        lattice={lattice}
        effect={effect}
        cells={cells}
        ghost={before}
        sizePx={sizePx}
      />
      <svg className={css['cells']} aria-hidden="true">
        <PointedCell sight={sight} lattice={lattice} />
        {lineFrom && <CellMark sight={sight} lattice={lattice} cell={lineFrom} kind="start" />}
        <CellMark sight={sight} lattice={lattice} cell={cursor} kind="cursor" />
      </svg>
      <p className="visually-hidden" aria-live="polite">
        Column {cursor.column + 1}, row {cursor.row + 1}: colour {colour + 1}, {ledWords(ledCount)}
      </p>
    </div>
  );
}

export function PaintMarks({
  sight,
  width,
  height,
}: {
  readonly sight: Sight;
  readonly width: number;
  readonly height: number;
}) {
  const painting = useScreen((state) => state.painting);
  const selection = useScreen((state) => state.selection);
  const history = useScreen((state) => state.history);
  const isOn = useScreen(isPainting);
  const painted = isOn ? paintedPlaceOf({ painting, selection, history }) : undefined;
  const sizePx = useMemo(() => ({ width, height }), [width, height]);
  return painted ? <Marks painted={painted} sight={sight} sizePx={sizePx} /> : null;
}
