// What letters need beside their fields: how tall they are, how they come out in dots, and the way to paint over them.
import { useLayoutEffect, useMemo, useRef } from 'react';
import { fitLetters, lettersAsFrames, textColumns } from '../../../../lampshow/index.ts';
import {
  type Clip,
  type ClipPlace,
  changeClip,
  type LetterHeight,
  type LettersEffect,
  letterHeights,
} from '../../../../project/index.ts';
import { ledsOfArea } from '../../../canvas/drags-paint.ts';
import { Button, Buttons, Group, SelectField } from '../../../fields/index.ts';
import { setPaintMode } from '../../../workbench/commands/paint-commands.ts';
import { useEdit, useProject, useSettled, useWorkbench } from '../../../workbench/context.ts';
import inspector from '../inspector.module.css';
import css from './paint.module.css';

const asTallAsFits = 'fits';

const heights = [
  { id: asTallAsFits, label: 'As tall as fits' },
  ...letterHeights.map((rows) => ({ id: String(rows), label: `${rows} rows of LEDs` })),
];

const dotPx = 4;

/** The text in dots, as wide as the inspector lets it; what is beyond is cut off. */
function TextDots({ text, rows }: { readonly text: string; readonly rows: 5 | 7 }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  useLayoutEffect(() => {
    const element = canvas.current!;
    const columns = textColumns(text, rows);
    element.width = columns.length * dotPx;
    element.height = rows * dotPx;
    const context = element.getContext('2d')!;
    const style = getComputedStyle(element);
    for (const [column, bits] of columns.entries())
      for (let row = 0; row < rows; row++) {
        context.fillStyle = style.getPropertyValue((bits >> row) & 1 ? '--brass' : '--rule');
        context.fillRect(column * dotPx, row * dotPx, dotPx - 1, dotPx - 1);
      }
  }, [text, rows]);
  return <canvas ref={canvas} role="img" aria-label={`${text} in dots`} />;
}

export function LettersGroup({
  place,
  clip,
  effect,
}: {
  readonly place: ClipPlace;
  readonly clip: Clip;
  readonly effect: LettersEffect;
}) {
  const workbench = useWorkbench();
  const edit = useEdit();
  const { layout } = useSettled();
  const area = useProject(({ areas }) => areas.find(({ id }) => id === clip.area));
  const gradient = useProject(({ gradients }) => gradients.find(({ id }) => id === clip.gradient));
  const leds = useMemo(() => (area ? ledsOfArea(layout, area) : []), [layout, area]);
  const fit = useMemo(() => fitLetters(leds, effect.letterRows), [leds, effect.letterRows]);
  const { letterRows: _, ...free } = effect;
  const setHeight = (id: string) =>
    edit(
      'Change height of letters',
      changeClip(place, {
        effect: id === asTallAsFits ? free : { ...effect, letterRows: Number(id) as LetterHeight },
      }),
    );
  const intoCells = () => {
    const painting = gradient && lettersAsFrames(effect, gradient, leds);
    if (!painting) return;
    edit('Turn letters into cells', changeClip(place, { effect: painting }));
    setPaintMode(workbench, true);
  };
  return (
    <Group title="Letters">
      <SelectField
        label="Height"
        value={effect.letterRows === undefined ? asTallAsFits : String(effect.letterRows)}
        choices={heights}
        onChange={setHeight}
      />
      {fit.fits ? (
        <>
          <div className={css['dots']}>
            <TextDots text={effect.text} rows={fit.value.fontRows} />
          </div>
          <p className={inspector['note']}>
            {textColumns(effect.text, fit.value.fontRows).length} columns of dots; the area has{' '}
            {fit.value.columnCount}.
          </p>
        </>
      ) : (
        <p className={inspector['note']}>{fit.fault.message}</p>
      )}
      <Buttons>
        <Button isDisabled={!fit.fits || !gradient} onPress={intoCells}>
          Letters into cells
        </Button>
      </Buttons>
    </Group>
  );
}
