// What is worth telling about a layout: an opening or runs that stick out, chains that miss runs, pins that can't be used, areas without LEDs.
// Not here: references (project/references.ts refuses those), power (src/power), memory and speed (src/board).
import { boards, bytesPerLed, rowById } from '../catalogue/index.ts';
import { type Finding, type Project, pointer } from '../project/index.ts';
import { areaLeds } from './areas.ts';
import { builtRun } from './as-built.ts';
import { asBuiltFindings } from './as-built-findings.ts';
import { channelFindings } from './channel-findings.ts';
import { layingFindings } from './laying-findings.ts';
import { type Layout, runTitle } from './layout.ts';
import { measureFindings } from './measures.ts';
import { type PointMm, rectangleOutline } from './plane.ts';
import { outline } from './run-outline.ts';
import { stripById } from './strips.ts';

/** Rounding of a drawing must not make a run stick out. */
const toleranceMm = 0.01;

/** How far the farthest of these points lies beyond the panel's edges. */
function outsideMm({ panel: { widthMm, heightMm } }: Project, points: readonly PointMm[]): number {
  return Math.max(...points.map((p) => Math.max(-p.xMm, -p.yMm, p.xMm - widthMm, p.yMm - heightMm)));
}

function openingFindings(project: Project): Finding[] {
  const { opening } = project.panel;
  if (!opening) return [];
  const { xMm, yMm, widthMm, heightMm } = opening;
  const outside = outsideMm(project, rectangleOutline(xMm, yMm, widthMm, heightMm));
  if (outside <= toleranceMm) return [];
  return [
    {
      severity: 'warning',
      code: 'opening-off-panel',
      at: pointer('panel', 'opening'),
      message: `The visible opening reaches ${outside.toFixed(1)} mm beyond the panel, where no light is.`,
      mend: 'Make it smaller, move it, or make the panel larger.',
    },
  ];
}

function runFindings(project: Project, layout: Layout): Finding[] {
  const findings: Finding[] = [];
  for (const placed of layout.runs) {
    const outside = outsideMm(project, outline(placed));
    if (outside > toleranceMm)
      findings.push({
        severity: 'error',
        code: 'run-off-panel',
        at: pointer('runs', placed.runIndex),
        message: `Run "${runTitle(placed.run)}" sticks out of the panel by ${outside.toFixed(1)} mm.`,
        mend: 'Move it, turn it, or take LEDs off it.',
      });
  }
  for (const { run, runIndex } of layout.runs) {
    const own = run.colourOrder;
    const usual = stripById(project, run.strip).colourOrder;
    if (own !== undefined && bytesPerLed(own) !== bytesPerLed(usual))
      findings.push({
        severity: 'warning',
        code: 'white-differs',
        at: pointer('runs', runIndex, 'colourOrder'),
        message: `Run "${runTitle(run)}" is sent ${bytesPerLed(own)} bytes an LED (${own}), but its strip "${run.strip}" takes ${bytesPerLed(usual)} (${usual}).`,
        mend: 'Choose an order with as many letters, or the strip that the run is really cut from.',
      });
  }
  for (const placed of layout.unchained) {
    if (builtRun(project, placed.run.id).skipped) continue;
    findings.push({
      severity: 'warning',
      code: 'run-unchained',
      at: pointer('runs', placed.runIndex),
      message: `No data line passes run "${runTitle(placed.run)}", so it stays dark.`,
      mend: 'Add it to a chain, or delete it.',
    });
  }
  return findings;
}

function pinFindings(project: Project): Finding[] {
  const findings: Finding[] = [];
  const board = rowById(boards, project.board.id);
  if (!board) throw new Error(`no board "${project.board.id}"; the project was not checked`);
  const taken = new Map<number, number>();
  const usable = board.pins.map((row) => row.pin);
  if (project.dataLines.length === 0)
    findings.push({
      severity: 'error',
      code: 'no-data-line',
      at: '/dataLines',
      message: 'No run is connected to the board.',
      mend: 'Add a data line with a pin and a chain of runs.',
    });
  for (const [index, { pin }] of project.dataLines.entries()) {
    const at = pointer('dataLines', index, 'pin');
    if (pin === undefined) {
      findings.push({
        severity: 'error',
        code: 'pin-missing',
        at,
        message: 'This data line has no pin.',
        mend: `Choose one of the board's pins, ${Math.min(...usable)} to ${Math.max(...usable)}.`,
      });
      continue;
    }
    if (!usable.includes(pin))
      findings.push({
        severity: 'error',
        code: 'pin-unknown',
        at,
        message: `The board ${board.id} has no output pin ${pin}.`,
        mend: `Choose a pin from ${Math.min(...usable)} to ${Math.max(...usable)}.`,
      });
    if (board.usbSerialPins.includes(pin))
      findings.push({
        severity: 'warning',
        code: 'pin-serial',
        at,
        message: `Pin ${pin} also carries the USB link: uploading sends rubbish to the LEDs, and they may disturb the upload.`,
        mend: 'Choose another pin, such as 6.',
      });
    const earlier = taken.get(pin);
    if (earlier !== undefined)
      findings.push({
        severity: 'error',
        code: 'pin-shared',
        at,
        message: `Pin ${pin} already drives data line ${earlier}.`,
        mend: 'Give each data line a pin of its own.',
      });
    taken.set(pin, index);
  }
  return findings;
}

/** Findings about places, chains, pins and areas. */
export function panelFindings(project: Project, layout: Layout): Finding[] {
  const empty = project.areas.flatMap((area, index): Finding[] =>
    areaLeds(layout, area).length > 0
      ? []
      : [
          {
            severity: 'warning',
            code: 'area-empty',
            at: pointer('areas', index),
            message: `Area "${area.name ?? area.id}" holds no LED, so nothing shows there.`,
            mend: 'Add runs to it, or widen its rectangle.',
          },
        ],
  );
  return [
    ...openingFindings(project),
    ...runFindings(project, layout),
    ...layingFindings(project, layout),
    ...asBuiltFindings(project, layout),
    ...measureFindings(project),
    ...channelFindings(project),
    ...pinFindings(project),
    ...empty,
  ];
}
