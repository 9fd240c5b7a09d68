// Which findings are about a run: where it is planned, and what was built of it. Pure.
import { type Finding, type Project, pointer } from '../../../project/index.ts';

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
