// What is worth telling about runs that were built otherwise than planned: where it stays dark and which joint to re-solder, and what needs nothing
// because the bytes follow.
import { bytesPerLed } from '../catalogue/index.ts';
import { type BuiltRun, type Finding, type Project, pointer } from '../project/index.ts';
import { builtRun, runAsBuilt } from './as-built.ts';
import { chainNumbers, type Layout, type PlacedLine, type PlacedRun, runTitle } from './layout.ts';
import { stripOfRun } from './strips.ts';

const nameOf = ({ run }: PlacedRun): string => `"${runTitle(run)}"`;

/** LEDs at and behind the first run that is fed at its DOUT. */
const darkCount = (runs: readonly PlacedRun[], from: number): number =>
  runs.slice(from).reduce((sum, placed) => sum + placed.wireLeds.length, 0);

/** A joint at the wrong end: what stays dark, and which two pads belong together. */
function wrongEnds(project: Project, layout: Layout): Finding[] {
  return layout.lines.flatMap((line) =>
    line.runs.flatMap((wrong, place) =>
      builtRun(project, wrong.run.id).fedAtDout ? [wrongEnd(project, line, wrong, place)] : [],
    ),
  );
}

function wrongEnd(project: Project, line: PlacedLine, wrong: PlacedRun, place: number): Finding {
  const { runs } = line;
  const before = runs[place - 1];
  const from = before ? `DOUT of run ${nameOf(before)}` : `the board's data wire${pinName(line.pin)}`;
  const index = project.asBuilt?.runs.findIndex(({ run }) => run === wrong.run.id) ?? 0;
  const count = darkCount(runs, place);
  return {
    severity: 'warning',
    code: 'fed-at-dout',
    at: pointer('asBuilt', 'runs', index, 'fedAtDout'),
    message: `Run ${nameOf(wrong)} gets its data at DOUT, which listens to nothing: ${count === 1 ? '1 LED' : `${count} LEDs`} of data line ${line.index + 1} stay dark from there on.`,
    mend: `Re-solder one joint: take the data wire off DOUT of run ${nameOf(wrong)} and join ${from} to its DIN, at the other end of the strip.`,
  };
}

const pinName = (pin: number | undefined): string => (pin === undefined ? '' : ` on pin ${pin}`);

interface Deviation {
  readonly key: keyof BuiltRun;
  readonly code: string;
  readonly severity: Finding['severity'];
  readonly tell: (
    placed: PlacedRun,
    built: BuiltRun,
    layout: Layout,
  ) => { readonly message: string; readonly mend: string };
}

const needsNothing = 'Nothing to re-wire: the bytes follow what was built.';

const deviations: readonly Deviation[] = [
  {
    key: 'laidReversed',
    code: 'laid-reversed',
    severity: 'note',
    tell: (placed) => ({
      message: `Run ${nameOf(placed)} lies the other way round: its arrow points against the plan, and data enters at its planned end.`,
      mend: needsNothing,
    }),
  },
  {
    key: 'skipped',
    code: 'run-skipped',
    severity: 'warning',
    tell: (placed) => ({
      message: `The data wire goes past run ${nameOf(placed)}, so its ${placed.run.ledCount} LEDs stay dark.`,
      mend: 'Join its DIN to the wire that goes past it, and its DOUT to the run behind; then tell here that it is no longer skipped.',
    }),
  },
  {
    key: 'strip',
    code: 'other-reel',
    severity: 'note',
    tell: (placed, { strip }) => ({
      message: `Run ${nameOf(placed)} was cut from "${strip}" instead of "${placed.run.strip}"; order, currents and pitch are that reel's.`,
      mend: needsNothing,
    }),
  },
  {
    key: 'colourOrder',
    code: 'other-order',
    severity: 'note',
    tell: (placed, { colourOrder }) => ({
      message: `Run ${nameOf(placed)} takes its colours in the order ${colourOrder}.`,
      mend: needsNothing,
    }),
  },
];

/** The white die's byte can't be guessed: a reel with four bytes that is sent three shifts every LED behind it. */
function wrongByteCounts(project: Project, layout: Layout): Finding[] {
  return (project.asBuilt?.runs ?? []).flatMap((built, index): Finding[] => {
    const placed = layout.runs.find(({ run }) => run.id === built.run);
    if (!placed || built.colourOrder === undefined) return [];
    const { colourOrder: _, ...reel } = runAsBuilt(project, placed.run);
    const usual = stripOfRun(project, reel).colourOrder;
    if (bytesPerLed(usual) === bytesPerLed(built.colourOrder)) return [];
    return [
      {
        severity: 'warning',
        code: 'white-differs',
        at: pointer('asBuilt', 'runs', index, 'colourOrder'),
        message: `Run ${nameOf(placed)} is sent ${bytesPerLed(built.colourOrder)} bytes an LED (${built.colourOrder}), but its reel takes ${bytesPerLed(usual)} (${usual}).`,
        mend: 'Choose an order with as many letters, or the reel that the run was really cut from.',
      },
    ];
  });
}

/** Broken LEDs that no wire leads past: they may take the data down with them. */
function deaths(layout: Layout): Finding[] {
  return layout.runs.flatMap((placed): Finding[] => {
    const { run, runIndex } = placed;
    const dead = [...new Set(run.deadLeds)].filter((led) => !run.bypassedLeds?.includes(led));
    if (dead.length === 0) return [];
    return [
      {
        severity: 'note',
        code: 'led-dead',
        at: pointer('runs', runIndex, 'deadLeds'),
        message: `LED ${dead.sort((a, b) => a - b).join(', ')} of run ${nameOf(placed)} was found broken and is kept dark.`,
        mend: 'Replace it. If LEDs behind it are dark too, it passes no data on: lead a wire past it and tell it as bypassed.',
      },
    ];
  });
}

function bypasses(layout: Layout): Finding[] {
  return layout.runs
    .filter(({ run }) => (run.bypassedLeds?.length ?? 0) > 0)
    .map((placed): Finding => {
      const leds = placed.run.bypassedLeds!;
      return {
        severity: 'note',
        code: 'led-bypassed',
        at: pointer('runs', placed.runIndex, 'bypassedLeds'),
        message: `A wire leads the data past LED ${[...new Set(leds)].sort((a, b) => a - b).join(', ')} of run ${nameOf(placed)}: dark, and left out of what is sent.`,
        mend: 'To light it again, solder a sound LED in and take the bypass out.',
      };
    });
}

/** Findings about everything that was built otherwise. */
export function asBuiltFindings(project: Project, layout: Layout): Finding[] {
  const { asBuilt } = project;
  if (!asBuilt) return [...deaths(layout), ...bypasses(layout)];
  const told = asBuilt.runs.flatMap((built, index) => {
    const placed = layout.runs.find(({ run }) => run.id === built.run);
    if (!placed) return [];
    return deviations
      .filter(({ key }) => built[key] !== undefined && built[key] !== false)
      .map(
        ({ key, code, severity, tell }): Finding => ({
          severity,
          code,
          at: pointer('asBuilt', 'runs', index, key),
          ...tell(placed, built, layout),
        }),
      );
  });
  const numbers = chainNumbers(layout);
  const titleOf = (id: string): string => {
    const placed = layout.runs.find(({ run }) => run.id === id);
    return placed ? runTitle(placed.run) : id;
  };
  const swaps = asBuilt.swaps.map(
    ({ first, second }, index): Finding => ({
      severity: 'note',
      code: 'runs-swapped',
      at: pointer('asBuilt', 'swaps', index),
      message: `Runs "${titleOf(first)}" and "${titleOf(second)}" took each other's place on the wire; "${titleOf(first)}" is number ${numbers.get(first) ?? 'none'} now, "${titleOf(second)}" number ${numbers.get(second) ?? 'none'}.`,
      // A run that was planned into no chain belongs to no area yet.
      mend:
        numbers.has(first) && numbers.has(second)
          ? needsNothing
          : 'Add the run that lights to a chain of the plan too, so that shows know its place.',
    }),
  );
  return [
    ...wrongEnds(project, layout),
    ...told,
    ...swaps,
    ...wrongByteCounts(project, layout),
    ...deaths(layout),
    ...bypasses(layout),
  ];
}
