// An effect's parameters as fields, drawn from the rows of effect-table.ts.
import type { Effect } from '../../../project/index.ts';
import { CheckedTextField, CheckField, Group, NumberField, SelectField } from '../../fields/index.ts';
import {
  effectTable,
  type ParameterRow,
  parameterOf,
  shownNumber,
  storedNumber,
  textRefusal,
  withParameter,
} from './effect-table.ts';
import css from './inspector.module.css';

interface FieldsProps {
  readonly effect: Effect;
  readonly onChange: (effect: Effect, gesture?: string) => void;
}

type RowProps<T extends ParameterRow['type']> = FieldsProps & {
  readonly row: Extract<ParameterRow, { type: T }>;
};

function NumberRow({ row, effect, onChange }: RowProps<'number'>) {
  const value = parameterOf(effect, row.key);
  return (
    <NumberField
      label={row.label}
      value={shownNumber(row, typeof value === 'number' ? value : 0)}
      least={row.least}
      most={row.most}
      step={row.step}
      digits={row.digits}
      {...(row.unit === undefined ? {} : { unit: row.unit })}
      onChange={(typed, gesture) =>
        onChange(withParameter(effect, row.key, storedNumber(row, typed)), gesture)
      }
    />
  );
}

const ChoiceRow = ({ row, effect, onChange }: RowProps<'choice'>) => (
  <SelectField
    label={row.label}
    value={String(parameterOf(effect, row.key) ?? row.absent)}
    choices={row.choices}
    onChange={(id) => onChange(withParameter(effect, row.key, id === row.absent ? undefined : id))}
  />
);

const CheckRow = ({ row, effect, onChange }: RowProps<'check'>) => (
  <CheckField
    label={row.label}
    value={parameterOf(effect, row.key) === true}
    onChange={(value) => onChange(withParameter(effect, row.key, value ? true : undefined))}
  />
);

function TextRow({ row, effect, onChange }: RowProps<'text'>) {
  return (
    <CheckedTextField
      label={row.label}
      value={String(parameterOf(effect, row.key))}
      refusalOf={(typed) => textRefusal(typed.trim(), row)}
      onChange={(typed) => onChange(withParameter(effect, row.key, typed))}
    />
  );
}

function OptionalRow({ row, effect, onChange }: RowProps<'optional'>) {
  const isThere = Object.keys(row.values).every((key) => parameterOf(effect, key) !== undefined);
  return (
    <>
      <CheckField
        label={row.label}
        value={isThere}
        onChange={(value) =>
          onChange(
            Object.entries(row.values).reduce(
              (next, [key, first]) => withParameter(next, key, value ? first : undefined),
              effect,
            ),
          )
        }
      />
      {isThere &&
        row.rows.map((inner) => (
          <NumberRow key={inner.key} row={inner} effect={effect} onChange={onChange} />
        ))}
    </>
  );
}

function ParameterField({ row, ...fields }: FieldsProps & { readonly row: ParameterRow }) {
  if (row.type === 'number') return <NumberRow row={row} {...fields} />;
  if (row.type === 'choice') return <ChoiceRow row={row} {...fields} />;
  if (row.type === 'check') return <CheckRow row={row} {...fields} />;
  if (row.type === 'text') return <TextRow row={row} {...fields} />;
  return <OptionalRow row={row} {...fields} />;
}

export function EffectFields({ effect, onChange }: FieldsProps) {
  const { says, rows } = effectTable[effect.kind];
  return (
    <Group title="Movement">
      <p className={css['note']}>{says}.</p>
      {rows.map((row) => (
        <ParameterField key={row.label} row={row} effect={effect} onChange={onChange} />
      ))}
    </Group>
  );
}
