// The right edge of the stage: the chosen clip or clips, game event or inputs, else the game that is played or the show.
import { useEffect } from 'react';
import { clipAtSpot } from '../../../project/index.ts';
import { useProject, useScreen, useSelected, useWorkbench } from '../../workbench/context.ts';
import { isPainting, paintedPlaceOf } from '../../workbench/painting.ts';
import { ClipPane } from './clip-pane.tsx';
import { ClipsPane } from './clips-pane.tsx';
import { EventPane } from './events/event-pane.tsx';
import { GamePane } from './events/game-pane.tsx';
import { InputsPane } from './events/inputs-pane.tsx';
import { useIsGame } from './events/use-game.ts';
import { PaintPane } from './paint/paint-pane.tsx';
import { ShowPane } from './show-pane.tsx';
import { useShow } from './use-show.ts';

/** While cells are painted, all that painting needs stands in the place of the clip's other fields. */
function Painting() {
  const selection = useScreen((state) => state.selection);
  const history = useScreen((state) => state.history);
  const painting = useScreen((state) => state.painting);
  const painted = paintedPlaceOf({ selection, history, painting });
  return painted ? <PaintPane painted={painted} /> : null;
}

function ChosenEvent({ id }: { readonly id: string }) {
  const events = useProject(({ gameEvents }) => gameEvents) ?? [];
  const index = events.findIndex((one) => one.id === id);
  const event = events[index];
  return event ? <EventPane key={id} event={event} index={index} /> : null;
}

/** The brush is laid down where no painted clip is chosen any more, or undo has made it another effect. */
function useBrushLaidDown(): void {
  const workbench = useWorkbench();
  const isLeftOver = useScreen((state) => state.tool === 'paint' && !isPainting(state));
  useEffect(() => {
    if (isLeftOver) workbench.set({ tool: 'select' });
  }, [workbench, isLeftOver]);
}

export function Inspector() {
  useBrushLaidDown();
  const event = useSelected('game-event');
  const inputs = useSelected('inputs');
  const isGame = useIsGame();
  if (event) return <ChosenEvent id={event.id} />;
  if (inputs) return <InputsPane />;
  return isGame ? <GamePane /> : <OfShow />;
}

function OfShow() {
  const paints = useScreen(isPainting);
  const place = useSelected('clip');
  const several = useSelected('clips');
  const show = useShow();
  const clip = place?.show === show.id ? show.rows[place.row]?.clips[place.clip] : undefined;
  if (several?.show === show.id) {
    const { spots } = several;
    const clips = spots.flatMap((spot) => clipAtSpot(show.rows, spot) ?? []);
    const key = spots.map((spot) => `${spot.row} ${spot.clip}`).join(' ');
    if (clips.length === spots.length) return <ClipsPane key={key} show={show} spots={spots} clips={clips} />;
  }
  if (paints && clip) return <Painting />;
  return place && clip ? (
    // What is typed belongs to one clip: another one gets fields of its own.
    <ClipPane key={`${place.show} ${place.row} ${place.clip}`} place={place} clip={clip} />
  ) : (
    <ShowPane key={show.id} show={show} />
  );
}
