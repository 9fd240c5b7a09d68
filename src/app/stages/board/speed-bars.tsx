// Frames a second that each show could reach on the board, against the pace that the slowest sets and the limit of the wire itself.
import { showName } from '../../playback/frames.ts';
import { useSettled } from '../../workbench/context.ts';
import css from './board.module.css';

/** 24 bits of 1.25 us an LED, and the latch. */
const ledSeconds = 30e-6;
const latchSeconds = 300e-6;

export function SpeedBars() {
  const { project, speed, frameMs, layout } = useSettled();
  const longestLine = Math.max(0, ...layout.lines.map(({ ledCount }) => ledCount));
  const linesLeds = layout.lines.reduce((sum, { ledCount }) => sum + ledCount, 0);
  // Lines go out one after the other.
  const wireLimit = longestLine === 0 ? undefined : 1 / (linesLeds * ledSeconds + latchSeconds);
  const set = 1000 / frameMs;
  const rows = project.lampshows.map((show) => ({ show, fps: speed.framesPerSecond.get(show.id) ?? 0 }));
  const scale = 1.04 * Math.max(set, wireLimit ?? 0, ...rows.map(({ fps }) => Math.min(fps, 2 * set)));
  const share = (fps: number) => `${Math.min(100, (100 * fps) / scale)}%`;
  return (
    <div className={css['speed']}>
      <h3>
        Frames per second
        <span>
          <i>one frame every</i> {frameMs} ms
        </span>
      </h3>
      <p className={css['soft']}>
        Set to <b>{set.toFixed(1)}</b>
        {wireLimit !== undefined && (
          <>
            {' '}
            by the slowest show; the wire alone allows <b>{wireLimit.toFixed(1)}</b>
          </>
        )}
      </p>
      <ul>
        {rows.map(({ show, fps }) => (
          <li key={show.id}>
            <span>{showName(show)}</span>
            <span className={css['track']} aria-hidden="true">
              <i style={{ width: share(fps) }} />
              <em style={{ left: share(set) }} />
              {wireLimit !== undefined && <em data-wire style={{ left: share(wireLimit) }} />}
            </span>
            <b>{fps.toFixed(1)}</b>
          </li>
        ))}
      </ul>
    </div>
  );
}
