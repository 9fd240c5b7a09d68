// The palette that cells are painted from: up to 16 colours, chosen, changed, added, taken away and put in order.
import { coloursOfGradient, darkestOf } from '../../../../lampshow/index.ts';
import {
  addPaletteColour,
  changePaletteColour,
  deletePaletteColour,
  movePaletteColour,
  paintedLimits,
} from '../../../../project/index.ts';
import { changePainting } from '../../../canvas/drags-paint.ts';
import { Button, Buttons, ColourField, Group } from '../../../fields/index.ts';
import { useEdit, useProject, useScreen, useWorkbench } from '../../../workbench/context.ts';
import type { PaintedPlace } from '../../../workbench/painting.ts';
import css from './paint.module.css';

/** Colours that are taken from the gradient at once. */
const fromGradient = 5;

export function ColoursGroup({ painted }: { readonly painted: PaintedPlace }) {
  const workbench = useWorkbench();
  const edit = useEdit();
  const { place, effect, colour, clip } = painted;
  const { palette } = effect;
  const gradient = useProject(({ gradients }) => gradients.find(({ id }) => id === clip.gradient));
  const isPicking = useScreen(({ painting }) => painting.tool === 'artwork');
  const choose = (number: number) => changePainting(workbench, { colour: number });
  const room = paintedLimits.colours - palette.length;
  const hex = palette[colour]!.toLowerCase();
  const offered = gradient
    ? coloursOfGradient(gradient, fromGradient).filter((one) => !palette.includes(one))
    : [];
  const darkest = darkestOf(palette);
  return (
    <Group title={`Colours, ${palette.length} of ${paintedLimits.colours}`}>
      <fieldset className={css['palette']}>
        <legend className="visually-hidden">Colour to paint with</legend>
        {palette.map((one, number) => (
          // Colours are told apart by their number.
          // biome-ignore lint/suspicious/noArrayIndexKey: see above
          <label key={number} className={css['colour']} title={`Colour ${number + 1}, ${one}`}>
            <input
              type="radio"
              className="visually-hidden"
              name="paint-colour"
              checked={number === colour}
              onChange={() => choose(number)}
              aria-label={`Colour ${number + 1}, ${one}${number === darkest ? ', erases' : ''}`}
            />
            <span style={{ background: one }} />
          </label>
        ))}
      </fieldset>
      <ColourField
        label={`Colour ${colour + 1}`}
        value={hex}
        onChange={(typed) =>
          edit('Change colour', changePaletteColour(place, colour, typed), `painted colour ${colour}`)
        }
        onDone={() => workbench.endGesture()}
      />
      <div className={css['tight']}>
        <Buttons>
          <Button
            isDisabled={room < 1}
            label="Add a colour like this one"
            onPress={() => {
              edit('Add colour', addPaletteColour(place, hex));
              choose(palette.length);
            }}
          >
            Add
          </Button>
          <Button
            isDisabled={palette.length < 2}
            label="Remove the colour; its cells take the darkest other one"
            onPress={() => {
              const others = palette.filter((_, number) => number !== colour);
              const next = darkestOf(others);
              edit('Remove colour', deletePaletteColour(place, colour, next < colour ? next : next + 1));
              choose(Math.max(0, colour - 1));
            }}
          >
            Remove
          </Button>
          <Button
            isDisabled={colour === 0}
            label="Move the colour one place forward"
            onPress={() => {
              edit('Move colour', movePaletteColour(place, colour, colour - 1));
              choose(colour - 1);
            }}
          >
            ←
          </Button>
          <Button
            isDisabled={colour === palette.length - 1}
            label="Move the colour one place back"
            onPress={() => {
              edit('Move colour', movePaletteColour(place, colour, colour + 1));
              choose(colour + 1);
            }}
          >
            →
          </Button>
          <Button
            isDisabled={room < 1 || offered.length === 0}
            label={`Add colours of the gradient ${gradient?.name ?? clip.gradient}`}
            onPress={() =>
              edit('Add colours of the gradient', (draft) => {
                for (const one of offered.slice(0, room)) addPaletteColour(place, one)(draft);
              })
            }
          >
            From the gradient
          </Button>
          <Button
            label="Take a colour from the artwork with the next press"
            onPress={() => changePainting(workbench, { tool: isPicking ? 'brush' : 'artwork' })}
          >
            {isPicking ? 'Press on the print' : 'From the artwork'}
          </Button>
        </Buttons>
      </div>
    </Group>
  );
}
