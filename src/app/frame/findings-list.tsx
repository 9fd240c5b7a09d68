// The findings in words: how grave, what, and how to mend it. One is a button that leads to its cause. Escape closes the list.
import { useEffect } from 'react';
import type { Finding } from '../../project/index.ts';
import { causeOf } from '../workbench/cause.ts';
import { useWorkbench } from '../workbench/context.ts';
import css from './findings.module.css';

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
  const workbench = useWorkbench();
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.key === 'Escape') onClose();
    };
    addEventListener('keydown', onKey);
    return () => removeEventListener('keydown', onKey);
  }, [onClose]);
  const goTo = ({ at }: Finding) => {
    const { stage, selection } = causeOf(workbench.project, at);
    workbench.enter(stage);
    workbench.select(selection);
    onClose();
  };
  return (
    <section id={id} className={css['sheet']} aria-labelledby={`${id}-title`}>
      <h2 id={`${id}-title`}>Findings</h2>
      {findings.length === 0 && <p className={css['mend']}>No findings.</p>}
      <ul>
        {findings.map((finding) => {
          const { severity, code, at, message, mend } = finding;
          return (
            <li key={`${code} ${at} ${message}`} data-severity={severity}>
              <button type="button" className={css['cause']} onClick={() => goTo(finding)}>
                <b>{severityWords[severity]}</b> {message}
              </button>
              <p className={css['mend']}>{mend}</p>
            </li>
          );
        })}
      </ul>
    </section>
  );
}
