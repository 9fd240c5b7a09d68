// Straightening a photo: four corners are set on it by hand, by keys or by number, and the piece between them becomes the artwork, as large as it is told
// to be. The size of the result is told before it is taken.
// Not here: the corners on the photo (corner-handles.tsx), the work (src/app/files/photo-work.ts).
import { useEffect, useRef, useState } from 'react';
import { Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components';
import type { Corners } from '../../../panel/index.ts';
import { limits, type Problem, problemLine } from '../../../project/index.ts';
import { Button, Buttons, Cautions, Derived, FieldRow, NumberField } from '../../fields/index.ts';
import { type KeptPicture, keptOf, PhotoWork } from '../../files/photo-work.ts';
import { useCommander } from '../../workbench/context.ts';
import { CornerHandles } from './corner-handles.tsx';
import css from './dialogs.module.css';
import { drawLoupe } from './draw-photo.ts';
import type { ToStraighten } from './picture-dialogs.tsx';
import { kilobytes, pixels } from './size-words.ts';
import { cornerNames, firstCorners, seenAspect, withCorner } from './straighten-geometry.ts';

interface Wanted {
  readonly corners: Corners;
  readonly widthMm: number;
  readonly heightMm: number;
}

interface Outcome {
  readonly of: Wanted;
  readonly kept?: KeptPicture;
  readonly problems?: readonly Problem[];
}

/** The work begins when the hand has rested for so long. */
const restMs = 250;

/** The straightened piece, ready to be kept; undefined while it is worked out. */
function useStraightened(photo: HTMLImageElement, wanted: Wanted): Outcome | undefined {
  const [work, setWork] = useState<PhotoWork>();
  const [outcome, setOutcome] = useState<Outcome>();
  useEffect(() => {
    const made = new PhotoWork(photo);
    setWork(made);
    return () => made.end();
  }, [photo]);
  useEffect(() => {
    if (!work) return;
    let isWanted = true;
    const timer = setTimeout(() => {
      void work.straighten(wanted.corners, wanted).then((answer) => {
        if (!isWanted || !answer) return;
        const kept = answer.ok ? keptOf(answer.value) : answer;
        setOutcome(kept.ok ? { of: wanted, kept: kept.value } : { of: wanted, problems: kept.problems });
      });
    }, restMs);
    return () => {
      isWanted = false;
      clearTimeout(timer);
    };
  }, [work, wanted]);
  return outcome?.of === wanted ? outcome : undefined;
}

const loupe = { sizePx: 168, zoom: 2 } as const;

/** The photo round the corner that is being set, twice as large as its pixels. */
function Loupe({
  photo,
  at,
}: {
  readonly photo: HTMLImageElement;
  readonly at: { readonly x: number; readonly y: number };
}) {
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => drawLoupe(canvas.current, photo, at, loupe.zoom), [photo, at]);
  return (
    <div className={css['loupe']} aria-hidden="true">
      <canvas ref={canvas} width={loupe.sizePx} height={loupe.sizePx} />
      <svg width={loupe.sizePx} height={loupe.sizePx} aria-hidden="true">
        <path
          d={`M${loupe.sizePx / 2} 0V${loupe.sizePx}M0 ${loupe.sizePx / 2}H${loupe.sizePx}`}
          vectorEffect="non-scaling-stroke"
        />
      </svg>
    </div>
  );
}

/** What is told of the piece before it is taken. */
function outcomeWords(outcome: Outcome | undefined): string {
  if (!outcome) return 'working it out';
  return outcome.kept
    ? `${pixels(outcome.kept.widthPx, outcome.kept.heightPx)}, ${kilobytes(outcome.kept.sizeBytes)} kB`
    : 'not at all';
}

export function StraightenDialog({
  source,
  onClose,
}: {
  readonly source: ToStraighten;
  readonly onClose: () => void;
}) {
  const { files } = useCommander();
  const { image, name } = source;
  const photo = { width: image.naturalWidth, height: image.naturalHeight };
  const [corner, setCorner] = useState(0);
  const atFirst = () => firstCorners(photo, source.fillsPanel);
  const [wanted, setWanted] = useState<Wanted>(() => {
    const corners = atFirst();
    const heightMm = source.heightMm ?? Math.round(source.widthMm / seenAspect(corners));
    return { corners, widthMm: source.widthMm, heightMm };
  });
  const outcome = useStraightened(image, wanted);
  const { corners, widthMm, heightMm } = wanted;
  const move = (index: number, to: { readonly x: number; readonly y: number }) => {
    setCorner(index);
    setWanted((before) => ({ ...before, corners: withCorner(before.corners, index, to, photo) }));
  };
  const accept = () => {
    if (!outcome?.kept) return;
    files.placeArtwork('Straighten the photo', outcome.kept.image, name, widthMm, widthMm / heightMm);
    onClose();
  };
  return (
    <ModalOverlay className={css['overlay']!} isOpen onOpenChange={(isOpen) => !isOpen && onClose()}>
      <Modal className={css['modal']!}>
        <Dialog className={css['dialog']!}>
          <Heading slot="title">Straighten the photo</Heading>
          <p className={css['soft']}>
            Set the four corners on those of the artwork. Drag them, or use the arrow keys; with Shift in
            larger steps.
          </p>
          <div className={css['straighten']}>
            <CornerHandles
              image={image}
              corners={corners}
              chosen={corner}
              onMove={move}
              onChoose={setCorner}
            />
            <div className={css['side']}>
              <Loupe photo={image} at={corners[corner]!} />
              {cornerNames.map((label, index) => (
                <FieldRow key={label} label={label}>
                  {(['x', 'y'] as const).map((axis) => (
                    <NumberField
                      key={axis}
                      isBare
                      label={`${label} ${axis}`}
                      unit="px"
                      digits={0}
                      value={corners[index]![axis]}
                      least={0}
                      most={axis === 'x' ? photo.width : photo.height}
                      onChange={(value) => move(index, { ...corners[index]!, [axis]: value })}
                    />
                  ))}
                </FieldRow>
              ))}
              <FieldRow label="True size">
                {(['widthMm', 'heightMm'] as const).map((key) => (
                  <NumberField
                    key={key}
                    isBare
                    label={key === 'widthMm' ? 'True width' : 'True height'}
                    unit="mm"
                    value={wanted[key]}
                    least={1}
                    most={limits.panelMm}
                    onChange={(value) => setWanted((before) => ({ ...before, [key]: value }))}
                  />
                ))}
              </FieldRow>
              <Derived label="Kept">{outcomeWords(outcome)}</Derived>
              {outcome?.problems && <Cautions words={outcome.problems.map(problemLine)} />}
            </div>
          </div>
          <Buttons>
            <Button tone="main" isDisabled={!outcome?.kept} onPress={accept}>
              Use the straightened picture
            </Button>
            <Button onPress={() => setWanted((before) => ({ ...before, corners: atFirst() }))}>
              Corners as at first
            </Button>
            <Button onPress={onClose}>Cancel</Button>
          </Buttons>
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}
