// A small picture of feeds that are only proposed: the panel, its runs coloured by zone, where feeds would enter, and where the supplies sit.
import { memo } from 'react';
import { keepOutOutline, outline, type PointMm } from '../../../panel/index.ts';
import { supplyPlace, zonesOf } from '../../../power/index.ts';
import { zoneColour } from '../../canvas/volt-colours.ts';
import dialogCss from '../runs/dialog.module.css';
import type { Outlook } from '../runs/lay-out-tasks.ts';
import css from './power-dialogs.module.css';

const corners = (points: readonly PointMm[]): string =>
  points.map(({ xMm, yMm }) => `${xMm.toFixed(2)},${yMm.toFixed(2)}`).join(' ');

/** Of the panel's longer side. */
const markShare = 0.014;
/** More names would cover each other; the table has them. */
const mostNames = 24;

export const FeedsSketch = memo(function FeedsSketch({
  outlook: { project, layout },
}: {
  readonly outlook: Pick<Outlook, 'project' | 'layout'>;
}) {
  const { widthMm, heightMm, keepOuts = [] } = project.panel;
  const size = Math.max(widthMm, heightMm) * markShare;
  const supplies = [undefined, ...(project.power.moreSupplies ?? []).map(({ id }) => id)];
  const isNamed = project.power.feeds.length <= mostNames;
  const places = supplies.map((id) => supplyPlace(project, id));
  // The supply may sit beside the panel.
  const left = Math.min(0, ...places.map(({ xMm }) => xMm - 2 * size));
  const top = Math.min(0, ...places.map(({ yMm }) => yMm - 2 * size));
  const right = Math.max(widthMm, ...places.map(({ xMm }) => xMm + 2 * size));
  const bottom = Math.max(heightMm, ...places.map(({ yMm }) => yMm + 2 * size));
  return (
    <svg
      className={`${dialogCss['sketch']} ${css['feeds-sketch']}`}
      viewBox={`${left} ${top} ${right - left} ${bottom - top}`}
      role="img"
      aria-label="Zones and feeds as they would be"
    >
      <rect className={css['board']} width={widthMm} height={heightMm} />
      {keepOuts.map((one) => (
        <polygon key={one.id} className={dialogCss['keep-out']} points={corners(keepOutOutline(one))} />
      ))}
      {zonesOf(project, layout).flatMap(({ runs }, zone) =>
        runs.map((placed) => (
          <polygon
            key={placed.run.id}
            className={css['zone-run']}
            style={{ stroke: zoneColour(zone) }}
            points={corners(outline(placed))}
          />
        )),
      )}
      {places.map(({ xMm, yMm }, index) => (
        <rect
          key={supplies[index] ?? ''}
          className={css['supply-place']}
          x={xMm - size}
          y={yMm - size}
          width={2 * size}
          height={2 * size}
        />
      ))}
      {project.power.feeds.map((feed, index) => {
        const at = layout.runs.find(({ run }) => run.id === feed.run)?.leds[feed.led];
        if (!at) return null;
        const { xMm: x, yMm: y } = at;
        return (
          // biome-ignore lint/suspicious/noArrayIndexKey: feeds are known by their place in the list
          <g key={index}>
            <polygon
              className={css['feed-place']}
              points={`${x - size},${y} ${x},${y - size} ${x + size},${y} ${x},${y + size}`}
            />
            {isNamed && (
              <text
                className={css['feed-name']}
                // Inwards, so that none is cut off at the edge.
                textAnchor={x > widthMm / 2 ? 'end' : 'start'}
                x={x > widthMm / 2 ? x - 1.4 * size : x + 1.4 * size}
                y={y + 0.8 * size}
                fontSize={2.2 * size}
              >
                F{index + 1}
              </text>
            )}
          </g>
        );
      })}
    </svg>
  );
});
