// The map of evenness over the artwork, and a ring round the dark place that was chosen from the list. Lies in the panel's box, so it turns with it.
// Not here: what it shows (evenness-view.ts), its legend, which stands in the stage's dock.
import { useEffect, useRef, useSyncExternalStore } from 'react';
import type { EvennessMap } from '../../light/index.ts';
import { useProject, useScreen } from '../workbench/context.ts';
import css from './evenness-layer.module.css';
import { evennessColour } from './evenness-scale.ts';
import { evennessView } from './evenness-view.ts';

function draw(canvas: HTMLCanvasElement, { widthPx, heightPx, light, mean }: EvennessMap): void {
  canvas.width = widthPx;
  canvas.height = heightPx;
  const image = new ImageData(widthPx, heightPx);
  for (let at = 0; at < light.length; at++) {
    const value = light[at]!;
    if (Number.isNaN(value)) continue;
    image.data.set(evennessColour(value / mean), 4 * at);
    image.data[4 * at + 3] = 255;
  }
  canvas.getContext('2d')!.putImageData(image, 0, 0);
}

function MapCanvas({
  map,
  panelMm,
}: {
  readonly map: EvennessMap;
  readonly panelMm: { readonly widthMm: number; readonly heightMm: number };
}) {
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => draw(canvas.current!, map), [map]);
  const { leftMm, topMm, widthPx, heightPx, mmPerPx } = map;
  const percent = (mm: number, ofMm: number): string => `${(100 * mm) / ofMm}%`;
  return (
    <canvas
      ref={canvas}
      className={css['map']}
      role="img"
      aria-label="Evenness: bright where there is more light than on average, dark where there is less"
      style={{
        left: percent(leftMm, panelMm.widthMm),
        top: percent(topMm, panelMm.heightMm),
        width: percent(widthPx * mmPerPx, panelMm.widthMm),
        height: percent(heightPx * mmPerPx, panelMm.heightMm),
      }}
    />
  );
}

export function EvennessLayer() {
  const { isShown, map, chosen } = useSyncExternalStore(evennessView.subscribe, evennessView.current);
  const stage = useScreen((state) => state.stage);
  const widthMm = useProject(({ panel }) => panel.widthMm);
  const heightMm = useProject(({ panel }) => panel.heightMm);
  if (stage !== 'panel') return null;
  return (
    <>
      {isShown && map && <MapCanvas map={map} panelMm={{ widthMm, heightMm }} />}
      {chosen && (
        <svg className={css['place']} viewBox={`0 0 ${widthMm} ${heightMm}`} aria-hidden="true">
          <circle className={css['halo']} cx={chosen.xMm} cy={chosen.yMm} r={14} />
          <circle cx={chosen.xMm} cy={chosen.yMm} r={14} />
        </svg>
      )}
    </>
  );
}
