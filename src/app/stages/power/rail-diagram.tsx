// The chain as a diagram: supplies and fuses, the +5 V rail by zones, the runs, ground, and what current passes where. Cause, above the curve of volts.
import type { AlongRails, PowerAssessment, SolvedCase } from '../../../power/index.ts';
import { along } from '../../../power/index.ts';
import { zoneColour } from '../../canvas/volt-colours.ts';
import { useWorkbench } from '../../workbench/context.ts';
import type { ChartRows } from './chart-rows.ts';
import { supplyName } from './feed-choices.ts';
import css from './power.module.css';
import { placedWords, type SupplyLine } from './supply-lines.ts';

export interface Across {
  /** Of the middle of an LED, px. */
  readonly x: (led: number) => number;
  readonly perLed: number;
  readonly left: number;
  readonly right: number;
}

export interface PlacedInChart {
  readonly id: string;
  readonly name: string;
  readonly number: string;
  readonly from: number;
  readonly ledCount: number;
  readonly zone: number;
}

/** Words stand on the right of what they name, and on its left near the right edge. */
const beside = (px: number, isLeft: boolean) =>
  isLeft ? { x: px - 9, textAnchor: 'end' as const } : { x: px + 9 };

/** Of one figure of the feeds' words. */
const figureWidth = 7.3;

interface RailDiagramProps {
  readonly assessment: PowerAssessment;
  readonly shown: SolvedCase;
  readonly across: Across;
  readonly rows: ChartRows;
  readonly lines: readonly SupplyLine[];
  readonly runs: readonly PlacedInChart[];
  readonly currents: AlongRails;
  readonly mostAmps: number;
}

function SupplyLines({
  assessment,
  shown,
  across,
  rows,
  lines,
}: Pick<RailDiagramProps, 'assessment' | 'shown' | 'across' | 'rows' | 'lines'>) {
  const workbench = useWorkbench();
  const { panel, feedSizes } = assessment;
  const isOne = panel.supplies.length === 1;
  const levelOf = (supply: number): number =>
    rows.supply + rows.perLevel * (lines.find((line) => line.supply === supply)?.level ?? 0);
  const feeds = feedSizes.map(({ conductors, fuseAmps }) => {
    const isGone = conductors.plus === undefined;
    return {
      conductors,
      isGone,
      fuse: isGone ? 'off' : fuseAmps === undefined ? 'no fuse fits' : `${fuseAmps} A`,
      load: `${along(shown.linkAmps, conductors.plus).toFixed(2)} A`,
      x: across.x(conductors.atLed),
    };
  });
  const words = placedWords(
    feeds.map(({ x, fuse, load }, index) => ({
      x,
      first: figureWidth * `F${index + 1} ${fuse}`.length,
      second: figureWidth * load.length,
    })),
    across.right + 20,
  );
  return (
    <>
      {lines.map(({ supply, from, to }) => (
        <g key={supply}>
          {/* The only one comes from where it is named. */}
          <path
            className={css['rail']}
            d={`M${isOne ? across.left - 10 : from} ${levelOf(supply)}H${isOne ? to - 10 : to}`}
          />
          {!isOne && (
            <text className={css['supply-name']} x={from} y={levelOf(supply) - 4}>
              {supplyName(supply)}
            </text>
          )}
        </g>
      ))}
      {feeds.map(({ conductors, isGone, fuse, load, x }, index) => {
        const { at, supply } = conductors;
        const { isLeft, showsFirst, showsSecond } = words[index]!;
        return (
          // biome-ignore lint/a11y/noStaticElementInteractions: the table beside the canvas chooses feeds by key
          <g
            key={at}
            className={css['feed']}
            data-gone={isGone}
            onClick={() => workbench.select({ kind: 'feed', index })}
          >
            <path className={css['feed-wire']} d={`M${x} ${levelOf(supply)}V${rows.plus}`} />
            <rect className={css['fuse']} x={x - 3.5} y={rows.fuse} width={7} height={18} />
            <path className={css['feed-wire']} d={`M${x} ${rows.fuse}v18`} />
            <circle className={css['joint']} cx={x} cy={rows.plus} r={3} />
            {showsFirst && (
              <text className={css['feed-label']} {...beside(x, isLeft)} y={rows.fuse + 8}>
                F{index + 1} {fuse}
              </text>
            )}
            {showsSecond && (
              <text className={css['feed-load']} {...beside(x, isLeft)} y={rows.fuse + 22}>
                {load}
              </text>
            )}
          </g>
        );
      })}
    </>
  );
}

/** What passes from LED to LED, as a band along its rail: as thick as the current. */
function CurrentBand({
  amps,
  across,
  at,
  perAmp,
  kind,
}: {
  readonly amps: Float64Array;
  readonly across: Across;
  readonly at: number;
  readonly perAmp: number;
  readonly kind: 'plus' | 'ground';
}) {
  if (amps.length === 0) return null;
  const away = kind === 'plus' ? -1 : 1;
  const steps = Array.from(amps, (one, i) => {
    const y = at + away * Math.abs(one) * perAmp;
    return `L${across.x(i)} ${y}L${across.x(i + 1)} ${y}`;
  });
  return (
    <path
      className={css['current']}
      data-kind={kind}
      d={`M${across.x(0)} ${at}${steps.join('')}L${across.x(amps.length)} ${at}z`}
    />
  );
}

export function RailDiagram({
  assessment,
  shown,
  across,
  rows,
  lines,
  runs,
  currents,
  mostAmps,
}: RailDiagramProps) {
  const workbench = useWorkbench();
  const { panel } = assessment;
  const perAmp = mostAmps > 0 ? rows.bandHeight / mostAmps : 0;
  return (
    <>
      <SupplyLines assessment={assessment} shown={shown} across={across} rows={rows} lines={lines} />
      <CurrentBand amps={currents.plusAmps} across={across} at={rows.plus - 1} perAmp={perAmp} kind="plus" />
      <CurrentBand
        amps={currents.groundAmps}
        across={across}
        at={rows.ground + 1}
        perAmp={perAmp}
        kind="ground"
      />
      {panel.zones.map(({ firstLed, ledCount }) => {
        const from = across.left + firstLed * across.perLed + 2;
        return (
          <path
            key={firstLed}
            className={css['rail']}
            d={`M${from} ${rows.plus}h${Math.max(0, ledCount * across.perLed - 4)}m0 -5v10M${from} ${rows.plus - 5}v10`}
          />
        );
      })}
      {runs.map(({ id, number, from, ledCount, zone }) => {
        const width = ledCount * across.perLed;
        return (
          // biome-ignore lint/a11y/noStaticElementInteractions: the tables and the canvas choose runs by key
          <g key={id} onClick={() => workbench.select({ kind: 'run', id })}>
            <rect
              className={css['run']}
              style={{ stroke: zoneColour(zone) }}
              x={across.left + from * across.perLed + 1}
              y={rows.data}
              width={Math.max(1, width - 2)}
              height={rows.dataHeight}
              rx={2}
            />
            {width > 16 && (
              <text
                className={css['run-number']}
                x={across.left + from * across.perLed + width / 2}
                y={rows.data + 13.5}
              >
                {number}
              </text>
            )}
          </g>
        );
      })}
      <path className={css['ground']} d={`M${across.left} ${rows.ground}H${across.right}`} />
    </>
  );
}
