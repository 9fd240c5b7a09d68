// The findings in words: how grave, what, where, and how to mend it. Opens above the vital signs; Escape closes it.
import { useEffect } from 'react';
import type { Finding } from '../../project/index.ts';
import css from './findings-list.module.css';

const severityWords: Readonly<Record<Finding['severity'], string>> = {
  error: 'Error',
  warning: 'Warning',
  note: 'Note',
};

export function FindingsList({
  id,
  findings,
  onClose,
}: {
  readonly id: string;
  readonly findings: readonly Finding[];
  readonly onClose: () => void;
}) {
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.key === 'Escape') onClose();
    };
    addEventListener('keydown', onKey);
    return () => removeEventListener('keydown', onKey);
  }, [onClose]);
  return (
    <section id={id} className={css['sheet']} aria-labelledby={`${id}-title`}>
      <h2 id={`${id}-title`}>Findings</h2>
      {findings.length === 0 && <p className={css['none']}>No findings.</p>}
      <ul>
        {findings.map(({ severity, code, at, message, mend }) => (
          <li key={`${code} ${at} ${message}`} data-severity={severity}>
            <p>
              <b>{severityWords[severity]}</b> {message}
            </p>
            <p className={css['mend']}>{mend}</p>
            <p className={css['at']}>{at === '' ? '/' : at}</p>
          </li>
        ))}
      </ul>
    </section>
  );
}
