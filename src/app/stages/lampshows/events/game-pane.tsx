// The inspector while a game is played: what the director does and what was pressed; what is kept as tests; the events themselves.
import { InspectorTitle, Segments } from '../../../fields/index.ts';
import { useWorkbench } from '../../../workbench/context.ts';
import type { Game } from '../../../workbench/game.ts';
import { DirectorGroup } from './director-group.tsx';
import { EventList } from './event-list.tsx';
import css from './events.module.css';
import { PressesGroup } from './presses-group.tsx';
import { TestsGroup } from './tests-group.tsx';
import { useGame } from './use-game.ts';

const panes: readonly { readonly id: Game['pane']; readonly label: string }[] = [
  { id: 'now', label: 'Now' },
  { id: 'tests', label: 'Tests' },
  { id: 'events', label: 'Events' },
];

export function GamePane() {
  const workbench = useWorkbench();
  const game = useGame();
  return (
    <>
      <InspectorTitle title="Playing as the game">What the board would send, from power-up on</InspectorTitle>
      <div className={css['panes']}>
        <Segments
          label="Of the game"
          value={game.pane}
          choices={panes}
          onChange={(pane) => workbench.set({ game: { ...game, pane } })}
        />
      </div>
      {game.pane === 'now' && (
        <>
          <DirectorGroup />
          <PressesGroup />
        </>
      )}
      {game.pane === 'tests' && <TestsGroup />}
      {game.pane === 'events' && <EventList />}
    </>
  );
}
