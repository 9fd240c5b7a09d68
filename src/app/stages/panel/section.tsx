// A section through a run, to scale: pane, print, diffuser, the cones of light through the air gap, the strip in its channel, the backing; each with
// its measure beside it.
// Not here: how deep each lies (section-layers.ts).

import type { Panel } from '../../../project/index.ts';
import css from './panel.module.css';
import { depthMm, type Layer, type LayerId, sectionLayers, spreadLabels, usualMm } from './section-layers.ts';

const drawing = { widthPx: 150, heightPx: 184, labelsPx: 170, wholePx: 342 } as const;
const mostPxPerMm = 4;
const labelApartPx = 22;
const ledWidthMm = 5;

const middleOf = ({ topMm, thicknessMm }: Layer): number => topMm + thicknessMm / 2;

export function Section({
  panel,
  sheetMm,
  sheetName,
  pitchMm,
}: {
  readonly panel: Pick<Panel, 'glassMm' | 'airGapMm' | 'backing'>;
  readonly sheetMm: number;
  readonly sheetName: string;
  readonly pitchMm: number | undefined;
}) {
  const layers = sectionLayers(panel, sheetMm);
  const { airGapMm, backing } = panel;
  const pxPerMm = Math.min(mostPxPerMm, drawing.heightPx / depthMm(layers));
  const px = (mm: number): number => mm * pxPerMm;
  const layer = (id: LayerId): Layer | undefined => layers.find((one) => one.id === id);
  const strip = layer('strip')!;
  const board = layer('backing')!;
  const stripTop = px(strip.topMm);
  const gapTop = px(layer('gap')!.topMm);
  const pitchPx = px(pitchMm ?? 1000 / 60);
  // One in the middle, and as many on both sides as can be seen or shine in from beside.
  const beside = Math.ceil((drawing.widthPx / 2 + px(airGapMm)) / pitchPx);
  const leds = Array.from(
    { length: 2 * beside + 1 },
    (_, led) => drawing.widthPx / 2 + (led - beside) * pitchPx,
  );
  const labels = spreadLabels(
    layers.map((one) => px(middleOf(one))),
    labelApartPx,
    drawing.heightPx,
  );
  const channelPx = px(backing?.channelDepthMm ?? usualMm.channel);
  const slab = (id: LayerId, leastPx = 0) => {
    const one = layer(id);
    return (
      one && (
        <rect
          className={css[id]}
          y={px(one.topMm)}
          width={drawing.widthPx}
          height={Math.max(leastPx, px(one.thicknessMm))}
        />
      )
    );
  };
  return (
    <svg
      className={css['section']}
      width={drawing.wholePx}
      height={drawing.heightPx + 2}
      role="img"
      aria-label={`Section to scale: ${layers.map(({ label, thicknessMm }) => `${label} ${thicknessMm.toFixed(1)} mm`).join(', ')}; LED pitch ${(pitchMm ?? 1000 / 60).toFixed(3)} mm`}
    >
      <defs>
        <linearGradient id="section-light" x1="0" y1="1" x2="0" y2="0">
          <stop offset="0" className={css['light-full']} />
          <stop offset="1" className={css['light-none']} />
        </linearGradient>
        <pattern
          id="section-wood"
          width="6"
          height="6"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <path d="M0 0V6" className={css['wood']} />
        </pattern>
        <clipPath id="section-clip">
          <rect width={drawing.widthPx} height={drawing.heightPx + 2} />
        </clipPath>
      </defs>
      <g clipPath="url(#section-clip)">
        {leds.map((x) => (
          <path
            key={x}
            className={css['cone']}
            d={`M${x - px(2)} ${stripTop}L${x - px(airGapMm)} ${gapTop}H${x + px(airGapMm)}L${x + px(2)} ${stripTop}z`}
          />
        ))}
        {slab('backing')}
        <rect
          className={css['wood-fill']}
          y={px(board.topMm)}
          width={drawing.widthPx}
          height={px(board.thicknessMm)}
        />
        <rect className={css['channel']} y={px(board.topMm)} width={drawing.widthPx} height={channelPx} />
        <rect
          className={css['flex']}
          y={stripTop + px(usualMm.led)}
          width={drawing.widthPx}
          height={Math.max(1.5, px(usualMm.flex))}
        />
        {leds.map((x) => (
          <rect
            key={x}
            className={css['package']}
            x={x - px(ledWidthMm / 2)}
            y={stripTop}
            width={px(ledWidthMm)}
            height={px(usualMm.led)}
          />
        ))}
        {slab('glass')}
        {slab('diffuser')}
        {slab('print', 1.5)}
      </g>
      {layers.map(({ id, label, thicknessMm, isTold, ...place }, index) => {
        const at = labels[index]!;
        const middle = px(middleOf({ id, label, thicknessMm, isTold, ...place }));
        const shown = id === 'diffuser' ? `Diffuser, ${sheetName}` : label;
        return (
          <g key={id} data-strong={id === 'gap'}>
            <path
              className={css['leader']}
              d={`M${drawing.widthPx + 2} ${middle}L${drawing.labelsPx - 4} ${at}`}
            />
            <text className={css['layer']} x={drawing.labelsPx} y={at + 4}>
              {shown.length > 23 ? `${shown.slice(0, 22)}…` : shown}
            </text>
            <text className={css['measure']} x={drawing.wholePx} y={at + 4} textAnchor="end">
              {thicknessMm.toFixed(1)}
            </text>
          </g>
        );
      })}
    </svg>
  );
}
