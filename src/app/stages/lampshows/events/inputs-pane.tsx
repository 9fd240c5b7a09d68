// How the board hears of game events, beside their own pins; and the button that dims the panel.
import { boards, pinLabel, rowById } from '../../../../catalogue/index.ts';
import { roomSteps } from '../../../../lampshow/index.ts';
import { type Change, changeInputs, type Inputs } from '../../../../project/index.ts';
import {
  Button,
  Buttons,
  Cautions,
  CheckField,
  Group,
  InspectorTitle,
  NumberField,
  SelectField,
} from '../../../fields/index.ts';
import { useEdit, useProject, useWorkbench } from '../../../workbench/context.ts';
import { nothing } from '../../../workbench/selection.ts';
import inspector from '../inspector.module.css';
import { i2cCautions, serialCautions } from './cautions.ts';
import { FindingsAt } from './findings-at.tsx';
import { pinChoices, pinOf } from './pin-choices.ts';

/** The first address that no rule of the bus keeps for itself. */
const firstAddress = 8;
const steps = ['Brightest step', 'Middle step', 'Darkest step'] as const;

export function InputsPane() {
  const workbench = useWorkbench();
  const edit = useEdit();
  const project = useProject((one) => one);
  const inputs = project.inputs ?? {};
  const board = rowById(boards, project.board.id)!;
  const change = (label: string, part: Change<Inputs>, gesture?: string) =>
    edit(label, changeInputs(part), gesture);
  const pins = (list: readonly number[]) => list.map((pin) => pinLabel(board, pin)).join(' and ');
  const percents = inputs.roomPercents ?? [...roomSteps({ inputs: { roomPin: 0 } }).percents];
  return (
    <>
      <InspectorTitle title="Inputs">How the board hears of the game</InspectorTitle>
      <FindingsAt places={['/inputs', '/gameEvents']} />
      <Group title="Messages">
        <CheckField
          label="Serial port"
          value={inputs.serial ?? false}
          onChange={(is) => change('Turn serial events on or off', { serial: is || undefined })}
        />
        <p className={inspector['note']}>
          One byte an event, over {pins(board.serialPins)}, which then do nothing else.
        </p>
        {inputs.serial && <Cautions words={serialCautions} />}
        <CheckField
          label="I2C"
          value={inputs.i2cAddress !== undefined}
          onChange={(is) => change('Turn I2C on or off', { i2cAddress: is ? firstAddress : undefined })}
        />
        <p className={inspector['note']}>
          Over {pins(board.i2cPins)}, which then do nothing else. Serial and I2C don’t go together.
        </p>
        {inputs.i2cAddress !== undefined && (
          <>
            <NumberField
              label="Address, 7 bits"
              digits={0}
              least={firstAddress}
              most={119}
              value={inputs.i2cAddress}
              onChange={(i2cAddress, gesture) => change('Change I2C address', { i2cAddress }, gesture)}
            />
            <Cautions words={i2cCautions} />
          </>
        )}
      </Group>
      <Group title="Room button">
        <p className={inspector['note']}>A button to ground that steps through three brightnesses.</p>
        <SelectField
          label="Pin"
          value={inputs.roomPin === undefined ? '' : String(inputs.roomPin)}
          choices={pinChoices(project, board, inputs.roomPin)}
          onChange={(pin) => change('Choose pin of room button', { roomPin: pinOf(pin) })}
        />
        {inputs.roomPin !== undefined &&
          steps.map((label, index) => (
            <NumberField
              key={label}
              label={label}
              unit="%"
              digits={0}
              least={1}
              most={100}
              value={percents[index]!}
              onChange={(percent, gesture) =>
                change(
                  'Change room brightness',
                  { roomPercents: percents.map((one, i) => (i === index ? percent : one)) },
                  gesture,
                )
              }
            />
          ))}
      </Group>
      <Buttons>
        <Button onPress={() => workbench.select(nothing)}>All events</Button>
      </Buttons>
    </>
  );
}
