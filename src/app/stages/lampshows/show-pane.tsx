// The show in the inspector, while no clip is chosen: its name and length, whether it is the attract mode, and its rows.
import { ArrowDown, ArrowUp, Eye, EyeOff, Trash2 } from 'lucide-react';
import {
  deleteGradient,
  deleteLampshow,
  deleteRow,
  type Lampshow,
  limits,
  moveRow,
  muteRow,
  renameLampshow,
  renameRow,
  setAttractMode,
  setLampshowLength,
} from '../../../project/index.ts';
import {
  Button,
  Buttons,
  CheckField,
  Derived,
  Group,
  InspectorTitle,
  NumberField,
  TextField,
} from '../../fields/index.ts';
import { useEdit, useProject, useWorkbench } from '../../workbench/context.ts';
import { nothing } from '../../workbench/selection.ts';
import { clipEndMs } from './clip-times.ts';
import { FlashGroup } from './flash-group.tsx';
import { unusedGradients } from './gradient-stops.ts';
import css from './inspector.module.css';
import { chooseRow, useChosenRow } from './row-choice.ts';
import { plannedCopy, plannedRow } from './show-edits.ts';
import { BeatGroup, LoopGroup, MarkerGroup } from './show-time.tsx';
import { SoundGroup } from './sound-group.tsx';
import { typedMs } from './units.ts';
import { nameOf, rowName } from './words.ts';

const iconPx = 14;

function Rows({ show }: { readonly show: Lampshow }) {
  const edit = useEdit();
  const chosen = useChosenRow(show);
  const { rows } = show;
  return (
    <Group title="Rows">
      <p className={css['note']}>The first is drawn first; those below it go over it.</p>
      <ol className={css['rows']}>
        {rows.map((row, index) => (
          <li key={row.id} data-chosen={index === chosen}>
            <TextField
              isBare
              label={`Name of row ${index + 1}`}
              value={rowName(row)}
              onChange={(name) => edit('Rename row', renameRow(show.id, index, name))}
            />
            <Button
              label={row.muted ? `Turn ${rowName(row)} on again` : `Mute ${rowName(row)}`}
              onPress={() =>
                edit(row.muted ? 'Turn row on' : 'Mute row', muteRow(show.id, index, !row.muted))
              }
            >
              {row.muted ? (
                <EyeOff size={iconPx} aria-hidden="true" />
              ) : (
                <Eye size={iconPx} aria-hidden="true" />
              )}
            </Button>
            <Button
              label={`Move ${rowName(row)} up`}
              isDisabled={index === 0}
              onPress={() => edit('Move row', moveRow(show.id, index, index - 1))}
            >
              <ArrowUp size={iconPx} aria-hidden="true" />
            </Button>
            <Button
              label={`Move ${rowName(row)} down`}
              isDisabled={index === rows.length - 1}
              onPress={() => edit('Move row', moveRow(show.id, index, index + 1))}
            >
              <ArrowDown size={iconPx} aria-hidden="true" />
            </Button>
            <Button
              label={`Delete ${rowName(row)}`}
              isDisabled={row.clips.length > 0}
              onPress={() => edit('Delete row', deleteRow(show.id, index))}
            >
              <Trash2 size={iconPx} aria-hidden="true" />
            </Button>
          </li>
        ))}
      </ol>
      <Buttons>
        <Button
          isDisabled={rows.length >= limits.rowsPerShow}
          onPress={() => {
            const planned = plannedRow(show);
            edit('New row', planned.edit);
            chooseRow(show.id, planned.place);
          }}
        >
          New row
        </Button>
      </Buttons>
      <p className={css['note']}>Only a row without clips can be deleted.</p>
    </Group>
  );
}

/** Gradients that no clip plays through, so that they can go. */
function UnusedGradients() {
  const edit = useEdit();
  const project = useProject((one) => one);
  const unused = unusedGradients(project);
  if (unused.length === 0) return null;
  return (
    <Group title="Unused gradients">
      <ul className={css['rows']}>
        {unused.map((gradient) => (
          <li key={gradient.id}>
            <span className={css['unused']}>{nameOf(gradient)}</span>
            <Button
              label={`Delete gradient ${nameOf(gradient)}`}
              onPress={() => edit('Delete gradient', deleteGradient(gradient.id))}
            >
              <Trash2 size={iconPx} aria-hidden="true" />
            </Button>
          </li>
        ))}
      </ul>
    </Group>
  );
}

/** "2 clips end later" */
function lateClips({ rows, lengthMs }: Lampshow): string | undefined {
  const count = rows.flatMap(({ clips }) => clips).filter((clip) => clipEndMs(clip) > lengthMs).length;
  if (count === 0) return undefined;
  return `${count === 1 ? 'One clip reaches' : `${count} clips reach`} beyond the show’s end and ${count === 1 ? 'is' : 'are'} cut off there.`;
}

export function ShowPane({ show }: { readonly show: Lampshow }) {
  const workbench = useWorkbench();
  const edit = useEdit();
  const isAttract = useProject(({ attractMode }) => attractMode) === show.id;
  const shows = useProject(({ lampshows }) => lampshows);
  const events = useProject(({ gameEvents }) => gameEvents)?.filter((event) => event.lampshow === show.id);
  const late = lateClips(show);
  const eventCount = events?.length ?? 0;
  return (
    <>
      <InspectorTitle title={nameOf(show)}>
        {isAttract
          ? 'Loops while nobody plays'
          : eventCount > 0
            ? 'Plays once when its game event comes'
            : 'No game event starts it yet'}
      </InspectorTitle>
      <Group title="Show">
        <TextField
          label="Name"
          value={nameOf(show)}
          onChange={(name) => edit('Rename show', renameLampshow(show.id, name))}
        />
        <NumberField
          label="Lasts"
          unit="s"
          digits={3}
          step={0.1}
          least={0.02}
          most={3600}
          value={show.lengthMs / 1000}
          onChange={(typed, gesture) =>
            edit('Change length of show', setLampshowLength(show.id, typedMs(typed)), gesture)
          }
        />
        {isAttract ? (
          <Derived label="Attract mode">this one</Derived>
        ) : (
          <CheckField
            label="Attract mode"
            value={false}
            onChange={() => edit('Change attract mode', setAttractMode(show.id))}
          />
        )}
        {late !== undefined && <p className={css['note']}>{late}</p>}
        <Buttons>
          <Button
            isDisabled={shows.length >= limits.lampshows}
            onPress={() => {
              const { edit: recipe, place } = plannedCopy(workbench.project, show);
              edit('Duplicate show', recipe);
              if (workbench.project.lampshows.some(({ id }) => id === place))
                workbench.playback.choose(place);
            }}
          >
            Duplicate show
          </Button>
          <Button
            isDisabled={shows.length < 2}
            onPress={() => {
              edit('Delete show', deleteLampshow(show.id));
              workbench.select(nothing);
            }}
          >
            Delete show
          </Button>
        </Buttons>
        {eventCount > 0 && (
          <p className={css['note']}>
            Started by {eventCount === 1 ? 'a game event, which goes' : `${eventCount} game events, which go`}{' '}
            with it.
          </p>
        )}
      </Group>
      <Rows show={show} />
      <FlashGroup show={show} />
      <LoopGroup show={show} />
      <MarkerGroup show={show} />
      <BeatGroup show={show} />
      <SoundGroup show={show} />
      <UnusedGradients />
    </>
  );
}
