// The findings about one run, in words, where the run is edited.
import { memo } from 'react';
import { Group } from '../../fields/index.ts';
import { useFigures } from '../../workbench/context.ts';
import { findingsOfRun } from './findings-of-run.ts';
import css from './runs.module.css';

export const RunFindings = memo(function RunFindings({ id }: { readonly id: string }) {
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
});
