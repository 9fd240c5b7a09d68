// The inspector's vocabulary: a title, groups, rows. What can be typed or chosen has a box; what is derived has none, and lines up with it.
import { type ReactNode, useId, useRef } from 'react';
import { Button as AriaButton } from 'react-aria-components';
import css from './fields.module.css';
import { stopsAtRefused } from './refusals.ts';

export function InspectorTitle({
  title,
  children,
}: {
  readonly title: string;
  readonly children?: ReactNode;
}) {
  return (
    <header className={css['title']}>
      {/* The focus comes here when what it was on has given way to this part. */}
      <h2 tabIndex={-1}>{title}</h2>
      {children !== undefined && <p>{children}</p>}
    </header>
  );
}

export function Group({ title, children }: { readonly title: string; readonly children: ReactNode }) {
  const id = useId();
  return (
    <section className={css['group']} aria-labelledby={id}>
      <h3 id={id}>{title}</h3>
      {children}
    </section>
  );
}

/** A figure in the type of figures, its unit soft. */
export const Figure = ({ children, unit }: { readonly children: ReactNode; readonly unit?: string }) => (
  <span className={css['figure-text']}>
    {children}
    {unit !== undefined && <span className={css['soft']}> {unit}</span>}
  </span>
);

/** A name in a place with little room: cut off after about 18 characters; the title has the whole of it. */
export const ShortName = ({ children }: { readonly children: string }) => (
  <span className={css['short-name']} title={children}>
    {children}
  </span>
);

export const Derived = ({
  label,
  children,
  unit,
  tone = 'plain',
}: {
  readonly label: ReactNode;
  readonly children: ReactNode;
  readonly unit?: string;
  readonly tone?: 'plain' | 'good' | 'warn';
}) => (
  <div className={css['row']}>
    <span className={css['label']}>{label}</span>
    <span className={css['derived']} data-tone={tone}>
      {children}
      <span className={css['unit']}>{unit}</span>
    </span>
  </div>
);

/** Two or more fields beside one label. */
export const FieldRow = ({ label, children }: { readonly label: string; readonly children: ReactNode }) => (
  <fieldset className={css['row']}>
    <legend className="visually-hidden">{label}</legend>
    <span className={css['label']} aria-hidden="true">
      {label}
    </span>
    <span className={css['several']}>{children}</span>
  </fieldset>
);

export interface Choice<T extends string> {
  readonly id: T;
  readonly label: string;
}

export function SelectField<T extends string>({
  label,
  value,
  choices,
  onChange,
  isBare = false,
}: {
  readonly label: string;
  readonly value: T;
  readonly choices: readonly Choice<T>[];
  readonly onChange: (value: T) => void;
  readonly isBare?: boolean;
}) {
  return (
    <label className={css[isBare ? 'bare' : 'row']}>
      <span className={isBare ? 'visually-hidden' : css['label']}>{label}</span>
      <select
        className={css['select']}
        value={value}
        onChange={(event) => onChange(event.currentTarget.value as T)}
      >
        {choices.map(({ id, label: text }) => (
          <option key={id} value={id}>
            {text}
          </option>
        ))}
      </select>
    </label>
  );
}

/** Counts on Enter or on leaving the field; Escape brings the old text back, and so does leaving it with a text that isn't taken. */
export function TextField({
  label,
  value,
  onChange,
  isBare = false,
  mono = false,
  hint,
}: {
  readonly label: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
  readonly isBare?: boolean;
  readonly mono?: boolean;
  /** How it is written. */
  readonly hint?: string;
}) {
  const input = useRef<HTMLInputElement>(null);
  const putBack = () => {
    input.current!.value = value;
    input.current!.dataset['unchanged'] = 'true';
  };
  return (
    <label className={css[isBare ? 'bare' : 'row']}>
      <span className={isBare ? 'visually-hidden' : css['label']}>{label}</span>
      <input
        ref={input}
        key={value}
        type="text"
        className={css['text']}
        data-mono={mono}
        defaultValue={value}
        maxLength={200}
        title={hint}
        data-unchanged="true"
        onInput={(event) => {
          const { dataset, value: typed } = event.currentTarget;
          dataset['unchanged'] = String(typed === value);
        }}
        onBlur={(event) => {
          const typed = event.currentTarget.value.trim();
          putBack();
          if (typed !== value) onChange(typed);
        }}
        onKeyDown={(event) => {
          if (event.key === 'Escape') putBack();
          if (event.key === 'Enter' || event.key === 'Escape') input.current!.blur();
        }}
      />
    </label>
  );
}

export function ColourField({
  label,
  value,
  onChange,
  onDone,
}: {
  readonly label: string;
  /** #rrggbb */
  readonly value: string;
  readonly onChange: (value: string) => void;
  readonly onDone?: () => void;
}) {
  return (
    <FieldRow label={label}>
      <input
        type="color"
        className={css['swatch']}
        aria-label={`${label}, picked`}
        value={value}
        onChange={(event) => onChange(event.currentTarget.value)}
        onBlur={() => onDone?.()}
      />
      <TextField
        isBare
        mono
        label={`${label}, as hexadecimal`}
        value={value}
        onChange={(typed) => {
          if (/^#[0-9a-f]{6}$/i.test(typed)) onChange(typed.toLowerCase());
        }}
      />
    </FieldRow>
  );
}

/** A few choices side by side, of which one holds. */
export function Segments<T extends string>({
  label,
  value,
  choices,
  onChange,
}: {
  readonly label: string;
  readonly value: T;
  readonly choices: readonly Choice<T>[];
  readonly onChange: (value: T) => void;
}) {
  const name = useId();
  return (
    <fieldset className={css['segments']}>
      <legend className="visually-hidden">{label}</legend>
      {choices.map(({ id, label: text }) => (
        <label key={id} className={css['segment']}>
          <input
            type="radio"
            className="visually-hidden"
            name={name}
            value={id}
            checked={id === value}
            onChange={() => onChange(id)}
          />
          <ShortName>{text}</ShortName>
        </label>
      ))}
    </fieldset>
  );
}

export function CheckField({
  label,
  value,
  onChange,
}: {
  readonly label: string;
  readonly value: boolean;
  readonly onChange: (value: boolean) => void;
}) {
  return (
    <label className={css['row']}>
      <span className={css['label']}>{label}</span>
      <input
        type="checkbox"
        className={css['check']}
        checked={value}
        onChange={(event) => onChange(event.currentTarget.checked)}
      />
    </label>
  );
}

export const Button = ({
  children,
  onPress,
  isDisabled = false,
  tone = 'plain',
  takesFigures = tone === 'main',
  isPressed,
  label,
}: {
  readonly children: ReactNode;
  readonly onPress: () => void;
  readonly isDisabled?: boolean;
  readonly tone?: 'plain' | 'main';
  /** It acts on figures of the fields beside it, so it does nothing while one of them is refused; so does every main button. */
  readonly takesFigures?: boolean;
  /** It stays down until it is pressed again; a button that only acts where absent. */
  readonly isPressed?: boolean;
  /** Where the text alone doesn't say it. */
  readonly label?: string;
}) => (
  <AriaButton
    className={css['button']!}
    data-button={tone}
    isDisabled={isDisabled}
    onPress={({ target }) => {
      if (!takesFigures || !stopsAtRefused(target)) onPress();
    }}
    {...(label === undefined ? {} : { 'aria-label': label })}
    {...(isPressed === undefined ? {} : { 'aria-pressed': isPressed })}
  >
    {children}
  </AriaButton>
);

/** What can hurt or spoil something, in words. */
export const Cautions = ({ words }: { readonly words: readonly string[] }) => (
  <ul className={css['cautions']}>
    {words.map((caution) => (
      <li key={caution}>{caution}</li>
    ))}
  </ul>
);

export const Buttons = ({ children }: { readonly children: ReactNode }) => (
  <div className={css['buttons']}>{children}</div>
);
