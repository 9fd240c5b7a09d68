// The true scale: distances measured on the real artwork. The first makes the panel as large as it is in truth, the others check it.
// Not here: drawing one on the canvas (src/app/canvas/drags-panel.ts), carrying everything along (src/panel/true-scale.ts).
import { distanceMm, measureFindings, setTrueScale } from '../../../panel/index.ts';
import {
  addMeasure,
  changeMeasure,
  limits,
  type Measure,
  type Panel,
  removeMeasure,
} from '../../../project/index.ts';
import { measureName } from '../../canvas/panel-marks.tsx';
import { useArtwork } from '../../canvas/use-artwork.ts';
import { Button, Buttons, Derived, FieldRow, Group, NumberField, SelectField } from '../../fields/index.ts';
import { figure } from '../../format.ts';
import { useEdit, useProject, useSelected, useWorkbench } from '../../workbench/context.ts';
import { nothing } from '../../workbench/selection.ts';
import { checkWords } from './check-words.ts';
import css from './panel.module.css';

const furthestMm = 10_000;

/** Indices of the measures that disagree with the panel. */
const disagreeing = (panel: Panel): ReadonlySet<number> =>
  new Set(measureFindings({ panel }).map(({ at }) => Number(at.split('/').at(-1))));

function Check({ measure, isOff }: { readonly measure: Measure; readonly isOff: boolean }) {
  const foundMm = distanceMm(measure.from, measure.to);
  return (
    <>
      <Derived label="Found at this scale" unit="mm">
        {foundMm.toFixed(1)}
      </Derived>
      <Derived label="Check distance" unit="mm" tone={isOff ? 'warn' : 'good'}>
        {checkWords(foundMm, measure.measuredMm, isOff)}
      </Derived>
    </>
  );
}

function MeasureRows({
  measure,
  index,
  isOff,
}: {
  readonly measure: Measure;
  readonly index: number;
  readonly isOff: boolean;
}) {
  const edit = useEdit();
  const artwork = useArtwork();
  const { widthMm, heightMm, artwork: data } = useProject((project) => project.panel);
  const { from, to, measuredMm } = measure;
  const setsScale = index === 0;
  const change = (mm: number, gesture?: string) =>
    setsScale
      ? edit('Set the true scale', setTrueScale(from, to, mm), gesture)
      : edit('Change a measured distance', changeMeasure(index, { measuredMm: mm }), gesture);
  const pxPerMm = artwork && {
    x: artwork.image.naturalWidth / widthMm,
    y: artwork.image.naturalHeight / heightMm,
  };
  return (
    <>
      <NumberField
        label={`${measureName(index)}, measured`}
        unit="mm"
        value={measuredMm}
        least={0.1}
        most={limits.panelMm}
        onChange={change}
      />
      {setsScale && pxPerMm && data?.mediaType !== 'image/svg+xml' && (
        <Derived label="On the picture" unit="px">
          {figure(Math.hypot((to.xMm - from.xMm) * pxPerMm.x, (to.yMm - from.yMm) * pxPerMm.y))}
        </Derived>
      )}
      {(!setsScale || isOff) && <Check measure={measure} isOff={isOff} />}
      {setsScale && isOff && (
        <div className={css['between']}>
          <Button takesFigures onPress={() => change(measuredMm)}>
            Make the panel this large
          </Button>
        </div>
      )}
    </>
  );
}

/** Both ends of the chosen distance, by number. */
function Ends({ measure, index }: { readonly measure: Measure; readonly index: number }) {
  const edit = useEdit();
  const [first, second] = measureName(index).split(' to ');
  return (
    <>
      {(
        [
          ['from', first],
          ['to', second],
        ] as const
      ).map(([end, letter]) => (
        <FieldRow key={end} label={`${letter} from left, top`}>
          {(['xMm', 'yMm'] as const).map((key) => (
            <NumberField
              key={key}
              isBare
              label={`${letter} ${key === 'xMm' ? 'from the left' : 'from the top'}`}
              unit="mm"
              value={measure[end][key]}
              least={-furthestMm}
              most={furthestMm}
              onChange={(mm, gesture) =>
                edit(
                  'Move the end of a measured distance',
                  changeMeasure(index, { [end]: { ...measure[end], [key]: mm } }),
                  gesture,
                )
              }
            />
          ))}
        </FieldRow>
      ))}
    </>
  );
}

export function ScaleGroup() {
  const workbench = useWorkbench();
  const edit = useEdit();
  const panel = useProject((project) => project.panel);
  const selected = useSelected('measure');
  const { measures = [], widthMm, heightMm } = panel;
  const off = disagreeing(panel);
  const chosen = selected && measures[selected.index];
  const add = () => {
    const yMm = Math.round(heightMm / 2);
    const from = { xMm: Math.round(widthMm / 4), yMm };
    const to = { xMm: Math.round((3 * widthMm) / 4), yMm };
    edit('Add a measured distance', addMeasure({ from, to, measuredMm: distanceMm(from, to) }));
    workbench.select({ kind: 'measure', index: measures.length });
  };
  const isFull = measures.length >= limits.measures;
  return (
    <Group title="True scale">
      {measures.length === 0 && (
        <p>
          Mark two places of the artwork and type how far apart they are in truth: the panel becomes that
          large. A second distance checks it.
        </p>
      )}
      {measures.map((measure, index) => (
        // Measures have no id of their own.
        // biome-ignore lint/suspicious/noArrayIndexKey: see above
        <MeasureRows key={index} measure={measure} index={index} isOff={off.has(index)} />
      ))}
      {measures.length > 0 && (
        <SelectField
          label="Ends of"
          value={selected ? String(selected.index) : ''}
          choices={[
            { id: '', label: 'none' },
            ...measures.map((_, index) => ({ id: String(index), label: measureName(index) })),
          ]}
          onChange={(id) => workbench.select(id === '' ? nothing : { kind: 'measure', index: Number(id) })}
        />
      )}
      {chosen && <Ends key={selected.index} measure={chosen} index={selected.index} />}
      <Buttons>
        <Button isDisabled={isFull} onPress={() => workbench.set({ tool: 'true-scale' })}>
          Draw a measured distance
        </Button>
        <Button isDisabled={isFull} onPress={add} label="Add a measured distance by number">
          Add one
        </Button>
        {chosen && (
          <Button
            label="Remove the measured distance"
            onPress={() => edit('Remove measured distance', removeMeasure(selected.index))}
          >
            Remove
          </Button>
        )}
      </Buttons>
    </Group>
  );
}
