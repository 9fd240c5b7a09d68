// The workbench: one store that holds the document's history and all that the screen adds to it, and the few verbs that change them. Every
// edit goes through `edit`, so that it can be undone and is compiled at once; figures follow a moment later. The clock comes from outside.
import { createStore, type StoreApi } from 'zustand/vanilla';
import {
  type CompiledProject,
  compileProject,
  type FirmwareTemplates,
  recompileProject,
  relaidProject,
  usualDistanceMm,
} from '../../board/index.ts';
import { type Performance, type Player, type ShowData, wireByteCount } from '../../lampshow/index.ts';
import type { PointMm } from '../../panel/index.ts';
import {
  type CopiedClip,
  type Edit,
  edited,
  endGesture,
  type History,
  type Project,
  redone,
  startHistory,
  undone,
} from '../../project/index.ts';
import { Playback } from '../playback/playback.ts';
import type { Flashes } from '../survey/flashes.ts';
import { type Figures, figuresOf } from './figures.ts';
import { type Game, heardInGame, noGame, playedGame } from './game.ts';
import { firstStrokes, type Painting } from './painting.ts';
import { firstPowerView, type PowerView } from './power-view.ts';
import { followedClips, liveSelection, nothing, type Selection, sameSelection } from './selection.ts';

export type StageId = 'panel' | 'runs' | 'lampshows' | 'power' | 'workshop' | 'board';
export type ViewId = 'artwork' | 'wiring' | 'lit' | 'volts';
export type SideId = 'front' | 'rear';
/** What a press on the canvas does. */
export type ToolId =
  | 'select'
  | 'draw-run'
  | 'draw-area'
  | 'lasso-area'
  | 'brush-area'
  | 'pick-colour'
  | 'mark-spots'
  | 'measure'
  | 'draw-keep-out'
  | 'true-scale'
  | 'add-feed'
  | 'paint';

/** What a drag clings to just now: lines across the panel, mm. */
export interface ClungLines {
  readonly xMm?: number | undefined;
  readonly yMm?: number | undefined;
}

/** Who stands in front of the panel, and what of it is looked at. */
export interface Viewer {
  readonly isStanding: boolean;
  /** The lit glass, the LEDs without a sheet, or how they are wired. */
  readonly look: 'glass' | 'bare' | 'wiring';
  readonly metres: number;
  /** As large as the screen instead of as large as it looks from there. */
  readonly fills: boolean;
  readonly eyeAdapts: boolean;
}

/** Which version of the document is where. Versions are compared by identity: edits make new ones, undo brings back equal ones. */
export interface Kept {
  /** In a file of the builder's. */
  readonly file: { readonly name: string; readonly project: Project; readonly atMs: number } | undefined;
  /** In the browser's store, in case the page is closed or breaks down. */
  readonly browser: Project | undefined;
  /** Why the browser's store can't be used, in words. */
  readonly browserFault: string | undefined;
}

export interface WorkbenchState {
  readonly history: History;
  /** Project and places as they are; what it says of shows, speed and memory may wait until a drag ends. */
  readonly compiled: CompiledProject;
  /** The last one that is of one piece: what the player plays. */
  readonly settled: CompiledProject;
  readonly figures: Figures;
  readonly kept: Kept;
  readonly selection: Selection;
  readonly stage: StageId;
  readonly view: ViewId;
  readonly side: SideId;
  readonly tool: ToolId;
  /** 0 dark to 1 lit. */
  readonly roomLight: number;
  readonly exposureStops: number;
  readonly viewer: Viewer;
  /** Something to tell that needs no answer; the next edit or Escape takes it away. */
  readonly message: { readonly title: string; readonly lines: readonly string[] } | undefined;
  /** Whether the list of keys is open. */
  readonly listsKeys: boolean;
  readonly snapLines: ClungLines;
  /** What was measured last with the measuring tool. */
  readonly measured: { readonly from: PointMm; readonly to: PointMm } | undefined;
  /** Windows and stars that were marked to be lit. */
  readonly spots: readonly PointMm[];
  /** Clips that were copied last, for pasting into any show of the project. */
  readonly copiedClips: readonly CopiedClip[];
  readonly painting: Painting;
  readonly powerView: PowerView;
  readonly flashes: Flashes;
  readonly game: Game;
}

export type ScreenPart = Partial<
  Pick<
    WorkbenchState,
    | 'stage'
    | 'view'
    | 'side'
    | 'tool'
    | 'roomLight'
    | 'exposureStops'
    | 'viewer'
    | 'message'
    | 'kept'
    | 'listsKeys'
    | 'snapLines'
    | 'measured'
    | 'spots'
    | 'copiedClips'
    | 'painting'
    | 'powerView'
    | 'flashes'
    | 'game'
  >
>;

export interface WorkbenchPorts {
  readonly templates: FirmwareTemplates;
  readonly player: Player;
  readonly nowMs: () => number;
  /** Runs something later; returns how to call it off. */
  readonly later: (run: () => void, delayMs: number) => () => void;
}

/** Figures follow an edit after this long. */
const figuresDelayMs = 90;
/** During a drag they wait until the hand has rested for so long: what they cost must not fall between two moves. */
const restMs = 180;

/** What a stage is best seen in, chosen when it is entered. */
const viewOfStage: Readonly<Partial<Record<StageId, ViewId>>> = {
  panel: 'artwork',
  runs: 'wiring',
  lampshows: 'lit',
  power: 'volts',
};

const isResized = (before: Project, after: Project): boolean =>
  before.panel.widthMm !== after.panel.widthMm || before.panel.heightMm !== after.panel.heightMm;

export class Workbench {
  readonly store: StoreApi<WorkbenchState>;
  readonly playback: Playback;
  readonly ports: WorkbenchPorts;
  private callOff: (() => void) | undefined;
  private isDragging = false;
  private performed:
    | { readonly game: Pick<Game, 'presses' | 'start'>; readonly data: ShowData; readonly of: Performance }
    | undefined;
  /** While a button of the pointer is down, keys must not pull away what it drags, nor end what the drag has begun. */
  isPointerHeld = false;

  constructor(project: Project, ports: WorkbenchPorts, screen: ScreenPart & { readonly playing: boolean }) {
    const { playing, ...parts } = screen;
    const compiled = compileProject(project, ports.templates);
    this.ports = ports;
    this.play(compiled);
    this.playback = new Playback(
      { show: project.attractMode, playing, frame: 0 },
      compiled.frameMs,
      ports.nowMs,
    );
    this.store = createStore<WorkbenchState>()(() => ({
      history: startHistory(project),
      compiled,
      settled: compiled,
      figures: figuresOf(compiled),
      kept: { file: undefined, browser: undefined, browserFault: undefined },
      selection: nothing,
      stage: 'lampshows',
      view: 'lit',
      side: 'front',
      tool: 'select',
      roomLight: 0,
      exposureStops: 0,
      viewer: { isStanding: false, look: 'glass', metres: 1.5, fills: false, eyeAdapts: true },
      message: undefined,
      listsKeys: false,
      snapLines: {},
      measured: undefined,
      spots: [],
      copiedClips: [],
      painting: firstStrokes,
      powerView: firstPowerView,
      flashes: { distanceMm: usualDistanceMm, answer: undefined },
      game: noGame,
      ...parts,
    }));
    // Whoever chooses a show wants to see that one.
    this.playback.subscribe(() => {
      const isOn = this.playback.current().reached !== undefined;
      const { game } = this.state;
      if (game.isOn !== isOn) this.store.setState({ game: { ...game, isOn } });
    });
  }

  get state(): WorkbenchState {
    return this.store.getState();
  }

  get project(): Project {
    return this.state.history.project;
  }

  /** `label` names the step for the undo button. Edits in a row with one `gesture` are one step. */
  edit(label: string, edit: Edit, gesture?: string): void {
    this.setHistory(edited(this.state.history, label, edit, gesture));
  }

  /** While the hand drags something, edits only move what is drawn; all else follows when it lets go or rests. */
  beginDrag(): void {
    this.isDragging = true;
  }

  endDrag(): void {
    this.isDragging = false;
    this.settle();
  }

  /** Ends a gesture, whichever it is: the next edit is a step of its own. */
  endGesture(): void {
    const history = endGesture(this.state.history);
    if (history !== this.state.history) this.store.setState({ history });
  }

  /** Takes back all that a gesture did, as if it had never begun. */
  cancelGesture(gesture: string): void {
    if (this.state.history.past.at(-1)?.gesture === gesture)
      this.setHistory({ ...undone(this.state.history), future: [] });
  }

  undo(): void {
    this.setHistory(undone(this.state.history));
  }

  redo(): void {
    this.setHistory(redone(this.state.history));
  }

  select(selection: Selection): void {
    const live = liveSelection(this.project, selection);
    if (!sameSelection(live, this.state.selection)) this.store.setState({ selection: live });
  }

  set(part: ScreenPart): void {
    this.store.setState(part);
  }

  enter(stage: StageId): void {
    const view = viewOfStage[stage];
    this.store.setState({ stage, tool: 'select', measured: undefined, ...(view ? { view } : {}) });
  }

  /** Another project in this one's place; it begins without anything to undo. Only src/app/files calls it: it puts the old one aside first. */
  replace(project: Project, kept: Partial<Kept> = {}): void {
    this.store.setState({
      selection: nothing,
      message: undefined,
      game: noGame,
      powerView: firstPowerView,
      kept: { ...this.state.kept, file: undefined, browser: undefined, ...kept },
    });
    this.setHistory(startHistory(project));
    this.settleFigures();
    this.playback.choose(project.attractMode);
  }

  /** A change of the document that is no edit and can't be undone: the date of saving. */
  amend(change: Pick<Project, 'savedOn'>): void {
    this.setHistory({ ...this.state.history, project: { ...this.project, ...change } });
  }

  /** What the wire carries. Valid until the next call; dark where the shows are too large for any player. */
  wireBytes(show: string, frame: number): Uint8Array {
    const { showData, layout } = this.state.settled;
    return showData?.showNumbers.has(show)
      ? this.ports.player.frame(show, frame)
      : new Uint8Array(wireByteCount(layout));
  }

  /** The game's presses heard by the director of the player; undefined where the shows are too large for any player. Good until the next edit. */
  performance(): Performance | undefined {
    const { settled, game } = this.state;
    const { showData: data, project, frameMs } = settled;
    if (!data) return undefined;
    const played = playedGame(project, game);
    const known = this.performed;
    if (known?.data === data && known.game.presses === played.presses && known.game.start === played.start)
      return known.of;
    const of = this.ports.player.perform(...heardInGame(played, project, frameMs));
    this.performed = { game: played, data, of };
    return of;
  }

  /** What the glass shows: what the wire carries at the frame that is due, valid until the next call, and the show that has the panel then. */
  shown(): { readonly bytes: Uint8Array; readonly show: string } {
    const { show, frame } = this.playback.current();
    const performance = this.state.game.isOn ? this.performance() : undefined;
    if (!performance) return { bytes: this.wireBytes(show, frame), show };
    const { lampshow } = performance.directorAt(frame);
    return { bytes: performance(frame), show: lampshow };
  }

  /** Brings the figures up to the document now. */
  settleFigures(): void {
    this.callOff?.();
    this.callOff = undefined;
    this.settle();
    const { settled, figures } = this.state;
    if (figures.compiled !== settled) this.store.setState({ figures: figuresOf(settled) });
  }

  private setHistory(history: History): void {
    const { state } = this;
    if (history === state.history) return;
    const isSame = history.project === state.history.project;
    this.store.setState({
      history,
      ...(isSame ? {} : { compiled: relaidProject(state.compiled, history.project) }),
      // What was marked on the artwork at another scale would mean other places.
      ...(isResized(state.history.project, history.project) ? { spots: [], measured: undefined } : {}),
      selection: liveSelection(
        history.project,
        followedClips(state.history.project, history.project, state.selection),
      ),
      message: undefined,
    });
    if (!this.isDragging) this.settle();
    // While a hand drags, what takes time waits until it rests.
    if (this.isDragging) this.callOff?.();
    if (this.isDragging || !this.callOff)
      this.callOff = this.ports.later(() => this.settleFigures(), this.isDragging ? restMs : figuresDelayMs);
  }

  /** Compiles what a drag has left for later. */
  private settle(): void {
    const { settled, compiled } = this.state;
    if (settled === compiled) return;
    const next = recompileProject(settled, compiled.project, this.ports.templates);
    if (next.showData !== settled.showData) this.play(next);
    this.store.setState({ compiled: next, settled: next });
    this.playback.follow(next.frameMs, next.project.lampshows);
  }

  private play({ showData }: CompiledProject): void {
    if (showData) this.ports.player.setShowData(showData);
  }
}
