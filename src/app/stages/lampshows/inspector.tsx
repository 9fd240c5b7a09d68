// The right edge of the stage: the chosen clip, else the show.
import { useSelected } from '../../workbench/context.ts';
import { ClipPane } from './clip-pane.tsx';
import { ShowPane } from './show-pane.tsx';
import { useShow } from './use-show.ts';

export function Inspector() {
  const place = useSelected('clip');
  const show = useShow();
  const clip = place?.show === show.id ? show.rows[place.row]?.clips[place.clip] : undefined;
  return place && clip ? (
    // What is typed belongs to one clip: another one gets fields of its own.
    <ClipPane key={`${place.show} ${place.row} ${place.clip}`} place={place} clip={clip} />
  ) : (
    <ShowPane key={show.id} show={show} />
  );
}
