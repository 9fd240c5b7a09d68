// A section through a run, to scale: backing with its channel, strip and LEDs, the cones of light through the air gap, the diffuser, the print.
import css from './panel.module.css';

/** Common practice, no source: what is drawn where the document doesn't say it. */
const printMm = 0.3;
const backingMm = 12;
const channelMm = 3;
const stripMm = 0.3;
const ledMm = 1.6;

const drawing = { widthPx: 232, heightPx: 150 } as const;
const mostPxPerMm = 4;

interface Layer {
  readonly label: string;
  readonly mm: number;
  readonly isStrong?: boolean;
}

export function Section({
  airGapMm,
  sheetMm,
  pitchMm,
}: {
  readonly airGapMm: number;
  readonly sheetMm: number;
  readonly pitchMm: number | undefined;
}) {
  const totalMm = printMm + sheetMm + airGapMm + ledMm + stripMm - channelMm + backingMm;
  const pxPerMm = Math.min(mostPxPerMm, drawing.heightPx / totalMm);
  const px = (mm: number) => mm * pxPerMm;
  const sheetTop = px(printMm);
  const gapTop = sheetTop + px(sheetMm);
  const ledTop = gapTop + px(airGapMm);
  const stripTop = ledTop + px(ledMm);
  const backingTop = stripTop + px(stripMm) - px(channelMm);
  const bottom = backingTop + px(backingMm);
  const pitchPx = px(pitchMm ?? 1000 / 60);
  const leds = Array.from(
    { length: Math.max(1, Math.floor(drawing.widthPx / pitchPx)) },
    (_, led) => (led + 0.5) * pitchPx,
  );
  const layers: readonly Layer[] = [
    { label: 'Artwork print', mm: printMm },
    { label: 'Diffuser', mm: sheetMm },
    { label: 'Air gap', mm: airGapMm, isStrong: true },
    { label: 'Channel', mm: channelMm },
    { label: 'Backing', mm: backingMm },
  ];
  return (
    <div className={css['section']}>
      <svg
        width={drawing.widthPx}
        height={drawing.heightPx}
        viewBox={`0 0 ${drawing.widthPx} ${Math.max(bottom, drawing.heightPx)}`}
        role="img"
        aria-label={`Section: air gap ${airGapMm} mm, LED pitch ${(pitchMm ?? 1000 / 60).toFixed(1)} mm`}
      >
        <title>Section through a run</title>
        <defs>
          <linearGradient id="section-light" x1="0" y1="1" x2="0" y2="0">
            <stop offset="0" className={css['light-full']} />
            <stop offset="1" className={css['light-none']} />
          </linearGradient>
        </defs>
        {leds.map((x) => {
          const reach = px(airGapMm);
          return (
            <path
              key={x}
              className={css['cone']}
              d={`M${x - px(2)} ${ledTop}L${x - reach} ${gapTop}H${x + reach}L${x + px(2)} ${ledTop}z`}
            />
          );
        })}
        <rect className={css['print']} width={drawing.widthPx} height={Math.max(1.5, sheetTop)} />
        <rect className={css['sheet']} y={sheetTop} width={drawing.widthPx} height={px(sheetMm)} />
        <rect className={css['backing']} y={backingTop} width={drawing.widthPx} height={px(backingMm)} />
        <rect className={css['channel']} y={backingTop} width={drawing.widthPx} height={px(channelMm)} />
        <rect
          className={css['flex']}
          y={stripTop}
          width={drawing.widthPx}
          height={Math.max(1.5, px(stripMm))}
        />
        {leds.map((x) => (
          <rect
            key={x}
            className={css['package']}
            x={x - px(2.5)}
            y={ledTop}
            width={px(5)}
            height={px(ledMm)}
          />
        ))}
      </svg>
      <dl>
        {layers.map(({ label, mm, isStrong }) => (
          <div key={label} data-strong={isStrong}>
            <dt>{label}</dt>
            <dd>
              {mm.toFixed(1)} <span>mm</span>
            </dd>
          </div>
        ))}
        {pitchMm !== undefined && (
          <div>
            <dt>LED pitch</dt>
            <dd>
              {pitchMm.toFixed(3)} <span>mm</span>
            </dd>
          </div>
        )}
      </dl>
    </div>
  );
}
