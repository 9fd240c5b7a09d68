// What a press on the canvas begins, by the tool that is taken up and by what lies under the pointer: rows, looked up in order. No React.
import { pitchMm } from '../../catalogue/index.ts';
import {
  defaultStripOf,
  distanceMm,
  type Lightness,
  type PlacedRun,
  type PointMm,
  reverseRun,
  splitRun,
  stripById,
} from '../../panel/index.ts';
import { addFeed, limits } from '../../project/index.ts';
import { newFeed } from '../workbench/commands/new-feed.ts';
import { chosenRunIds, selectionOfRuns } from '../workbench/selection.ts';
import type { StageId, ToolId, Workbench } from '../workbench/workbench.ts';
import { type ColourAt, colourMembers } from './colour-area.ts';
import { type Drag, type DragStart, dragLength, dragRuns, dragTurn, drawRun } from './drags.ts';
import { chosenArea, drawLasso, drawRectangle, drawStroke, intoArea } from './drags-areas.ts';
import { paintPress } from './drags-paint.ts';
import {
  dragGuide,
  dragKeepOut,
  dragMeasureEnd,
  drawGuide,
  drawKeepOut,
  drawMeasure,
  measure,
} from './drags-panel.ts';
import { alongRun } from './geometry.ts';

export interface Press extends DragStart {
  readonly target: Element;
  readonly isShift: boolean;
  /** Alt. */
  readonly isFree: boolean;
  readonly toleranceMm: number;
  /** The LED before which the chosen run would be split. */
  readonly cutBefore: number | undefined;
  /** Both undefined without artwork. */
  readonly colourAt: () => ColourAt | undefined;
  readonly lightness: () => Lightness | undefined;
}

/** A drag, moving the view, drawing a box round runs, or nothing more than the press. */
export type Begun = Drag | 'pan' | 'box' | undefined;

const placedOf = ({ layout }: DragStart, id: string | null): PlacedRun | undefined =>
  layout.runs.find(({ run }) => run.id === id);

const chosenRun = (press: Press): PlacedRun | undefined => {
  const { selection } = press.workbench.state;
  return selection.kind === 'run' ? placedOf(press, selection.id) : undefined;
};

/** A spot that is pressed again goes. */
function markSpot({ workbench, from, toleranceMm }: Press): undefined {
  const { spots } = workbench.state;
  const others = spots.filter((spot) => distanceMm(spot, from) > Math.max(4, toleranceMm));
  const at: PointMm = { xMm: Math.round(from.xMm * 10) / 10, yMm: Math.round(from.yMm * 10) / 10 };
  workbench.set({ spots: others.length < spots.length ? others : [...spots, at] });
  return undefined;
}

function pickColour({ workbench, layout, from, colourAt: reader }: Press): undefined {
  const colourAt = reader();
  const members = colourAt ? colourMembers(layout, colourAt, from) : [];
  const chosen = chosenArea(workbench);
  const held = workbench.project.areas.find(({ id }) => id === chosen)?.members.length ?? 0;
  if (held + members.length > limits.runs) {
    workbench.set({
      message: {
        title: 'Too many single pieces for one area',
        lines: [
          `The colour lies over ${members.length} separate stretches of strip; an area holds ${limits.runs} parts. Draw a line round what you mean instead.`,
        ],
      },
    });
    return undefined;
  }
  if (members.length > 0) {
    const { edit, id, label } = intoArea(workbench.project, chosen, members);
    workbench.edit(label, edit);
    workbench.select({ kind: 'area', id });
    return undefined;
  }
  workbench.set({
    message: {
      title: colourAt ? 'No LED under that colour' : 'No artwork to take colours from',
      lines: [
        colourAt
          ? 'Press where strip lies under the print.'
          : 'Load one on the stage Panel, then pick again.',
      ],
    },
  });
  return undefined;
}

/** Tools that take every press, whatever lies under it. */
const toolPresses: Readonly<Partial<Record<ToolId, (press: Press) => Begun>>> = {
  'draw-run': (press) => {
    const { project } = press.workbench;
    const strip = defaultStripOf(project);
    return drawRun(press, strip, pitchMm(stripById(project, strip)), press.toleranceMm);
  },
  'draw-area': drawRectangle,
  'lasso-area': drawLasso,
  'brush-area': drawStroke,
  'pick-colour': pickColour,
  'mark-spots': markSpot,
  measure,
  'draw-keep-out': drawKeepOut,
  'true-scale': drawMeasure,
  paint: paintPress,
};

/** What the handles beside a chosen run do. */
const handlePresses: Readonly<Record<string, (press: Press, placed: PlacedRun) => Begun>> = {
  length: dragLength,
  turn: dragTurn,
  reverse: ({ workbench }, { run }) => {
    workbench.edit('Turn the arrow round', reverseRun(run.id));
    return undefined;
  },
  cut: ({ workbench, cutBefore }, { run }) => {
    if (cutBefore !== undefined) workbench.edit('Split run', splitRun(run.id, cutBefore));
    return undefined;
  },
};

/** Chooses a run. Shift adds it to the runs that are chosen, or takes it from them. */
export function chooseRun(workbench: Workbench, id: string, isShift: boolean): void {
  const chosen = isShift ? chosenRunIds(workbench.state.selection) : [];
  const others = chosen.filter((one) => one !== id);
  workbench.select(selectionOfRuns(others.length < chosen.length ? others : [...chosen, id]));
}

/** Stages in which what lies on the panel is moved by the hand. */
const layingStages: ReadonlySet<StageId> = new Set(['panel', 'runs']);
const laysStrip = ({ state }: Workbench): boolean => layingStages.has(state.stage);

function pressRun(press: Press, placed: PlacedRun): Begun {
  const { workbench, isShift } = press;
  const { id } = placed.run;
  const { tool, selection } = workbench.state;
  if (tool === 'add-feed') {
    const nearest = Math.round(alongRun(placed, press.from).pitches);
    // A ring begins again behind its last LED.
    const led = placed.run.ring ? nearest % placed.run.ledCount : nearest;
    const index = workbench.project.power.feeds.length;
    const within = Math.min(placed.run.ledCount - 1, Math.max(0, led));
    const place = { run: id, led: within };
    const { layout } = workbench.state.compiled;
    workbench.edit('Add feed', addFeed(newFeed(workbench.project, layout, place)));
    workbench.select({ kind: 'feed', index });
    workbench.set({ tool: 'select' });
    return undefined;
  }
  if (isShift) {
    chooseRun(workbench, id, isShift);
    return undefined;
  }
  // Where power, workshop and board are the matter, strip stays where it was laid.
  if (!laysStrip(workbench)) {
    workbench.select({ kind: 'run', id });
    return undefined;
  }
  const chosen = chosenRunIds(selection);
  if (chosen.length > 1 && chosen.includes(id)) return dragRuns(press, chosen, press.lightness());
  workbench.select({ kind: 'run', id });
  return dragRuns(press, [id], press.lightness());
}

/** What lies under the pointer, by the attribute that says so; the first that is found counts. */
const thingPresses: readonly {
  readonly attribute: string;
  readonly press: (press: Press, value: string) => Begun;
}[] = [
  {
    attribute: 'data-handle',
    press: (press, value) => {
      const chosen = chosenRun(press);
      return chosen && handlePresses[value]?.(press, chosen);
    },
  },
  {
    attribute: 'data-measure-end',
    press: (press, value) => {
      const [index, end] = value.split(' ');
      press.workbench.select({ kind: 'measure', index: Number(index) });
      return dragMeasureEnd(press, Number(index), end as 'from' | 'to');
    },
  },
  {
    attribute: 'data-feed',
    press: ({ workbench }, value) => {
      workbench.select({ kind: 'feed', index: Number(value) });
      return undefined;
    },
  },
  {
    attribute: 'data-run',
    press: (press, value) => {
      const placed = placedOf(press, value);
      return placed && pressRun(press, placed);
    },
  },
  {
    attribute: 'data-jumper',
    press: ({ workbench }, value) => {
      const [line, place] = value.split(' ').map(Number) as [number, number];
      workbench.select({ kind: 'jumper', line, place });
      return undefined;
    },
  },
  {
    attribute: 'data-keep-out',
    press: (press, value) => {
      const keepOut = press.workbench.project.panel.keepOuts?.find(({ id }) => id === value);
      if (!keepOut) return undefined;
      press.workbench.select({ kind: 'keep-out', id: value });
      return dragKeepOut(press, keepOut);
    },
  },
  {
    attribute: 'data-guide',
    press: (press, value) => {
      press.workbench.select({ kind: 'guide', index: Number(value) });
      return dragGuide(press, Number(value));
    },
  },
];

export function beginPress(press: Press): Begun {
  const byTool = toolPresses[press.workbench.state.tool];
  if (byTool) return byTool(press);
  // Light is composed without touching what it shines from.
  const { stage, tool } = press.workbench.state;
  if (stage === 'lampshows' && tool === 'select') return 'pan';
  for (const { attribute, press: begin } of thingPresses) {
    const value = press.target.closest(`[${attribute}]`)?.getAttribute(attribute);
    if (value !== null && value !== undefined) return begin(press, value);
  }
  return press.isShift && press.workbench.state.stage !== 'panel' ? 'box' : 'pan';
}

export const beginGuide = (press: DragStart, axis: 'x' | 'y'): Drag => drawGuide(press, axis);

/** Runs with an LED inside a box, in the order of the list. */
export function runsInBox({ layout }: DragStart, a: PointMm, b: PointMm): string[] {
  const within = (value: number, one: number, other: number): boolean =>
    value >= Math.min(one, other) && value <= Math.max(one, other);
  return layout.runs
    .filter(({ leds }) => leds.some(({ xMm, yMm }) => within(xMm, a.xMm, b.xMm) && within(yMm, a.yMm, b.yMm)))
    .map(({ run }) => run.id);
}
