// A film of the show, or of a part of it, at real speed: made off screen as fast as the computer can, looked at here, then saved.
import { useEffect, useMemo, useRef, useState } from 'react';
import { Button, Buttons, Cautions, Derived, NumberField, SelectField } from '../../../fields/index.ts';
import { fileNameOf, projectExtension } from '../../../files/file-store.ts';
import { type FilmKind, type FilmKindId, filmKinds, gifKind } from '../../../film/film-kinds.ts';
import { makeFilm } from '../../../film/film-maker.ts';
import { type FilmRate, filmPlan, filmSize, perSecondOf } from '../../../film/film-plan.ts';
import { figure, seconds } from '../../../format.ts';
import { useFlashes } from '../../../survey/use-flashes.ts';
import {
  useCommander,
  usePlaybackPart,
  usePlaybackState,
  useSettled,
  useWorkbench,
} from '../../../workbench/context.ts';
import { Halves, Note, Outcome } from '../../runs/dialog.tsx';
import { spansOf } from '../flash-spans.ts';
import { typedMs } from '../units.ts';
import { useShow } from '../use-show.ts';
import { Preview } from './picture-part.tsx';
import css from './share.module.css';
import type { SharePart } from './share-part.ts';
import { leastWidthPx, mostFilmPx, useFilmCanvas } from './use-film-canvas.ts';

const firstWidthPx = 800;
/** Between two frames the page goes on drawing; a pause each time would cost more than most frames. */
const sliceMs = 40;

const caution =
  'Flashing light can cause seizures in people with photosensitive epilepsy. Say so wherever the film is shown.';

const flashesFound =
  'In this show light flashes more than the limits allow: the marks on the time ruler say where.';

interface Made {
  readonly kind: FilmKind;
  readonly bytes: Uint8Array<ArrayBuffer>;
  /** Address of the film within this page. */
  readonly url: string;
}

type Work = { readonly done: number; readonly of: number; readonly stop: () => void };

/** In megabytes as people count them: `1.2 MB`. */
const megabytes = (bytes: number): string => (bytes / 1e6).toFixed(bytes < 1e6 ? 2 : 1);

const rateChoices = (frameMs: number): readonly { readonly id: FilmRate; readonly label: string }[] => [
  { id: 'board', label: `Board, ${(1000 / frameMs).toFixed(1)}` },
  { id: '25', label: '25' },
  { id: '30', label: '30' },
  { id: '50', label: '50' },
  { id: '60', label: '60' },
];

/** What the browser can pack at this size; GIF alone until it has answered. */
function useKinds(isActive: boolean, widthPx: number, heightPx: number): readonly FilmKind[] {
  const [kinds, setKinds] = useState<readonly FilmKind[]>([gifKind]);
  useEffect(() => {
    if (!isActive) return;
    let wanted = true;
    filmKinds({ widthPx, heightPx }).then(
      (found) => wanted && setKinds(found),
      () => wanted && setKinds([gifKind]),
    );
    return () => {
      wanted = false;
    };
  }, [isActive, widthPx, heightPx]);
  return kinds;
}

/** Paints every frame of the plan and packs it. Undefined where it was stopped. */
function useMaking() {
  const workbench = useWorkbench();
  const canvasOf = useFilmCanvas();
  return async (
    kind: FilmKind,
    show: string,
    size: ReturnType<typeof filmSize>,
    plan: ReturnType<typeof filmPlan>,
    onProgress: (done: number) => void,
    isWanted: () => boolean,
  ) => {
    const film = canvasOf(size);
    let sliceEnd = 0;
    const pause = async (): Promise<boolean> => {
      if (performance.now() >= sliceEnd) {
        await new Promise((resolve) => setTimeout(resolve, 0));
        sliceEnd = performance.now() + sliceMs;
      }
      return isWanted();
    };
    try {
      const packer =
        kind.id === 'gif'
          ? (await import('../../../film/gif.ts')).gifPacker(film.pixels, size, plan.perSecond)
          : await (await import('../../../film/video.ts')).videoPacker(
              kind.id,
              kind.codec!,
              film.canvas,
              plan.perSecond,
            );
      return await makeFilm({
        plan,
        paint: (frame) => film.paint(workbench.wireBytes(show, frame)),
        packer,
        onProgress,
        pause,
      });
    } finally {
      film.dispose();
    }
  };
}

/** A film that was made, as long as nothing is changed; its address is given back when it goes. */
function useMade(): readonly [Made | undefined, (made: Made | undefined) => void] {
  const [made, setMade] = useState<Made>();
  useEffect(() => () => (made ? URL.revokeObjectURL(made.url) : undefined), [made]);
  return [made, setMade];
}

export function useFilmPart(isActive: boolean): SharePart {
  const { files } = useCommander();
  const { project, frameMs } = useSettled();
  const { frame } = usePlaybackState();
  const loop = usePlaybackPart('loop');
  const show = useShow();
  const [wantedKind, setWantedKind] = useState<FilmKindId>();
  const [rate, setRate] = useState<FilmRate>('30');
  const [widthPx, setWidthPx] = useState(firstWidthPx);
  const [range, setRange] = useState(loop ?? { fromMs: 0, toMs: show.lengthMs });
  const [work, setWork] = useState<Work>();
  const [fault, setFault] = useState<string>();
  const [made, setMade] = useMade();
  const size = filmSize(project.panel, widthPx);
  const kinds = useKinds(isActive, size.widthPx, size.heightPx);
  const kind = kinds.find(({ id }) => id === wantedKind) ?? kinds[0]!;
  const perSecond = perSecondOf(rate, frameMs, kind.id === 'gif');
  const plan = useMemo(
    () => filmPlan(range.fromMs, range.toMs, perSecond, frameMs),
    [range, perSecond, frameMs],
  );
  const making = useMaking();
  const flashes = spansOf(useFlashes(), show).length > 0;
  const stopped = useRef<() => void>(undefined);
  useEffect(() => () => stopped.current?.(), []);

  const make = async () => {
    let wanted = true;
    const stop = () => {
      wanted = false;
      setWork(undefined);
    };
    stopped.current = stop;
    setFault(undefined);
    setWork({ done: 0, of: plan.frames.length, stop });
    const onProgress = (done: number) => wanted && setWork({ done, of: plan.frames.length, stop });
    try {
      const bytes = await making(kind, show.id, size, plan, onProgress, () => wanted);
      if (bytes && wanted) {
        const url = URL.createObjectURL(new Blob([bytes], { type: kind.mediaType }));
        setMade({ kind, bytes, url });
      }
    } catch (error) {
      if (wanted) setFault(error instanceof Error ? error.message : String(error));
    }
    // One that was stopped may end while the next is being made.
    if (wanted) setWork(undefined);
  };
  const save = ({ kind: { id, mediaType }, bytes }: Made) => {
    const name = fileNameOf(project.name).replace(projectExtension, `-${show.id}.${id}`);
    void files.saveBytes(name, bytes, mediaType);
  };
  /** Whatever is changed makes another film: the one being made, or made, is given up. */
  const changed =
    <T,>(set: (value: T) => void) =>
    (value: T) => {
      work?.stop();
      setMade(undefined);
      set(value);
    };
  const leastMs = Math.max(frameMs, Math.ceil(1000 / perSecond));
  const isWhole = range.fromMs === 0 && range.toMs === show.lengthMs;

  return {
    ...(work
      ? { act: 'Stop', onAct: work.stop, onStop: work.stop }
      : made
        ? { act: `Save the film, ${megabytes(made.bytes.length)} MB`, onAct: () => save(made) }
        : { act: 'Make the film', onAct: () => void make() }),
    body: (
      <Halves
        fields={
          <>
            <SelectField
              label="Kind"
              value={kind.id}
              choices={kinds}
              onChange={changed((id) => setWantedKind(id))}
            />
            <SelectField
              label="Frames a second"
              value={rate}
              choices={rateChoices(frameMs)}
              onChange={changed(setRate)}
            />
            <NumberField
              label="Width"
              unit="px"
              digits={0}
              step={10}
              least={leastWidthPx}
              most={mostFilmPx}
              value={widthPx}
              onChange={changed(setWidthPx)}
            />
            <NumberField
              label="From"
              unit="s"
              digits={3}
              step={0.1}
              least={0}
              most={(range.toMs - leastMs) / 1000}
              value={range.fromMs / 1000}
              onChange={changed((typed) => setRange({ ...range, fromMs: typedMs(typed) }))}
            />
            <NumberField
              label="To"
              unit="s"
              digits={3}
              step={0.1}
              least={(range.fromMs + leastMs) / 1000}
              most={show.lengthMs / 1000}
              value={range.toMs / 1000}
              onChange={changed((typed) => setRange({ ...range, toMs: typedMs(typed) }))}
            />
            <Buttons>
              <Button
                isDisabled={isWhole}
                onPress={() => changed(setRange)({ fromMs: 0, toMs: show.lengthMs })}
              >
                The whole show
              </Button>
            </Buttons>
            <Derived label="Frames">{figure(plan.frames.length)}</Derived>
            <Derived label="Lasts" unit="s">
              {seconds((1000 * plan.frames.length) / plan.perSecond)}
            </Derived>
            <Derived label="Size" unit="px">
              {size.widthPx} x {size.heightPx}
            </Derived>
          </>
        }
      >
        {made ? <Film made={made} /> : <Preview isActive={isActive && !work} frame={frame} />}
        {work && (
          <progress className={css['progress']} aria-label="Film made" value={work.done} max={work.of} />
        )}
        {work && (
          <Note>
            Frame {figure(work.done)} of {figure(work.of)}
          </Note>
        )}
        {fault !== undefined && <Outcome tone="warn">The film could not be made: {fault}.</Outcome>}
        <Cautions words={flashes ? [caution, flashesFound] : [caution]} />
        {kind.id === 'gif' && (
          <Note>A GIF has at most 256 colours a frame and 50 frames a second, and grows large.</Note>
        )}
      </Halves>
    ),
  };
}

function Film({ made: { kind, url } }: { readonly made: Made }) {
  return (
    <div className={css['preview']}>
      {kind.id === 'gif' ? (
        <img src={url} alt="The film as it was made" />
      ) : (
        <video src={url} controls loop muted aria-label="The film as it was made" />
      )}
    </div>
  );
}
