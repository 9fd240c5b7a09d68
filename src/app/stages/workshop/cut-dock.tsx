// What to cut: every piece as long as it will be, strip by strip, and how much strip that takes.
import { useMemo } from 'react';
import { cutList } from '../../../workshop/index.ts';
import { figure } from '../../format.ts';
import { useCompiled, useProject, useWorkbench } from '../../workbench/context.ts';
import css from './workshop.module.css';

/** So that a 200 mm piece holds its number and length. */
const pxPerMm = 0.3;
const leastPx = 46;

export function CutDock() {
  const workbench = useWorkbench();
  const project = useProject((one) => one);
  const { layout } = useCompiled();
  const list = useMemo(() => cutList(project, layout), [project, layout]);
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a part that scrolls must be reachable by key
    <section className={css['dock']} tabIndex={0} aria-label="Cut list">
      {list.totals.map(({ strip, label, pieceCount, ledCount, lengthMm }) => (
        <div key={strip}>
          <h2>
            {label}{' '}
            <span>
              <b>{figure(lengthMm)} mm</b> in <b>{pieceCount}</b> pieces, <b>{ledCount}</b> LEDs
            </span>
          </h2>
          <ul>
            {list.pieces
              .filter((piece) => piece.strip === strip)
              .map(({ run, number, name, cutLengthMm, ledCount: leds }) => (
                <li key={run} style={{ width: Math.max(leastPx, cutLengthMm * pxPerMm) }}>
                  <button
                    type="button"
                    title={`${name === '' ? run : name}, ${leds} LEDs`}
                    aria-label={`Run ${number}, ${name === '' ? run : name}, ${leds} LEDs, ${cutLengthMm.toFixed(1)} mm`}
                    onClick={() => {
                      workbench.enter('runs');
                      workbench.select({ kind: 'run', id: run });
                    }}
                  >
                    {number}
                  </button>
                  <span aria-hidden="true">{cutLengthMm.toFixed(1)}</span>
                </li>
              ))}
          </ul>
        </div>
      ))}
      <p className={css['soft']}>
        {list.pieces.length === 0
          ? 'No run yet: draw runs first, in the stage Runs.'
          : 'Cut on the marks between the pads. Reels are soldered together from shorter boards: look for those joints before you cut.'}
      </p>
    </section>
  );
}
