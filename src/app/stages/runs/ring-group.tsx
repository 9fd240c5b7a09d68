// A run as a ring board: its LEDs evenly round a circle.
import { memo } from 'react';
import { limits, type Run, setRing } from '../../../project/index.ts';
import { CheckField, Group, NumberField } from '../../fields/index.ts';
import { useEdit } from '../../workbench/context.ts';

/** A straight strip becomes the circle that its own LEDs would make, laid end to end. */
const radiusOf = (ledCount: number, pitchMm: number): number =>
  Math.max(1, Math.round((ledCount * pitchMm * 10) / (2 * Math.PI)) / 10);

export const RingGroup = memo(function RingGroup({
  id,
  ring,
  ledCount,
  pitchMm,
}: {
  readonly id: string;
  readonly ring: Run['ring'];
  readonly ledCount: number;
  readonly pitchMm: number;
}) {
  const edit = useEdit();
  return (
    <Group title="Ring board">
      <CheckField
        label="LEDs round a circle"
        value={ring !== undefined}
        onChange={(isRing) =>
          edit(
            isRing ? 'Make it a ring board' : 'Make it a straight strip',
            setRing(id, isRing ? { radiusMm: radiusOf(ledCount, pitchMm) } : undefined),
          )
        }
      />
      {ring && (
        <>
          <NumberField
            label="Radius"
            unit="mm"
            value={ring.radiusMm}
            least={1}
            most={limits.panelMm}
            digits={2}
            onChange={(radiusMm, gesture) =>
              edit('Change radius', setRing(id, { ...ring, radiusMm }), gesture)
            }
          />
          <CheckField
            label="Data goes clockwise"
            value={ring.clockwise ?? false}
            onChange={(clockwise) =>
              edit(
                'Change the way round',
                setRing(id, { radiusMm: ring.radiusMm, ...(clockwise ? { clockwise } : {}) }),
              )
            }
          />
        </>
      )}
    </Group>
  );
});
