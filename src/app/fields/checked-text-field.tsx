// A text field whose text may be refused: what can't be taken stays in it with the reason under it until it is mended, Escape is pressed, or the
// document's text changes. What is taken counts on Enter or on leaving the field.
// Not here: texts of which every one is taken (TextField of fields.tsx).
import { useId, useState } from 'react';
import { flushSync } from 'react-dom';
import css from './fields.module.css';
import { useIsTold } from './refusals.ts';

export function CheckedTextField({
  label,
  value,
  refusalOf,
  onChange,
  hint,
}: {
  readonly label: string;
  readonly value: string;
  /** Why a text is not taken, without a full stop; undefined where it is. */
  readonly refusalOf: (typed: string) => string | undefined;
  readonly onChange: (typed: string) => void;
  /** How it is written. */
  readonly hint?: string;
}) {
  /** What is typed but not taken yet. */
  const [typed, setTyped] = useState<string>();
  /** The document's text when what is typed was refused. */
  const [refusedAt, setRefusedAt] = useState<string>();
  const reasonId = useId();
  if (refusedAt !== undefined && refusedAt !== value) {
    setRefusedAt(undefined);
    setTyped(undefined);
  }
  const reason = refusedAt === undefined || typed === undefined ? undefined : refusalOf(typed);
  const isRefused = reason !== undefined;
  const isTold = useIsTold(isRefused);
  const show = (text: string | undefined) => {
    setTyped(text === value ? undefined : text);
    if (text === undefined || refusalOf(text) === undefined) setRefusedAt(undefined);
  };
  const commit = () => {
    if (typed === undefined) return;
    if (refusalOf(typed) !== undefined) {
      setRefusedAt(value);
      return;
    }
    show(undefined);
    onChange(typed.trim());
  };
  return (
    <div className={css['row']}>
      <span className={css['label']} aria-hidden="true">
        {label}
      </span>
      <input
        type="text"
        autoComplete="off"
        spellCheck={false}
        className={css['text']}
        data-mono="true"
        data-refused={isRefused}
        maxLength={200}
        aria-label={label}
        aria-invalid={isRefused}
        aria-describedby={isTold ? reasonId : undefined}
        title={reason ?? hint}
        data-unchanged={typed === undefined}
        value={typed ?? value}
        onChange={(event) => show(event.currentTarget.value)}
        onBlur={commit}
        onKeyDown={(event) => {
          if (event.key === 'Enter') commit();
          if (event.key !== 'Escape') return;
          // The first Escape drops what was typed, the next one is for what the field stands in.
          if (typed !== undefined) event.stopPropagation();
          // What was typed is dropped before the field is left, or leaving would take it.
          flushSync(() => show(undefined));
          event.currentTarget.blur();
        }}
      />
      {isTold && (
        <span id={reasonId} className={css['reason']} role="alert">
          {reason}.
        </span>
      )}
    </div>
  );
}
