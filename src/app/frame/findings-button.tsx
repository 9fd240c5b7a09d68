// How many findings there are, and a click lists them: how grave, what, and how to mend it; each leads to its cause.
import { useId, useState } from 'react';
import { useFigures } from '../workbench/context.ts';
import css from './findings.module.css';
import { FindingsList } from './findings-list.tsx';

export function FindingsButton() {
  const { findings } = useFigures();
  const [listed, setListed] = useState(false);
  const listId = useId();
  return (
    <div className={css['place']} data-sign="findings">
      <button
        type="button"
        className={css['button']}
        data-worst={findings[0]?.severity ?? 'none'}
        aria-expanded={listed}
        {...(listed ? { 'aria-controls': listId } : {})}
        onClick={() => setListed(!listed)}
      >
        {findings.length === 1 ? '1 finding' : `${findings.length} findings`}
      </button>
      {listed && <FindingsList id={listId} findings={findings} onClose={() => setListed(false)} />}
    </div>
  );
}
