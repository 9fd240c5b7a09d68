// The show at hand: the one that plays. A clip that is chosen elsewhere (a finding, a figure) brings its show along; another show lets go of a clip.
import { useEffect } from 'react';
import type { Lampshow } from '../../../project/index.ts';
import { usePlaybackPart, useProject, useSelection, useWorkbench } from '../../workbench/context.ts';
import { chosenClips, nothing } from '../../workbench/selection.ts';

/** The playback names a show that the document holds; see Playback.follow. */
export function useShow(): Lampshow {
  const id = usePlaybackPart('show');
  return useProject(({ lampshows }) => lampshows.find((show) => show.id === id) ?? lampshows[0]!);
}

export function useShowFollowsSelection(): void {
  const workbench = useWorkbench();
  const selection = useSelection();
  const show = usePlaybackPart('show');
  useEffect(() => {
    const { playback } = workbench;
    const chosen = chosenClips(selection);
    if (!chosen) return;
    // A clip is seen in its show, not in a game.
    playback.leaveGame();
    if (chosen.show !== playback.current().show) playback.choose(chosen.show);
  }, [workbench, selection]);
  // After the one above: a clip that brought its show along is not let go of.
  useEffect(() => {
    const chosen = chosenClips(workbench.state.selection);
    if (chosen && chosen.show !== workbench.playback.current().show && show !== chosen.show)
      workbench.select(nothing);
  }, [workbench, show]);
}
