// The backing's drawing, to be looked at: the same channels that the exported file has, with dimensions from the top left corner.
import { useMemo, useRef } from 'react';
import { channelDepthMm, channels } from '../../../workshop/index.ts';
import { Segments } from '../../fields/index.ts';
import { useSize } from '../../frame/use-size.ts';
import { useCompiled, useProject, useScreen, useWorkbench } from '../../workbench/context.ts';
import css from './workshop.module.css';

const sides = [
  { id: 'front', label: 'Front' },
  { id: 'rear', label: 'Rear' },
] as const;

/** Room for dimensions and the measuring bar, px. */
const margin = { left: 60, right: 48, top: 48, bottom: 92 } as const;
const barMm = 100;
const labelEveryPx = 16;
const figureEveryPx = 22;
/** Figures close to each other stand on two levels. */
const levelPx = 13;

/** Values far enough apart to be written beside each other; the rest are left to the file. */
function legible(values: readonly number[], pxPerMm: number, leastPx: number): number[] {
  const kept: number[] = [];
  for (const value of [...new Set(values.map((one) => Math.round(one * 10) / 10))].sort((a, b) => a - b))
    if (kept.length === 0 || (value - kept.at(-1)!) * pxPerMm >= leastPx) kept.push(value);
  return kept;
}

export function Drawing() {
  const workbench = useWorkbench();
  const side = useScreen((state) => state.side);
  const { layout } = useCompiled();
  const { widthMm, heightMm, opening } = useProject((project) => project.panel);
  const place = useRef<HTMLDivElement>(null);
  const { width, height } = useSize(place);
  const all = useMemo(() => channels(layout), [layout]);
  const pxPerMm = Math.max(
    0.01,
    Math.min(
      (width - margin.left - margin.right) / widthMm,
      (height - margin.top - margin.bottom) / heightMm,
    ),
  );
  const isRear = side === 'rear';
  const left = (width - margin.left - margin.right - widthMm * pxPerMm) / 2 + margin.left;
  const x = (mm: number) => left + (isRear ? widthMm - mm : mm) * pxPerMm;
  const y = (mm: number) => margin.top + mm * pxPerMm;
  const points = (corners: (typeof all)[number]['corners']) =>
    corners.map(({ xMm, yMm }) => `${x(xMm)},${y(yMm)}`).join(' ');
  const rows = legible(
    all.filter(({ corners }) => isWide(corners)).map(({ middle }) => middle.yMm),
    pxPerMm,
    labelEveryPx,
  );
  const columns = legible(
    all.filter(({ corners }) => !isWide(corners)).map(({ middle }) => middle.xMm),
    pxPerMm,
    figureEveryPx,
  );
  const bottom = y(heightMm);
  return (
    <>
      <div className={css['bar']} data-bar="tools">
        <Segments label="Side" value={side} choices={sides} onChange={(id) => workbench.set({ side: id })} />
        <p>Dimensions from the {isRear ? 'top right' : 'top left'} corner, mm</p>
      </div>
      <div ref={place} className={css['sheet']}>
        <svg
          width={width}
          height={height}
          role="img"
          aria-label={`Backing, ${widthMm} by ${heightMm} mm, ${all.length} channels, seen from the ${side}`}
        >
          <defs>
            <pattern
              id="channel-hatch"
              width="6"
              height="6"
              patternUnits="userSpaceOnUse"
              patternTransform="rotate(45)"
            >
              <rect width="6" height="6" className={css['hatch-ground']} />
              <path d="M0 0V6" className={css['hatch']} />
            </pattern>
          </defs>
          <rect
            className={css['outline']}
            x={left}
            y={y(0)}
            width={widthMm * pxPerMm}
            height={heightMm * pxPerMm}
          />
          {opening && (
            <rect
              className={css['opening']}
              x={Math.min(x(opening.xMm), x(opening.xMm + opening.widthMm))}
              y={y(opening.yMm)}
              width={opening.widthMm * pxPerMm}
              height={opening.heightMm * pxPerMm}
            />
          )}
          {all.map(({ run, number, corners, island, middle }) => (
            <g key={run}>
              <polygon className={css['channel']} points={points(corners)} />
              {island && <polygon className={css['island']} points={points(island)} />}
              <rect
                className={css['number-ground']}
                x={x(middle.xMm) - 10}
                y={y(middle.yMm) - 8}
                width={20}
                height={16}
              />
              <text className={css['number']} x={x(middle.xMm)} y={y(middle.yMm) + 4}>
                {number}
              </text>
            </g>
          ))}
          <path
            className={css['dimension']}
            d={`M${left} ${y(0) - 22}H${left + widthMm * pxPerMm}m0 -6v12M${left} ${y(0) - 28}v12`}
          />
          <text
            className={css['figure']}
            x={left + (widthMm * pxPerMm) / 2}
            y={y(0) - 28}
            textAnchor="middle"
          >
            {widthMm} mm
          </text>
          <path
            className={css['dimension']}
            d={`M${left + widthMm * pxPerMm + 20} ${y(0)}V${bottom}m-6 0h12M${left + widthMm * pxPerMm + 14} ${y(0)}h12`}
          />
          <text
            className={css['figure']}
            transform={`translate(${left + widthMm * pxPerMm + 36} ${(y(0) + bottom) / 2}) rotate(-90)`}
            textAnchor="middle"
          >
            {heightMm} mm
          </text>
          {rows.map((mm) => (
            <g key={mm}>
              <path className={css['dimension']} d={`M${left - 12} ${y(mm)}h8`} />
              <text className={css['figure']} x={left - 16} y={y(mm) + 4} textAnchor="end">
                {mm}
              </text>
            </g>
          ))}
          {columns.map((mm, index) => (
            <g key={mm}>
              <path className={css['dimension']} d={`M${x(mm)} ${bottom + 4}v${8 + (index % 2) * levelPx}`} />
              <text
                className={css['figure']}
                x={x(mm)}
                y={bottom + 24 + (index % 2) * levelPx}
                textAnchor="middle"
              >
                {isRear ? Math.round((widthMm - mm) * 10) / 10 : mm}
              </text>
            </g>
          ))}
          <g transform={`translate(${left} ${bottom + 56})`}>
            {Array.from({ length: 10 }, (_, cell) => (
              <rect
                // Ten equal cells.
                // biome-ignore lint/suspicious/noArrayIndexKey: see above
                key={cell}
                className={css[cell % 2 === 0 ? 'bar-full' : 'bar-empty']}
                x={(cell * barMm * pxPerMm) / 10}
                width={(barMm * pxPerMm) / 10}
                height={7}
              />
            ))}
            <text className={css['caption']} x={barMm * pxPerMm + 12} y={8}>
              {barMm} mm at this size. Red cuts through; hatched channels are {channelDepthMm} mm deep.
            </text>
          </g>
        </svg>
      </div>
    </>
  );
}

/** Whether a channel lies rather across than down. */
function isWide(corners: readonly { readonly xMm: number; readonly yMm: number }[]): boolean {
  const extent = (key: 'xMm' | 'yMm') =>
    Math.max(...corners.map((corner) => corner[key])) - Math.min(...corners.map((corner) => corner[key]));
  return extent('xMm') >= extent('yMm');
}
