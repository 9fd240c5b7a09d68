// What the director holds at the frame that is due, in words.
import { Group } from '../../../fields/index.ts';
import { usePlaybackPart, useSettled } from '../../../workbench/context.ts';
import { directorRows } from './director-words.ts';
import css from './events.module.css';
import { useDirector } from './use-game.ts';

export function DirectorGroup() {
  const director = useDirector();
  const frame = usePlaybackPart('frame');
  const { project, frameMs } = useSettled();
  if (!director)
    return (
      <Group title="The director">
        <p>The shows are too large for any board: nothing plays.</p>
      </Group>
    );
  return (
    <Group title="The director">
      <dl className={css['director']} data-director>
        {directorRows(director, project, frame, frameMs).map(({ label, text }) => (
          <div key={label}>
            <dt>{label}</dt>
            <dd>{text}</dd>
          </div>
        ))}
      </dl>
    </Group>
  );
}
