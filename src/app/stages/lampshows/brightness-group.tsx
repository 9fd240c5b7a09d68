// How a clip's brightness runs over its time, beyond its fades, and whether its gradient travels along itself.
import { Plus, Trash2 } from 'lucide-react';
import { type Change, type Clip, limits } from '../../../project/index.ts';
import { Button, Buttons, CheckField, Group, NumberField } from '../../fields/index.ts';
import css from './inspector.module.css';
import { typedMs } from './units.ts';

interface GroupProps {
  readonly clip: Clip;
  readonly onChange: (label: string, change: Change<Clip>, gesture?: string) => void;
}

type Points = NonNullable<Clip['envelope']>;
const iconPx = 14;

/** A new point lies half way to the clip's end from the last one, at its level. */
const withPoint = (points: Points, lengthMs: number): Points => {
  const last = points.at(-1);
  const atMs = last ? Math.round((last.atMs + Math.max(last.atMs, lengthMs)) / 2) : 0;
  return [...points, { atMs, percent: last?.percent ?? 100 }];
};

export function EnvelopeGroup({ clip, onChange }: GroupProps) {
  const points = clip.envelope ?? [];
  const set = (label: string, next: Points, gesture?: string) =>
    onChange(label, { envelope: next.length === 0 ? undefined : next }, gesture);
  const setPoint = (index: number, change: Partial<Points[number]>, gesture?: string) =>
    set(
      'Change brightness over time',
      points.map((point, i) => (i === index ? { ...point, ...change } : point)),
      gesture,
    );
  return (
    <Group title="Brightness over time">
      {points.length === 0 && <p className={css['note']}>Even, but for the fades.</p>}
      {points.map((point, index) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a point is known by its place
        <div key={index} className={css['point']}>
          <NumberField
            label={`Point ${index + 1} at`}
            unit="s"
            digits={3}
            step={0.1}
            least={0}
            most={3600}
            value={point.atMs / 1000}
            onChange={(typed, gesture) => setPoint(index, { atMs: typedMs(typed) }, gesture)}
          />
          <NumberField
            label={`Point ${index + 1} level`}
            unit="%"
            digits={0}
            least={0}
            most={100}
            value={point.percent}
            onChange={(percent, gesture) => setPoint(index, { percent }, gesture)}
          />
          <Button
            label={`Delete point ${index + 1}`}
            onPress={() =>
              set(
                'Delete point of brightness',
                points.filter((_, i) => i !== index),
              )
            }
          >
            <Trash2 size={iconPx} aria-hidden="true" />
          </Button>
        </div>
      ))}
      <Buttons>
        <Button
          isDisabled={points.length >= limits.envelopePoints}
          onPress={() => set('Add point of brightness', withPoint(points, clip.lengthMs))}
        >
          <Plus size={iconPx} aria-hidden="true" /> Point
        </Button>
      </Buttons>
    </Group>
  );
}

export function CycleGroup({ clip, onChange }: GroupProps) {
  const { cycle } = clip;
  return (
    <Group title="Gradient’s own travel">
      <CheckField
        label="Travels along itself"
        value={cycle !== undefined}
        onChange={(is) => onChange('Let gradient travel', { cycle: is ? { seconds: 6 } : undefined })}
      />
      {cycle && (
        <>
          <NumberField
            label="Once in"
            unit="s"
            digits={3}
            step={0.1}
            least={0.05}
            most={600}
            value={cycle.seconds}
            onChange={(seconds, gesture) =>
              onChange('Change gradient’s travel', { cycle: { ...cycle, seconds } }, gesture)
            }
          />
          <CheckField
            label="Backward"
            value={cycle.backward === true}
            onChange={(is) =>
              onChange('Turn gradient’s travel', {
                cycle: is ? { seconds: cycle.seconds, backward: true } : { seconds: cycle.seconds },
              })
            }
          />
        </>
      )}
    </Group>
  );
}
