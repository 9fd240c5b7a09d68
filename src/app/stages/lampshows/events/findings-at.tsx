// Findings about a place of the document, where it is edited.
import { Group } from '../../../fields/index.ts';
import { useFigures } from '../../../workbench/context.ts';
import css from './events.module.css';

export function FindingsAt({ places }: { readonly places: readonly string[] }) {
  const { findings } = useFigures();
  const own = findings.filter(({ at }) => places.some((place) => at === place || at.startsWith(`${place}/`)));
  if (own.length === 0) return null;
  return (
    <Group title={own.length === 1 ? '1 finding' : `${own.length} findings`}>
      <ul className={css['findings']}>
        {own.map(({ code, at, message, mend }) => (
          <li key={`${code} ${at} ${message}`}>
            {message} <span>{mend}</span>
          </li>
        ))}
      </ul>
    </Group>
  );
}
