// One run on the canvas: the cut piece, its LEDs, the arrows between them, the dot where data enters. Drawn in the run's own axes, so that
// moving it changes one transform. It is a button: a press or Enter chooses it.
import { memo } from 'react';
import type { PlacedRun } from '../../panel/index.ts';
import css from './canvas.module.css';
import { arrowsPath, packagesPath, pitchOf, runTransform } from './geometry.ts';

export interface RunShapeProps {
  readonly placed: PlacedRun;
  readonly label: string;
  readonly isChosen: boolean;
  readonly isWarned: boolean;
  /** Colour of each LED, for views in which LEDs mean something; packages and arrows where absent. */
  readonly ledColours: readonly string[] | undefined;
  /** Drawn as an outline only, over the lit glass. */
  readonly isGhost: boolean;
  readonly zoneColour: string | undefined;
  readonly onChoose: (run: string) => void;
}

export const RunShape = memo(function RunShape({
  placed,
  label,
  isChosen,
  isWarned,
  ledColours,
  isGhost,
  zoneColour,
  onChoose,
}: RunShapeProps) {
  const { run, strip, cutLengthMm } = placed;
  const pitch = pitchOf(placed);
  const half = strip.boardWidthMm / 2;
  return (
    // biome-ignore lint/a11y/useSemanticElements: a button can't stand inside a drawing
    <g
      className={css['run']}
      transform={runTransform(placed)}
      data-run={run.id}
      data-chosen={isChosen}
      data-ghost={isGhost}
      role="button"
      tabIndex={0}
      aria-label={label}
      aria-pressed={isChosen}
      onKeyDown={(event) => {
        if (event.key !== 'Enter' && event.key !== ' ') return;
        event.preventDefault();
        onChoose(run.id);
      }}
    >
      <rect
        className={css['focus-ring']}
        x={-pitch / 2 - 3}
        y={-half - 3}
        width={cutLengthMm + 6}
        height={2 * half + 6}
      />
      {isWarned && (
        <rect
          className={css['warned']}
          x={-pitch / 2 - 2.5}
          y={-half - 2.5}
          width={cutLengthMm + 5}
          height={2 * half + 5}
        />
      )}
      <rect
        className={css['strip']}
        x={-pitch / 2}
        y={-half}
        width={cutLengthMm}
        height={2 * half}
        style={zoneColour === undefined ? undefined : { stroke: zoneColour }}
      />
      {!isGhost && !ledColours && (
        <>
          <path className={css['packages']} d={packagesPath(placed)} />
          <path className={css['arrows']} d={arrowsPath(placed)} />
          <circle className={css['din']} cx={-pitch / 2} cy={0} r={2.2} />
        </>
      )}
      {ledColours?.map((fill, led) => (
        <rect
          // LEDs have no identity but their number.
          // biome-ignore lint/suspicious/noArrayIndexKey: see above
          key={led}
          x={(led - 0.46) * pitch}
          y={-half * 0.78}
          width={pitch * 0.92}
          height={half * 1.56}
          style={{ fill }}
        />
      ))}
      {!isGhost &&
        [...new Set([...(run.spareLeds ?? []), ...(run.deadLeds ?? [])])].map((led) => (
          <path key={led} className={css['spare']} d={`M${led * pitch - 3} -3l6 6m0 -6l-6 6`} />
        ))}
    </g>
  );
});
