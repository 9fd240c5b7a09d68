// A picked picture before it is kept: what it looks like, how wide it is in truth, and how large the project gets by it. Enter places it.
import { useEffect, useRef, useState } from 'react';
import { Dialog, Heading, Modal, ModalOverlay } from 'react-aria-components';
import { limits, type Problem, problemLine } from '../../../project/index.ts';
import { Button, Buttons, Cautions, Derived, NumberField, stopsAtRefused } from '../../fields/index.ts';
import type { Picture } from '../../files/artwork.ts';
import { type KeptPicture, keptPicture } from '../../files/photo-work.ts';
import { useCommander } from '../../workbench/context.ts';
import css from './dialogs.module.css';
import { drawPhoto } from './draw-photo.ts';
import { kilobytes, pixels } from './size-words.ts';
import { fitScale } from './straighten-geometry.ts';

const thumbnail = { width: 320, height: 240 } as const;

interface Outcome {
  readonly widthMm: number;
  readonly kept?: KeptPicture;
  readonly problems?: readonly Problem[];
}

/** What would be kept at this width; undefined while it is worked out. */
function useOutcome(picture: Picture, widthMm: number, heightMm: number): Outcome | undefined {
  const [outcome, setOutcome] = useState<Outcome>();
  useEffect(() => {
    let wanted = true;
    // A width that is still being typed is not worth a worker.
    const timer = setTimeout(() => {
      void keptPicture(picture, { widthMm, heightMm }).then((kept) => {
        if (wanted)
          setOutcome(kept.ok ? { widthMm, kept: kept.value } : { widthMm, problems: kept.problems });
      });
    }, 60);
    return () => {
      wanted = false;
      clearTimeout(timer);
    };
  }, [picture, widthMm, heightMm]);
  return outcome?.widthMm === widthMm ? outcome : undefined;
}

export function PlaceDialog({
  picture,
  firstWidthMm,
  onStraighten,
  onClose,
}: {
  readonly picture: Picture;
  readonly firstWidthMm: number;
  readonly onStraighten: (widthMm: number) => void;
  readonly onClose: () => void;
}) {
  const { files } = useCommander();
  const [widthMm, setWidthMm] = useState(firstWidthMm);
  /** Enter came before all was worked out. */
  const [isAccepted, setAccepted] = useState(false);
  const canvas = useRef<HTMLCanvasElement>(null);
  const form = useRef<HTMLFormElement>(null);
  const { image, name, mediaType, removed } = picture;
  const { naturalWidth: width, naturalHeight: height } = image;
  const aspect = width / height;
  const heightMm = Math.round((widthMm / aspect) * 100) / 100;
  const outcome = useOutcome(picture, widthMm, heightMm);
  const isPhoto = mediaType !== 'image/svg+xml';
  const scale = fitScale({ width, height }, thumbnail);

  // The width is what is asked: it can be typed at once.
  useEffect(() => {
    const field = form.current?.querySelector('input');
    field?.focus();
    field?.select();
  }, []);
  useEffect(() => drawPhoto(canvas.current, image, scale), [image, scale]);
  useEffect(() => {
    if (!isAccepted || !outcome) return;
    setAccepted(false);
    if (!outcome.kept) return;
    files.placeArtwork('Place artwork', outcome.kept.image, name, widthMm, aspect);
    onClose();
  }, [isAccepted, outcome, files, name, widthMm, aspect, onClose]);

  return (
    <ModalOverlay className={css['overlay']!} isOpen onOpenChange={(isOpen) => !isOpen && onClose()}>
      <Modal className={css['modal']!}>
        <Dialog className={css['dialog']!}>
          <Heading slot="title">Place a picture</Heading>
          <form
            ref={form}
            className={css['place']}
            onSubmit={(event) => {
              event.preventDefault();
              if (!stopsAtRefused(event.currentTarget)) setAccepted(true);
            }}
          >
            <canvas ref={canvas} aria-label={`The picture ${name}`} role="img" />
            <div>
              <p className={css['name']}>{name}</p>
              <NumberField
                label="The picture is this wide"
                unit="mm"
                value={widthMm}
                least={1}
                most={Math.min(limits.panelMm, Math.floor(limits.panelMm * aspect))}
                onChange={setWidthMm}
              />
              <Derived label="And this high" unit="mm">
                {heightMm.toFixed(1)}
              </Derived>
              {isPhoto && <Derived label="In the file">{pixels(width, height)}</Derived>}
              <Derived label="Kept in the project">
                {outcome?.kept
                  ? `${isPhoto ? `${pixels(outcome.kept.widthPx, outcome.kept.heightPx)}, ` : ''}${kilobytes(outcome.kept.sizeBytes)} kB`
                  : outcome
                    ? 'not at all'
                    : 'working it out'}
              </Derived>
              {removed.length > 0 && (
                <Cautions words={[`Taken out of the drawing: ${removed.join(', ')}.`]} />
              )}
              {outcome?.problems && <Cautions words={outcome.problems.map(problemLine)} />}
            </div>
          </form>
          <Buttons>
            <Button
              tone="main"
              onPress={() => setAccepted(true)}
              isDisabled={outcome !== undefined && !outcome.kept}
            >
              Place the picture
            </Button>
            {isPhoto && (
              <Button takesFigures onPress={() => onStraighten(widthMm)}>
                Straighten it first...
              </Button>
            )}
            <Button onPress={onClose}>Cancel</Button>
          </Buttons>
        </Dialog>
      </Modal>
    </ModalOverlay>
  );
}
