// A field for a figure with its unit. What is typed counts on Enter or on leaving the field; arrow keys step. The document gets the figure with the
// digits that the field shows; leaving the field untouched changes nothing. What can't be read, or lies outside the range, is never taken: it stays in
// the field with the reason under it until it is mended, Escape is pressed, or the document's figure changes.
// Not here: that no button acts on the old figure meanwhile (refusals.ts).
import { type KeyboardEvent, useId, useRef, useState } from 'react';
import { flushSync } from 'react-dom';
import css from './fields.module.css';
import { refusalInWords, roundedTo, takenFigure } from './parse-figure.ts';
import { useIsTold } from './refusals.ts';

export interface NumberFieldProps {
  readonly label: string;
  readonly value: number;
  /** `gesture` is there while an arrow key is held: all its steps are one step back. */
  readonly onChange: (value: number, gesture?: string) => void;
  readonly unit?: string;
  readonly least?: number;
  readonly most?: number;
  /** Step of the arrow keys. */
  readonly step?: number;
  /** Digits behind the point. */
  readonly digits?: number;
  /** The label is only spoken: the field stands in a table or beside another. */
  readonly isBare?: boolean;
  /** It stands for several figures that differ: nothing is shown but that, and whatever is typed counts for all of them. */
  readonly isSeveral?: boolean;
}

const formats = new Map<number, Intl.NumberFormat>();

/** Making a format costs more than writing a figure with it. */
function formatOf(digits: number): Intl.NumberFormat {
  const known = formats.get(digits);
  if (known) return known;
  const format = new Intl.NumberFormat('en-GB', {
    useGrouping: false,
    minimumFractionDigits: Math.min(1, digits),
    maximumFractionDigits: digits,
  });
  formats.set(digits, format);
  return format;
}

const steps: Readonly<Record<string, number>> = { ArrowUp: 1, ArrowDown: -1 };

let holdCount = 0;

export function NumberField({
  label,
  value,
  onChange,
  unit,
  least,
  most,
  step = 1,
  digits = 1,
  isBare = false,
  isSeveral = false,
}: NumberFieldProps) {
  /** What is typed but not taken yet. */
  const [typed, setTyped] = useState<string>();
  /** The document's figure when what is typed was refused. */
  const [refusedAt, setRefusedAt] = useState<number>();
  const reasonId = useId();
  const hold = useRef('');
  const range = { unit, digits, least, most };
  const shown = roundedTo(value, digits);
  const shownText = isSeveral ? '' : formatOf(digits).format(shown);
  // Another figure than the one that was to be replaced: what was refused says nothing about it.
  if (refusedAt !== undefined && refusedAt !== value) {
    setRefusedAt(undefined);
    setTyped(undefined);
  }
  const reason = refusedAt === undefined || typed === undefined ? undefined : refusalInWords(typed, range);
  const isRefused = reason !== undefined;
  const isTold = useIsTold(isRefused);

  const show = (text: string | undefined) => {
    setTyped(text === shownText ? undefined : text);
    if (text === undefined || takenFigure(text, range) !== undefined) setRefusedAt(undefined);
  };
  const commit = () => {
    if (typed === undefined || (isSeveral && typed === '')) return;
    const taken = takenFigure(typed, range);
    if (taken === undefined) {
      setRefusedAt(value);
      return;
    }
    show(undefined);
    if (isSeveral || taken !== shown) onChange(taken);
  };
  const stepBy = (by: number, event: KeyboardEvent) => {
    if (!event.repeat || hold.current === '') hold.current = `step figure ${++holdCount}`;
    const from = (typed === undefined ? undefined : takenFigure(typed, range)) ?? shown;
    const next = roundedTo(from + by * step * (event.shiftKey ? 10 : 1), digits);
    const within = Math.min(most ?? next, Math.max(least ?? next, next));
    show(undefined);
    if (isSeveral || within !== shown) onChange(within, hold.current);
  };
  const onKeyDown = (event: KeyboardEvent<HTMLInputElement>) => {
    if (event.key === 'Enter') commit();
    if (event.key === 'Escape') {
      // In a dialog the first Escape drops what was typed, the next one closes it.
      if (typed !== undefined) event.stopPropagation();
      // What was typed is dropped before the field is left, or leaving would take it.
      flushSync(() => show(undefined));
      event.currentTarget.blur();
    }
    const by = steps[event.key];
    if (by === undefined || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    event.stopPropagation();
    stepBy(by, event);
  };
  return (
    <div className={css[isBare ? 'bare' : 'row']}>
      {!isBare && (
        <span className={css['label']} aria-hidden="true">
          {label}
        </span>
      )}
      <span className={css['box']} data-refused={isRefused}>
        <input
          type="text"
          inputMode="decimal"
          autoComplete="off"
          spellCheck={false}
          className={css['figure']}
          aria-label={unit === undefined ? label : `${label}, ${unit}`}
          aria-roledescription="number field"
          aria-invalid={isRefused}
          aria-describedby={isTold ? reasonId : undefined}
          title={reason}
          {...(isSeveral ? { placeholder: 'several' } : {})}
          data-unchanged={typed === undefined}
          value={typed ?? shownText}
          onChange={(event) => show(event.currentTarget.value)}
          onKeyDown={onKeyDown}
          onBlur={commit}
        />
        <span className={css['unit']} aria-hidden="true">
          {unit}
        </span>
      </span>
      {isTold && (
        <span id={reasonId} className={css['reason']} role="alert">
          {reason}.
        </span>
      )}
    </div>
  );
}
