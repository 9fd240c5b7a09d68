// How even each area is now, what would make one even enough, and the darkest places, with the map of them on the canvas.
import { useMemo, useState, useSyncExternalStore } from 'react';
import { evennessRange, evennessShades } from '../../canvas/evenness-scale.ts';
import { evennessView } from '../../canvas/evenness-view.ts';
import { CheckField } from '../../fields/index.ts';
import { adviceFor, adviceWords, rowsOf } from './area-advice.ts';
import { curveOf, type Evenness } from './area-evenness.ts';
import { curveColours } from './evenness-curves.tsx';
import css from './panel.module.css';

function Bars({
  evenness,
  aim,
  chosen,
  onChoose,
}: {
  readonly evenness: Evenness;
  readonly aim: number;
  readonly chosen: number;
  readonly onChoose: (area: string) => void;
}) {
  return (
    <table className={css['areas']}>
      <caption>Least ÷ mean of the light; the line is the aim, {aim.toFixed(2)}</caption>
      <tbody>
        {evenness.areas.map(({ area }, index) => {
          const now = evenness.now[index]!.minByMean;
          return (
            <tr key={area.id} data-chosen={index === chosen}>
              <th scope="row">
                <button type="button" aria-pressed={index === chosen} onClick={() => onChoose(area.id)}>
                  <i
                    className={css['key']}
                    style={{ background: curveColours[index] ?? 'transparent' }}
                    aria-hidden="true"
                  />
                  {area.name ?? area.id}
                </button>
              </th>
              <td className={css['bar']}>
                <i data-even={now >= aim} style={{ width: `${100 * Math.min(1, now)}%` }} />
                <b style={{ left: `${100 * aim}%` }} />
              </td>
              <td>{now.toFixed(2)}</td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}

/** What an area's rows come to, and what would help. */
function AdviceText({
  evenness,
  aim,
  index,
}: {
  readonly evenness: Evenness;
  readonly aim: number;
  readonly index: number;
}) {
  const { areas, now, layout, airGapMm } = evenness;
  const hasCurve = evenness.atGaps.length > 0;
  const shown = areas[index]!;
  const advice = useMemo(() => {
    const rows = rowsOf(layout, shown.leds);
    return rows && { rows, ...adviceFor(aim, rows, airGapMm) };
  }, [layout, shown, aim, airGapMm]);
  if (!advice) return null;
  const name = shown.area.name ?? shown.area.id;
  const { alongMm, acrossMm } = advice.rows;
  const grid = `${alongMm.toFixed(1)} mm pitch${acrossMm === undefined ? ', single rows' : `, rows ${acrossMm.toFixed(1)} mm apart`}`;
  return (
    <p className={css['advice']}>
      <b>{name}</b>
      <span>
        {' '}
        {grid}: ripple {Math.round(100 * advice.now.michelson)}
        {'\u00a0'}%.{' '}
      </span>
      {now[index]!.minByMean >= aim
        ? `Reaches ${aim.toFixed(2)}.`
        : hasCurve && adviceWords(aim, advice, airGapMm, curveOf(evenness, index))}
    </p>
  );
}

const legend = { widthPx: 180, heightPx: 8 } as const;

/** Shades of the map, from the darkest that is told apart to the brightest. */
const Legend = () => (
  <p className={css['legend']}>
    <span>{evennessRange.least.toFixed(1)}</span>
    <svg width={legend.widthPx} height={legend.heightPx} aria-hidden="true">
      {evennessShades(36).map((colour, index) => (
        <rect
          key={colour}
          x={index * (legend.widthPx / 36)}
          width={legend.widthPx / 36}
          height={legend.heightPx}
          fill={colour}
        />
      ))}
    </svg>
    <span>{evennessRange.most.toFixed(1)}</span>
    <span className={css['soft']}>× mean</span>
  </p>
);

export function DarkPlaces() {
  const view = useSyncExternalStore(evennessView.subscribe, evennessView.current);
  const { isShown, worst, chosen } = view;
  return (
    <div className={css['dark']}>
      <ul>
        {worst.map((place) => (
          <li key={`${place.xMm} ${place.yMm}`}>
            <button
              type="button"
              aria-pressed={place === chosen}
              onClick={() => evennessView.set({ ...view, chosen: place === chosen ? undefined : place })}
            >
              <span>
                x {place.xMm.toFixed(0)}, y {place.yMm.toFixed(0)} mm
              </span>
              <span>{place.byMean.toFixed(2)}</span>
            </button>
          </li>
        ))}
      </ul>
      <CheckField
        label="Show evenness on the panel"
        value={isShown}
        onChange={(shown) => evennessView.set({ ...view, isShown: shown })}
      />
      {isShown && <Legend />}
      {worst.length === 0 && <p className={css['soft']}>There is no light yet.</p>}
    </div>
  );
}

export function EvennessNow({ evenness, aim }: { readonly evenness: Evenness; readonly aim: number }) {
  const [wanted, setWanted] = useState<string>();
  const { areas } = evenness;
  // The largest, which comes first, until another one is chosen.
  const index = Math.max(
    0,
    areas.findIndex(({ area }) => area.id === wanted),
  );
  return (
    <>
      <Bars evenness={evenness} aim={aim} chosen={index} onChoose={setWanted} />
      <AdviceText evenness={evenness} aim={aim} index={index} />
    </>
  );
}
