// One run on the canvas: the cut piece, its LEDs, the arrows between them, the dot where data enters. Drawn in the run's own axes, so that
// moving it changes one transform. It is a button: a press or Enter chooses it, with Shift beside what is chosen.
import { memo } from 'react';
import type { PlacedRun } from '../../panel/index.ts';
import type { Run } from '../../project/index.ts';
import css from './canvas.module.css';
import { arrowsPath, boardPath, ownPath, packagesPath, pitchOf, runTransform } from './geometry.ts';

/** LEDs that stay dark by themselves, whatever the reason. */
const darkLeds = ({ spareLeds = [], deadLeds = [], bypassedLeds = [] }: Run): number[] => [
  ...new Set([...spareLeds, ...deadLeds, ...bypassedLeds]),
];

export interface RunShapeProps {
  readonly placed: PlacedRun;
  readonly label: string;
  readonly isChosen: boolean;
  readonly isWarned: boolean;
  /** Soldered otherwise than planned. */
  readonly isOtherwise: boolean;
  /** Colour of each LED, for views in which LEDs mean something; packages and arrows where absent. */
  readonly ledColours: readonly string[] | undefined;
  /** LEDs that get too few volts, crossed out: colour alone would not tell everybody. */
  readonly lowLeds: readonly number[] | undefined;
  /** Drawn as an outline only, over the lit glass. */
  readonly isGhost: boolean;
  readonly zoneColour: string | undefined;
  readonly onChoose: (run: string, isShift: boolean) => void;
}

export const RunShape = memo(function RunShape({
  placed,
  label,
  isChosen,
  isWarned,
  isOtherwise,
  ledColours,
  lowLeds,
  isGhost,
  zoneColour,
  onChoose,
}: RunShapeProps) {
  const { run, strip } = placed;
  const pitch = pitchOf(placed);
  const half = strip.boardWidthMm / 2;
  const own = ownPath(placed);
  const din = own(placed.isTurned ? run.ledCount - 0.5 : -0.5);
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
        onChoose(run.id, event.shiftKey);
      }}
    >
      <path className={css['focus-ring']} d={boardPath(placed, 3)} />
      {isOtherwise && <path className={css['otherwise']} d={boardPath(placed, 4)} />}
      {isWarned && <path className={css['warned']} d={boardPath(placed, 2.5)} />}
      <path
        className={css['strip']}
        d={boardPath(placed)}
        fillRule="evenodd"
        style={zoneColour === undefined ? undefined : { stroke: zoneColour }}
      />
      {!isGhost && !ledColours && (
        <>
          <path className={css['packages']} d={packagesPath(placed)} />
          <path className={css['arrows']} d={arrowsPath(placed)} />
          <circle className={css['din']} cx={din.xMm} cy={din.yMm} r={2.2} />
        </>
      )}
      {ledColours?.map((fill, led) => {
        const { xMm, yMm } = own(led);
        return (
          <rect
            // LEDs have no identity but their number.
            // biome-ignore lint/suspicious/noArrayIndexKey: see above
            key={led}
            x={xMm - 0.46 * pitch}
            y={yMm - half * 0.78}
            width={pitch * 0.92}
            height={half * 1.56}
            style={{ fill }}
          />
        );
      })}
      {lowLeds?.map((led) => {
        const { xMm, yMm } = own(led);
        const reach = Math.min(half, pitch / 2) * 0.6;
        return (
          <path
            key={led}
            className={css['too-low']}
            d={`M${xMm - reach} ${yMm - reach}l${2 * reach} ${2 * reach}m0 ${-2 * reach}l${-2 * reach} ${2 * reach}`}
          />
        );
      })}
      {!isGhost &&
        darkLeds(run).map((led) => {
          const { xMm, yMm } = own(led);
          return <path key={led} className={css['spare']} d={`M${xMm - 3} ${yMm - 3}l6 6m0 -6l-6 6`} />;
        })}
    </g>
  );
});
