// The dialog "Share": a picture of the glass, a film of the show, shows for another builder's panel, and taking such shows in.
import { useState } from 'react';
import { Segments } from '../../../fields/index.ts';
import { StageDialog } from '../../runs/dialog.tsx';
import { useFilmPart } from './film-part.tsx';
import { useGivePart } from './give-part.tsx';
import { usePicturePart } from './picture-part.tsx';
import css from './share.module.css';
import type { SharePart } from './share-part.ts';
import { useTakePart } from './take-part.tsx';

const choices = [
  { id: 'picture', label: 'Picture' },
  { id: 'film', label: 'Film' },
  { id: 'give', label: 'Give shows' },
  { id: 'take', label: 'Take shows in' },
] as const;
type PartId = (typeof choices)[number]['id'];

export function ShareDialog({ onClose }: { readonly onClose: () => void }) {
  const [chosen, setChosen] = useState<PartId>('picture');
  const parts: Readonly<Record<PartId, SharePart>> = {
    picture: usePicturePart(chosen === 'picture'),
    film: useFilmPart(chosen === 'film'),
    give: useGivePart(chosen === 'give'),
    take: useTakePart(chosen === 'take', onClose),
  };
  const part = parts[chosen];
  return (
    <StageDialog
      title="Share"
      act={part.act}
      onAct={part.onAct}
      close={part.onStop ? undefined : 'Close'}
      onClose={part.onStop ?? onClose}
    >
      <div className={css['parts']}>
        <Segments
          label="What to share"
          value={chosen}
          choices={choices}
          onChange={(id) => {
            part.onStop?.();
            setChosen(id);
          }}
        />
      </div>
      {part.body}
    </StageDialog>
  );
}
