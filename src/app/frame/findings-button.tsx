// How many findings there are, and a click lists them: how grave, what, and how to mend it; each leads to its cause.
import { useId, useMemo, useState } from 'react';
import { byGravity } from '../../board/index.ts';
import { useFlashes } from '../survey/use-flashes.ts';
import { useFigures } from '../workbench/context.ts';
import css from './findings.module.css';
import { FindingsList } from './findings-list.tsx';

export function FindingsButton() {
  const { findings: ofFigures } = useFigures();
  const flashes = useFlashes();
  const findings = useMemo(
    () => (flashes.state === 'found' ? byGravity([...ofFigures, ...flashes.findings]) : ofFigures),
    [ofFigures, flashes],
  );
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
