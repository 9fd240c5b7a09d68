// Where on the screen a place of the document is edited, so that a finding or a figure can lead to its cause.
import type { Project } from '../../project/index.ts';
import { nothing, type Selection } from './selection.ts';
import type { StageId } from './workbench.ts';

export interface Cause {
  readonly stage: StageId;
  readonly selection: Selection;
}

type Steps = readonly (string | undefined)[];

const causes: Readonly<Record<string, (project: Project, steps: Steps) => Cause>> = {
  panel: () => ({ stage: 'panel', selection: nothing }),
  runs: ({ runs }, [index]) => {
    const run = runs[Number(index)];
    return { stage: 'runs', selection: run ? { kind: 'run', id: run.id } : nothing };
  },
  asBuilt: ({ runs, asBuilt }, [list, index]) => {
    const at = Number(index);
    const id = list === 'swaps' ? asBuilt?.swaps[at]?.first : asBuilt?.runs[at]?.run;
    const run = runs.find((one) => one.id === id);
    return { stage: 'runs', selection: run ? { kind: 'run', id: run.id } : nothing };
  },
  channels: () => ({ stage: 'runs', selection: nothing }),
  strips: () => ({ stage: 'runs', selection: nothing }),
  dataLines: (_, [line, part, place]) =>
    part === 'pin'
      ? { stage: 'board', selection: nothing }
      : { stage: 'runs', selection: { kind: 'jumper', line: Number(line), place: Number(place) } },
  areas: ({ areas }, [index]) => {
    const area = areas[Number(index)];
    return { stage: 'runs', selection: area ? { kind: 'area', id: area.id } : nothing };
  },
  lampshows: ({ lampshows }, [show, , row, , clip]) => {
    const id = lampshows[Number(show)]?.id;
    return {
      stage: 'lampshows',
      selection:
        id !== undefined && clip !== undefined
          ? { kind: 'clip', show: id, row: Number(row), clip: Number(clip) }
          : nothing,
    };
  },
  gradients: () => ({ stage: 'lampshows', selection: nothing }),
  power: (_, [part, index]) => ({
    stage: 'power',
    selection: part === 'feeds' && index !== undefined ? { kind: 'feed', index: Number(index) } : nothing,
  }),
  board: () => ({ stage: 'board', selection: nothing }),
  gameEvents: ({ gameEvents }, [index]) => {
    const event = gameEvents?.[Number(index)];
    return {
      stage: 'lampshows',
      selection: event ? { kind: 'game-event', id: event.id } : { kind: 'inputs' },
    };
  },
  inputs: () => ({ stage: 'lampshows', selection: { kind: 'inputs' } }),
};

/** `at` is a JSON pointer. */
export function causeOf(project: Project, at: string): Cause {
  const [, list = '', ...steps] = at.split('/');
  return causes[list]?.(project, steps) ?? { stage: 'panel', selection: nothing };
}
