// The panel itself: its outline, its artwork (full or faint under the drawing), the visible opening, the grid. Mirrored when seen from the rear.
import type { ReactNode } from 'react';
import { openingOf } from '../../light/index.ts';
import { useProject } from '../workbench/context.ts';
import type { ViewId } from '../workbench/workbench.ts';
import css from './canvas.module.css';
import type { Sight } from './geometry.ts';
import { useArtwork } from './use-artwork.ts';

const percent = (part: number, whole: number): string => `${(100 * part) / whole}%`;

/** Distance of the grid's lines; a help for the eye, not a part of the document. */
const gridMm = 25;

function Grid({ widthMm, heightMm }: { readonly widthMm: number; readonly heightMm: number }) {
  const lines = (lengthMm: number) =>
    Array.from({ length: Math.ceil(lengthMm / gridMm) - 1 }, (_, i) => (i + 1) * gridMm);
  const path = [
    ...lines(widthMm).map((x) => `M${x} 0V${heightMm}`),
    ...lines(heightMm).map((y) => `M0 ${y}H${widthMm}`),
  ].join('');
  return (
    <svg
      className={css['grid']}
      viewBox={`0 0 ${widthMm} ${heightMm}`}
      preserveAspectRatio="none"
      aria-hidden="true"
    >
      <path d={path} />
    </svg>
  );
}

export function PanelBox({
  sight,
  view,
  children,
}: {
  readonly sight: Sight;
  readonly view: ViewId;
  readonly children?: ReactNode;
}) {
  const panel = useProject((project) => project.panel);
  const artwork = useArtwork();
  const { widthMm, heightMm } = panel;
  const opening = openingOf(panel);
  const { pxPerMm, xPx, yPx } = sight.view;
  return (
    <div
      className={css['panel']}
      data-panel
      data-mirrored={sight.side === 'rear'}
      style={{
        transform: `translate(${xPx}px, ${yPx}px)${sight.side === 'rear' ? ' scaleX(-1)' : ''}`,
        width: widthMm * pxPerMm,
        height: heightMm * pxPerMm,
      }}
    >
      {artwork && view !== 'lit' && (
        <img
          className={css['artwork']}
          src={artwork.url}
          alt={view === 'artwork' ? 'The artwork' : ''}
          draggable={false}
        />
      )}
      {children}
      {view === 'artwork' && !panel.grid && <Grid widthMm={widthMm} heightMm={heightMm} />}
      {view !== 'lit' && (
        <div
          className={css['opening']}
          style={{
            left: percent(opening.xMm, widthMm),
            top: percent(opening.yMm, heightMm),
            width: percent(opening.widthMm, widthMm),
            height: percent(opening.heightMm, heightMm),
          }}
        />
      )}
    </div>
  );
}
