// The bar along the top: the program's name, the project's name, and the room light.
import type { Project } from '../../project/index.ts';
import { Mark } from './mark.tsx';
import css from './top-bar.module.css';

export const TopBar = ({
  project,
  roomLight,
  onRoomLight,
}: {
  readonly project: Pick<Project, 'name' | 'savedOn'>;
  /** 0 dark to 1 lit. */
  readonly roomLight: number;
  readonly onRoomLight: (roomLight: number) => void;
}) => (
  <header className={css['bar']} data-bar="top">
    <div className={css['wordmark']}>
      <Mark />
      <span>Lamploom</span>
    </div>
    <div className={css['project']}>
      <h1>{project.name}</h1>
      <span>
        Sample, saved on <span className={css['date']}>{project.savedOn}</span>
      </span>
    </div>
    <label className={css['room']}>
      <span>Room light</span>
      <input
        type="range"
        min={0}
        max={1}
        step={0.01}
        value={roomLight}
        aria-valuetext={`${Math.round(100 * roomLight)} percent`}
        onChange={(event) => onRoomLight(event.currentTarget.valueAsNumber)}
      />
    </label>
  </header>
);
