// "Lay out for me": rows, columns or an edge of runs over the opening or a drawn area, with the figures of the proposal before it is laid.
import { useMemo, useState } from 'react';
import { autoLayoutEdit, defaultStripOf, evenSpacingMm, stripById } from '../../../panel/index.ts';
import { limits } from '../../../project/index.ts';
import { Button, CheckField, Derived, NumberField, Segments, SelectField } from '../../fields/index.ts';
import { useEdit, useSettled, useWorkbench } from '../../workbench/context.ts';
import { nothing } from '../../workbench/selection.ts';
import { Halves, Note, Outcome, StageDialog } from './dialog.tsx';
import {
  areasEmptied,
  inWords,
  type LayOutChoices,
  outlookOf,
  placeOfArea,
  placesToFill,
  roomForLeds,
  taskOf,
  whyEmpty,
} from './lay-out-tasks.ts';
import { LayoutSketch } from './layout-sketch.tsx';
import { stripChoices } from './strip-choices.ts';

const patterns = [
  { id: 'rows', label: 'Rows' },
  { id: 'columns', label: 'Columns' },
  { id: 'edge', label: 'Along the edge' },
] as const satisfies readonly { id: LayOutChoices['pattern']; label: string }[];

const furthestMm = 10_000;

/** @param area the area that is chosen, if it was drawn with a closed line */
export function LayOutDialog({
  area,
  onClose,
}: {
  readonly area: string | undefined;
  readonly onClose: () => void;
}) {
  const edit = useEdit();
  const workbench = useWorkbench();
  const settled = useSettled();
  const { project } = settled;
  const places = placesToFill(project);
  const chosenPlace = area === undefined ? undefined : places.find(({ id }) => id === placeOfArea(area));
  const [choices, setChoices] = useState<LayOutChoices>(() => ({
    pattern: 'rows',
    strip: defaultStripOf(project),
    where: chosenPlace?.id ?? 'opening',
    marginMm: 10,
    mostLeds: roomForLeds(settled, false),
    replace: false,
  }));
  const set = (change: Partial<LayOutChoices>) => setChoices((before) => ({ ...before, ...change }));
  const proposal = useMemo(() => {
    const { edit: lay, layout } = autoLayoutEdit(project, taskOf(project, choices));
    return { lay, layout, outlook: outlookOf(project, lay), fresh: new Set(layout.runs.map(({ id }) => id)) };
  }, [project, choices]);
  const { lay, layout, outlook, fresh } = proposal;
  const suggestedMm = evenSpacingMm(project.panel, stripById(project, choices.strip).boardWidthMm);
  const emptied = useMemo(() => areasEmptied(settled, outlook), [settled, outlook]);
  const isEmpty = layout.runs.length === 0;
  const { shortPieces, ledsOverBudget } = layout.leftOut;
  const apply = () => {
    workbench.select(nothing);
    edit('Lay out for me', lay);
    onClose();
  };
  return (
    <StageDialog
      title="Lay out for me"
      act="Lay these runs"
      onAct={isEmpty ? undefined : apply}
      onClose={onClose}
    >
      <Halves
        fields={
          <>
            <Segments
              label="Pattern"
              value={choices.pattern}
              choices={patterns}
              onChange={(pattern) => set({ pattern })}
            />
            <SelectField
              label="Fill"
              value={choices.where}
              choices={places}
              onChange={(where) => set({ where })}
            />
            <SelectField
              label="Strip"
              value={choices.strip}
              choices={stripChoices(project)}
              onChange={(strip) => set({ strip })}
            />
            {choices.pattern !== 'edge' && (
              <>
                <NumberField
                  label="Spacing"
                  unit="mm"
                  least={1}
                  most={furthestMm}
                  value={choices.spacingMm ?? suggestedMm}
                  onChange={(spacingMm) => set({ spacingMm })}
                />
                <Derived label="Even light asks for" unit="mm">
                  {suggestedMm.toFixed(1)}
                </Derived>
                {choices.spacingMm !== undefined && (
                  <Button onPress={() => set({ spacingMm: undefined })}>Take the even spacing</Button>
                )}
              </>
            )}
            <NumberField
              label="From the edge"
              unit="mm"
              least={0}
              most={furthestMm}
              value={choices.marginMm}
              onChange={(marginMm) => set({ marginMm })}
            />
            <NumberField
              label="LEDs at most"
              least={1}
              most={limits.leds}
              digits={0}
              value={choices.mostLeds}
              onChange={(mostLeds) => set({ mostLeds })}
            />
            {project.runs.length > 0 && (
              <CheckField
                label={`Take the ${inWords(project.runs.length, 'run')} away first`}
                value={choices.replace}
                onChange={(replace) => set({ replace, mostLeds: roomForLeds(settled, replace) })}
              />
            )}
            <Note>
              The board has memory for {inWords(roomForLeds(settled, choices.replace), 'LED')} more.
            </Note>
          </>
        }
      >
        <LayoutSketch outlook={outlook} fresh={fresh} />
        <Outcome tone={isEmpty ? 'warn' : 'plain'}>
          {isEmpty
            ? whyEmpty(choices.mostLeds)
            : `${inWords(layout.ledCount, 'LED')} in ${inWords(layout.runs.length, 'run')}; the panel then draws ${outlook.amps.toFixed(2)} A at most.`}
          {layout.isSpacingGrown &&
            ` Rows stand ${layout.spacingMm?.toFixed(1)} mm apart to keep within the LEDs allowed.`}
          {ledsOverBudget > 0 && ` ${inWords(ledsOverBudget, 'LED')} left out for the same reason.`}
          {shortPieces > 0 && ` ${inWords(shortPieces, 'place')} too short for a run left empty.`}
        </Outcome>
        {emptied.length > 0 && (
          <Outcome tone="warn">
            Clips on {emptied.length === 1 ? 'this area' : 'these areas'} would light nothing:{' '}
            {emptied.join('; ')}.
          </Outcome>
        )}
      </Halves>
    </StageDialog>
  );
}
