// The findings about one run, in words, where the run is edited.
import { type Finding, type Project, pointer } from '../../../project/index.ts';
import { Group } from '../../fields/index.ts';
import { useFigures } from '../../workbench/context.ts';
import css from './runs.module.css';

/** Places of the document that are about this run. */
function placesOf({ runs, asBuilt }: Project, id: string): string[] {
  const indices = (list: readonly boolean[]) => list.flatMap((isIt, index) => (isIt ? [index] : []));
  return [
    ...indices(runs.map((run) => run.id === id)).map((index) => pointer('runs', index)),
    ...indices((asBuilt?.runs ?? []).map(({ run }) => run === id)).map((index) =>
      pointer('asBuilt', 'runs', index),
    ),
    ...indices((asBuilt?.swaps ?? []).map(({ first, second }) => first === id || second === id)).map(
      (index) => pointer('asBuilt', 'swaps', index),
    ),
  ];
}

export function findingsOfRun(project: Project, id: string, findings: readonly Finding[]): Finding[] {
  const places = placesOf(project, id);
  return findings.filter(({ at }) => places.some((place) => at === place || at.startsWith(`${place}/`)));
}

export function RunFindings({ id }: { readonly id: string }) {
  const { findings, compiled } = useFigures();
  const own = findingsOfRun(compiled.project, id, findings);
  if (own.length === 0) return null;
  return (
    <Group title={own.length === 1 ? '1 finding' : `${own.length} findings`}>
      <ul className={css['findings']}>
        {own.map(({ code, at, message, mend, severity }) => (
          <li key={`${code} ${at}`} data-severity={severity}>
            {message} <span>{mend}</span>
          </li>
        ))}
      </ul>
    </Group>
  );
}
