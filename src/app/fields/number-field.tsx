// A field for a figure with its unit. What is typed counts on Enter or on leaving the field; arrow keys step. The document keeps the figure
// as it was typed; the field shows it rounded, and leaving the field untouched changes nothing.
import { useId } from 'react';
import { NumberField as AriaNumberField, Group, Input } from 'react-aria-components';
import { flushSync } from 'react-dom';
import css from './fields.module.css';

export interface NumberFieldProps {
  readonly label: string;
  readonly value: number;
  readonly onChange: (value: number) => void;
  readonly unit?: string;
  readonly least?: number;
  readonly most?: number;
  /** Step of the arrow keys. */
  readonly step?: number;
  /** Digits behind the point that are shown. */
  readonly digits?: number;
  readonly isDisabled?: boolean;
  /** The label is only spoken: the field stands in a table or beside another. */
  readonly isBare?: boolean;
}

export const roundedTo = (value: number, digits: number): number => Number(value.toFixed(digits));

interface FigureFormat {
  readonly options: Intl.NumberFormatOptions;
  readonly format: Intl.NumberFormat;
}

const formats = new Map<number, FigureFormat>();

/** One format for each number of digits: making one takes long, and the library takes other options for a change. */
function formatOf(digits: number): FigureFormat {
  const known = formats.get(digits);
  if (known) return known;
  const options = {
    useGrouping: false,
    minimumFractionDigits: Math.min(1, digits),
    maximumFractionDigits: digits,
  };
  const made = { options, format: new Intl.NumberFormat('en-GB', options) };
  formats.set(digits, made);
  return made;
}

export function NumberField({
  label,
  value,
  onChange,
  unit,
  least,
  most,
  step = 1,
  digits = 1,
  isDisabled = false,
  isBare = false,
}: NumberFieldProps) {
  const id = useId();
  const shown = roundedTo(value, digits);
  const { options, format } = formatOf(digits);
  const limits = {
    ...(least === undefined ? {} : { minValue: least }),
    ...(most === undefined ? {} : { maxValue: most }),
  };
  return (
    <AriaNumberField
      className={css[isBare ? 'bare' : 'row']!}
      aria-label={unit === undefined ? label : `${label}, ${unit}`}
      value={shown}
      isDisabled={isDisabled}
      isWheelDisabled
      formatOptions={options}
      onChange={(typed) => {
        if (!Number.isNaN(typed) && typed !== shown) onChange(typed);
      }}
      {...limits}
    >
      {({ state }) => (
        <>
          {!isBare && (
            <span className={css['label']} aria-hidden="true">
              {label}
            </span>
          )}
          <Group className={css['box']!}>
            <Input
              id={id}
              className={css['figure']!}
              onKeyDown={(event) => {
                const input = event.currentTarget;
                if (event.key === 'Escape') {
                  // What was typed is dropped before the field is left, or leaving would take it.
                  flushSync(() => state.setInputValue(format.format(shown)));
                  input.blur();
                }
                const by = { ArrowUp: 1, ArrowDown: -1 }[event.key];
                if (by === undefined) return;
                // The library steps by its grid; a builder steps from where the figure stands.
                event.preventDefault();
                event.stopPropagation();
                const next = roundedTo(state.numberValue + by * step * (event.shiftKey ? 10 : 1), digits);
                state.setNumberValue(Math.min(most ?? next, Math.max(least ?? next, next)));
              }}
            />
            <span className={css['unit']} aria-hidden="true">
              {unit}
            </span>
          </Group>
        </>
      )}
    </AriaNumberField>
  );
}
