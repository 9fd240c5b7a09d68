// What dragging a clip does, by where it is held: the whole of it, an end, an end with Shift (stretches), an upper corner (fades). From the show as it
// was when the drag began, always. Pure; no pointers and pixels (use-clip-drag.ts).
import {
  type Clip,
  type ClipSpot,
  changeClip,
  clipAtSpot,
  type Edit,
  type Lampshow,
  moveClips,
  movedSpots,
  type Project,
  spanOfClips,
  stretchClips,
} from '../../../project/index.ts';
import { clipEndMs, draggedMoment, draggedSpan, type Snapping } from './clip-times.ts';

type DragKind = 'move' | 'start' | 'end' | 'fade-in' | 'fade-out' | 'stretch-start' | 'stretch-end';

export interface ClipDrag {
  readonly kind: DragKind;
  readonly show: Lampshow;
  /** The clip that is held. */
  readonly spot: ClipSpot;
  readonly clip: Clip;
  /** All that are dragged along; those that are held by an end to trim it or by a corner are alone. */
  readonly spots: readonly ClipSpot[];
  readonly clips: readonly Clip[];
  /** All that are chosen. */
  readonly chosen: readonly ClipSpot[];
  readonly extentMs: number;
}

interface Press {
  readonly show: Lampshow;
  readonly spot: ClipSpot;
  readonly clip: Clip;
  readonly spots: readonly ClipSpot[];
  /** Data of the part that is held, of an end or a corner. */
  readonly part: Readonly<Record<string, string | undefined>> | undefined;
  readonly stretches: boolean;
  readonly extent: number;
}

function kindOf({ part, stretches }: Pick<Press, 'part' | 'stretches'>): DragKind {
  if (part?.['fade'] !== undefined) return part['fade'] === 'in' ? 'fade-in' : 'fade-out';
  if (part?.['edge'] === undefined) return 'move';
  const end = part['edge'] === 'start' ? 'start' : 'end';
  return stretches ? `stretch-${end}` : end;
}

export function dragOf(press: Press): ClipDrag {
  const kind = kindOf(press);
  const { show, spot, clip, spots: chosen, extent: extentMs } = press;
  const goAlong = kind === 'move' || kind.startsWith('stretch');
  const spots = goAlong ? chosen : [spot];
  const clips = spots.flatMap((one) => clipAtSpot(show.rows, one) ?? []);
  return { kind, show, spot, clip, spots, clips, chosen, extentMs };
}

export interface PlannedDrag {
  readonly label: string;
  /** For the project as it was when the drag began. */
  readonly edit: Edit;
  /** Where the chosen clips stand afterwards. */
  readonly spots: readonly ClipSpot[];
}

type Plan = (drag: ClipDrag, byMs: number, byRows: number, snapping: Snapping) => PlannedDrag;

const trim =
  (edge: 'start' | 'end'): Plan =>
  ({ show, spot, clip, chosen, extentMs }, byMs, _, snapping) => ({
    label: 'Trim clip',
    edit: changeClip({ show: show.id, ...spot }, draggedSpan(clip, edge, byMs, snapping, extentMs)),
    spots: chosen,
  });

const stretch =
  (edge: 'start' | 'end'): Plan =>
  ({ show, spots, clips, chosen, extentMs }, byMs, _, snapping) => {
    const { startMs, endMs } = spanOfClips(clips);
    const span = { startMs, lengthMs: endMs - startMs };
    const { lengthMs } = draggedSpan(span, edge, byMs, snapping, extentMs);
    return {
      label: 'Stretch',
      edit: stretchClips(show.id, spots, lengthMs / span.lengthMs, edge === 'start' ? 'end' : 'start'),
      spots: chosen,
    };
  };

/** A fade of nothing is none. */
const fade =
  (key: 'fadeInMs' | 'fadeOutMs'): Plan =>
  ({ show, spot, clip, chosen }, byMs, _, snapping) => {
    const isIn = key === 'fadeInMs';
    const before = Math.min(clip[key] ?? 0, clip.lengthMs);
    const at = draggedMoment((isIn ? clip.startMs + before : clipEndMs(clip) - before) + byMs, snapping);
    const wished = isIn ? at - clip.startMs : clipEndMs(clip) - at;
    const ms = Math.min(clip.lengthMs, Math.max(0, wished));
    return {
      label: 'Change fade',
      edit: changeClip({ show: show.id, ...spot }, { [key]: ms === 0 ? undefined : ms }),
      spots: chosen,
    };
  };

const move: Plan = ({ show, spots, clip, clips, extentMs }, byMs, byRows, snapping) => {
  // The clip that is held snaps; the others keep their distance, and none is pushed beyond the end of what is in view.
  const behindMs = spanOfClips(clips).endMs - clipEndMs(clip);
  const { startMs } = draggedSpan(clip, 'both', byMs, snapping, extentMs - behindMs);
  return {
    label: spots.length === 1 ? 'Move clip' : 'Move clips',
    edit: moveClips(show.id, spots, startMs - clip.startMs, byRows),
    spots: movedSpots(show.rows, spots, byRows),
  };
};

const plans: Readonly<Record<DragKind, Plan>> = {
  move,
  start: trim('start'),
  end: trim('end'),
  'stretch-start': stretch('start'),
  'stretch-end': stretch('end'),
  'fade-in': fade('fadeInMs'),
  'fade-out': fade('fadeOutMs'),
};

/** Where the hand is: so many ms later and so many rows further down than where it pressed. */
export const plannedDrag: Plan = (drag, byMs, byRows, snapping) =>
  plans[drag.kind](drag, byMs, byRows, snapping);

/** Makes a show what it is in another version of the project. */
export const showAsIn =
  (project: Project, id: string): Edit =>
  (draft) => {
    const index = draft.lampshows.findIndex((show) => show.id === id);
    const show = project.lampshows.find((one) => one.id === id);
    if (show && index >= 0) draft.lampshows[index] = show;
  };
