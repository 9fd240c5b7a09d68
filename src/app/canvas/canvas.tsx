// The one canvas of all stages: the panel in millimetres with rulers, seen as artwork, as wiring, lit, or coloured by volts; from the front or
// the rear. Layers from below: the panel's box with artwork or lit glass, the drawing in millimetres, and what keeps the screen's own size.
import { useLayoutEffect, useMemo, useRef, useSyncExternalStore } from 'react';
import { chainNumbers } from '../../panel/index.ts';
import type { KeepOut, Project } from '../../project/index.ts';
import { useSize } from '../frame/use-size.ts';
import {
  useCommander,
  useCompiled,
  useFigures,
  useProject,
  useScreen,
  useSelection,
  useWorkbench,
} from '../workbench/context.ts';
import { chosenRunIds } from '../workbench/selection.ts';
import { AreaMarks } from './area-marks.tsx';
import css from './canvas.module.css';
import { EvennessLayer } from './evenness-layer.tsx';
import { FaultMarks } from './fault-marks.tsx';
import { ForbiddenMarks } from './forbidden-marks.tsx';
import { FuseMarks } from './fuse-marks.tsx';
import { panelTransform, type Sight } from './geometry.ts';
import { Legend } from './legend.tsx';
import { LitGlass } from './lit-glass.tsx';
import { LowestMark } from './lowest-mark.tsx';
import { Handles, NumberTags } from './overlay.tsx';
import { PaintMarks } from './paint-marks.tsx';
import { PanelBox } from './panel-box.tsx';
import { PanelOverlay, PanelUnderlay } from './panel-marks.tsx';
import { chooseRun } from './presses.ts';
import { Rulers, rulerPx } from './rulers.tsx';
import { RunShape } from './run-shape.tsx';
import { selectionExtent } from './selection-extent.ts';
import { ToolHint } from './tool-hint.tsx';
import { useArtworkReaders } from './use-artwork.ts';
import { usePointer } from './use-pointer.ts';
import { useVoltColours } from './volt-colours.ts';
import { VoltTip } from './volt-tip.tsx';
import { CutRings, Feeds, Jumpers } from './wiring.tsx';

const noKeepOuts: readonly KeepOut[] = [];
/** Nothing sticks out of the glass. */
const glassMarginPx = 10;

/** Run ids that were soldered otherwise than planned. */
const builtOtherwise = ({ asBuilt }: Project): ReadonlySet<string> =>
  new Set([
    ...(asBuilt?.runs ?? []).map(({ run }) => run),
    ...(asBuilt?.swaps ?? []).flatMap(({ first, second }) => [first, second]),
  ]);

/** Run ids that a finding is about. */
function useWarnedRuns(): ReadonlySet<string> {
  const { findings, compiled } = useFigures();
  return useMemo(
    () =>
      new Set(
        findings
          .filter(({ severity, at }) => severity !== 'note' && /^\/runs\/\d+/.test(at))
          .flatMap(({ at }) => compiled.project.runs[Number(at.split('/')[2])]?.id ?? []),
      ),
    [findings, compiled],
  );
}

export function Canvas() {
  const workbench = useWorkbench();
  const { viewport } = useCommander();
  const { layout } = useCompiled();
  const project = useProject((one) => one);
  const viewKind = useScreen((state) => state.view);
  const side = useScreen((state) => state.side);
  const tool = useScreen((state) => state.tool);
  const stage = useScreen((state) => state.stage);
  const selection = useSelection();
  const warned = useWarnedRuns();
  const view = useSyncExternalStore(viewport.subscribe, viewport.current);
  const surface = useRef<HTMLDivElement>(null);
  const { width, height } = useSize(surface);
  const { widthMm, heightMm } = project.panel;
  // The glass is looked at, not measured; without rulers it is the brightest thing on the page.
  const hasRulers = viewKind !== 'lit';
  useLayoutEffect(() => {
    viewport.setSizes(
      { width, height },
      { width: widthMm, height: heightMm },
      hasRulers ? undefined : glassMarginPx,
    );
  }, [viewport, width, height, widthMm, heightMm, hasRulers]);

  const sight = useMemo<Sight>(() => ({ view, side, widthMm }), [view, side, widthMm]);
  const artwork = useArtworkReaders(widthMm, heightMm);
  const { isDragging, cutBefore, box, pullGuide, handlers } = usePointer(sight, surface, artwork);
  const numbers = useMemo(() => chainNumbers(layout), [layout]);
  const volts = useVoltColours(viewKind === 'volts');
  const marks = useMemo(() => selectionExtent(layout, selection), [layout, selection]);
  const chosen = chosenRunIds(selection);
  const chosenRun = chosen.length === 1 ? layout.runs.find(({ run }) => run.id === chosen[0]) : undefined;
  const otherwise = useMemo(() => builtOtherwise(project), [project]);
  const { keepOuts = noKeepOuts } = project.panel;
  const behind = side === 'rear' ? keepOuts : undefined;
  const lays = stage === 'panel' || stage === 'runs';
  // Deleting what has the focus would leave it nowhere, and the keys with it.
  const runCount = project.runs.length;
  // biome-ignore lint/correctness/useExhaustiveDependencies: it is about runs that go
  useLayoutEffect(() => {
    if (document.activeElement === document.body) surface.current?.focus({ preventScroll: true });
  }, [runCount]);
  const drawsWiring = viewKind === 'wiring' || viewKind === 'volts';
  const choose = useMemo(
    () => (id: string, isShift: boolean) => chooseRun(workbench, id, isShift),
    [workbench],
  );

  return (
    <div className={css['frame']} data-view={viewKind} data-side={side}>
      {hasRulers && (
        <Rulers
          sight={sight}
          widthPx={width}
          heightPx={height}
          marks={marks}
          onPull={lays ? pullGuide : undefined}
        />
      )}
      {/* The drawing's parts have their own names; the surface only takes the pointer. */}
      <div
        ref={surface}
        className={css['surface']}
        tabIndex={-1}
        style={hasRulers ? { left: rulerPx, top: rulerPx } : { left: 0, top: 0 }}
        data-tool={tool}
        data-dragging={isDragging}
        {...handlers}
      >
        <PanelBox sight={sight} view={viewKind}>
          {viewKind === 'lit' && <LitGlass />}
          {viewKind !== 'lit' && <EvennessLayer />}
        </PanelBox>
        {/* biome-ignore lint/a11y/useSemanticElements: a drawing whose parts are buttons has no element of its own */}
        <svg className={css['drawing']} width={width} height={height} role="group" aria-label="Panel">
          <g transform={panelTransform(sight)}>
            {viewKind !== 'lit' && <PanelUnderlay selection={selection} />}
            {drawsWiring && <Jumpers layout={layout} selection={selection} behind={behind} />}
            {viewKind !== 'artwork' || stage !== 'panel'
              ? layout.runs.map((placed) => {
                  const { id, name } = placed.run;
                  return (
                    <RunShape
                      key={id}
                      placed={placed}
                      label={`Run ${numbers.get(id) ?? 'outside every chain'}, ${name ?? id}, ${placed.run.ledCount} LEDs`}
                      isChosen={chosen.includes(id)}
                      isWarned={warned.has(id)}
                      isOtherwise={drawsWiring && otherwise.has(id)}
                      ledColours={volts?.colours.get(id)}
                      lowLeds={volts?.low.get(id)}
                      zoneColour={volts?.zones.get(id)}
                      isGhost={!drawsWiring}
                      onChoose={choose}
                    />
                  );
                })
              : null}
            {tool !== 'paint' && <AreaMarks selection={selection} />}
          </g>
          {drawsWiring && <CutRings layout={layout} sight={sight} behind={behind} />}
          {drawsWiring && (
            <Feeds
              feeds={project.power.feeds}
              runs={layout.runs}
              sight={sight}
              selection={selection}
              areNamed={viewKind === 'volts'}
            />
          )}
          {viewKind === 'volts' && (
            <>
              <ForbiddenMarks sight={sight} />
              <FuseMarks sight={sight} />
              <FaultMarks sight={sight} />
              <LowestMark sight={sight} />
              <VoltTip sight={sight} widthPx={width} />
            </>
          )}
          {viewKind === 'wiring' && (
            <NumberTags runs={layout.runs} numbers={numbers} sight={sight} chosen={chosen} />
          )}
          <PanelOverlay sight={sight} reachPx={{ width, height }} selection={selection} box={box} />
          {chosenRun && !isDragging && stage === 'runs' && (
            <Handles placed={chosenRun} sight={sight} cutBefore={cutBefore} />
          )}
        </svg>
        {tool === 'paint' && <PaintMarks sight={sight} width={width} height={height} />}
        {viewKind === 'wiring' && stage === 'runs' && tool === 'select' && <Legend />}
        <ToolHint />
      </div>
    </div>
  );
}
