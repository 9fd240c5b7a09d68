// Taking in shows of another builder's panel: a pack is picked, each of its areas gets its counterpart here, and what comes of it is told before it is done.
import { useMemo, useState } from 'react';
import { travelsOtherwise } from '../../../../lampshow/pack-import.ts';
import { type AreaChoice, type AreaMatch, matchAreas } from '../../../../lampshow/show-pack.ts';
import { type Problem, problemLine } from '../../../../project/index.ts';
import { readPack, type ShowPack } from '../../../../project/read-pack.ts';
import { Button, Buttons, CheckField, Group, SelectField } from '../../../fields/index.ts';
import { figure } from '../../../format.ts';
import { useCommander, useEdit, useSettled, useWorkbench } from '../../../workbench/context.ts';
import { nothing } from '../../../workbench/selection.ts';
import { Halves, Note, Outcome } from '../../runs/dialog.tsx';
import { nameOf, wayOf } from '../words.ts';
import { packExtension, toggled } from './give-part.tsx';
import { type PackPreview, packPreview, takeInLabel } from './pack-preview.ts';
import css from './share.module.css';
import type { SharePart } from './share-part.ts';
import { ampsWords, clipsLeftOut, comingWords, isTooMuch, leftOutWords, takeInWords } from './take-words.ts';
import { usePackAmps } from './use-pack-amps.ts';

/** No dialog helps anyone with more. */
const mostProblems = 6;
const mostFindings = 6;

/** Choices in a list; areas are told from the two others by their prefix. */
const wholeId = 'whole';
const noneId = 'none';
const areaPrefix = 'area ';
const choiceId = (choice: AreaChoice): string =>
  choice.kind === 'area' ? `${areaPrefix}${choice.id}` : choice.kind;
const choiceOf = (id: string): AreaChoice =>
  id === wholeId || id === noneId ? { kind: id } : { kind: 'area', id: id.slice(areaPrefix.length) };

interface Picked {
  readonly name: string;
  readonly pack: ShowPack | undefined;
  readonly problems: readonly Problem[];
}

interface Wishes {
  readonly left: ReadonlySet<string>;
  /** What was chosen by hand, by the pack's area. */
  readonly byHand: ReadonlyMap<string, AreaChoice>;
  readonly keepsOrders: boolean;
  readonly withEvents: boolean;
}

const firstWishes: Wishes = { left: new Set(), byHand: new Map(), keepsOrders: false, withEvents: true };

const foundWords: Readonly<Record<AreaMatch['by'], string>> = {
  role: 'by its role',
  id: 'by its name',
  none: 'not found',
};

export function useTakePart(isActive: boolean, onClose: () => void): SharePart {
  const { files } = useCommander();
  const workbench = useWorkbench();
  const edit = useEdit();
  const settled = useSettled();
  const [picked, setPicked] = useState<Picked>();
  const [wishes, setWishes] = useState(firstWishes);
  const pack = picked?.pack;
  const matches = useMemo(() => (pack ? matchAreas(pack, settled.project) : []), [pack, settled.project]);
  const preview = useMemo(() => {
    if (!isActive || !pack) return undefined;
    const { left, byHand, keepsOrders, withEvents } = wishes;
    const choices = new Map(matches.map(({ area, choice }) => [area.id, byHand.get(area.id) ?? choice]));
    const shows = pack.lampshows.map(({ id }) => id).filter((id) => !left.has(id));
    return packPreview(pack, settled, workbench.ports.templates, { shows, choices, keepsOrders, withEvents });
  }, [isActive, pack, matches, settled, wishes, workbench]);

  const pick = async () => {
    const file = await files.pickText('Show pack', '.json');
    if (!file) return;
    const read = file.text.ok ? readPack(file.text.value) : file.text;
    setWishes(firstWishes);
    setPicked({
      name: file.name,
      pack: read.ok ? read.value : undefined,
      problems: read.ok ? [] : read.problems,
    });
  };
  const take = (plan: PackPreview['plan']) => {
    if (!plan.edit) return;
    edit(takeInLabel, plan.edit);
    workbench.select(nothing);
    workbench.playback.choose(plan.shows[0]!);
    onClose();
  };
  const plan = preview?.plan;
  const pickButton = (
    <Buttons>
      <Button onPress={() => void pick()}>{pack ? 'Choose another file' : 'Choose a show pack'}</Button>
    </Buttons>
  );
  if (!pack)
    return {
      act: takeInWords(0),
      onAct: undefined,
      body: (
        <>
          <Note>
            A show pack is a file that another builder has saved with “Give shows”. Its name ends in{' '}
            {packExtension}. Nothing is taken in before you have seen what it comes to.
          </Note>
          {pickButton}
          {picked && <Problems picked={picked} />}
        </>
      ),
    };
  return {
    act: takeInWords(plan?.shows.length ?? 0),
    onAct: plan?.edit && (() => take(plan)),
    body: (
      <Halves
        fields={
          <>
            <Note>
              {pack.name}, {pack.panelSize.widthMm} x {pack.panelSize.heightMm} mm
            </Note>
            <Group title="Shows">
              <ul className={css['list']}>
                {pack.lampshows.map((show) => (
                  <li key={show.id}>
                    <CheckField
                      label={nameOf(show)}
                      value={!wishes.left.has(show.id)}
                      onChange={(wanted) =>
                        setWishes({ ...wishes, left: toggled(wishes.left, show.id, !wanted) })
                      }
                    />
                  </li>
                ))}
              </ul>
            </Group>
            <Group title="How">
              {(pack.gameEvents?.length ?? 0) > 0 && (
                <CheckField
                  label="With its game events"
                  value={wishes.withEvents}
                  onChange={(withEvents) => setWishes({ ...wishes, withEvents })}
                />
              )}
              <CheckField
                label="Travel as in the pack"
                value={wishes.keepsOrders}
                onChange={(keepsOrders) => setWishes({ ...wishes, keepsOrders })}
              />
            </Group>
            <Note>
              Centres keep their place within the area; patches, drift and rings grow with the panel’s width.
              Events come without pins.
            </Note>
            {pickButton}
          </>
        }
      >
        <Areas
          matches={matches}
          byHand={wishes.byHand}
          clipsLost={new Map(plan?.leftOut.map(({ area, clipCount }) => [area, clipCount]))}
          onChoose={(choices) => setWishes({ ...wishes, byHand: new Map([...wishes.byHand, ...choices]) })}
        />
        {preview && <Coming preview={preview} />}
      </Halves>
    ),
  };
}

function Problems({ picked: { name, problems } }: { readonly picked: Picked }) {
  const more = problems.length - mostProblems;
  return (
    <div role="alert">
      <Outcome tone="warn">{name} can’t be taken in.</Outcome>
      <ul className={css['problems']}>
        {problems.slice(0, mostProblems).map((problem) => (
          <li key={problem.at + problem.code + problem.found}>{problemLine(problem)}</li>
        ))}
        {more > 0 && <li>And {more} more.</li>}
      </ul>
    </div>
  );
}

function Areas({
  matches,
  byHand,
  clipsLost,
  onChoose,
}: {
  readonly matches: readonly AreaMatch[];
  readonly byHand: ReadonlyMap<string, AreaChoice>;
  /** Clips that are left out, by the pack's area. */
  readonly clipsLost: ReadonlyMap<string, number>;
  readonly onChoose: (choices: ReadonlyMap<string, AreaChoice>) => void;
}) {
  const { project } = useSettled();
  const choices = [
    ...project.areas.map((area) => ({ id: `${areaPrefix}${area.id}`, label: nameOf(area) })),
    { id: wholeId, label: 'The whole panel' },
    { id: noneId, label: 'Leave out' },
  ];
  const open = matches.filter(({ area, by }) => by === 'none' && !byHand.has(area.id));
  return (
    <>
      <div className={css['scroll']}>
        <table className={css['areas']}>
          <thead>
            <tr>
              <th scope="col">In the pack</th>
              <th scope="col">Here</th>
              <th scope="col">Found</th>
            </tr>
          </thead>
          <tbody>
            {matches.map(({ area, by, choice }) => {
              const now = byHand.get(area.id) ?? choice;
              const here = now.kind === 'area' ? project.areas.find(({ id }) => id === now.id) : undefined;
              const travels =
                here && travelsOtherwise(area, here)
                  ? `${wayOf(here.order)}, there ${wayOf(area.order)}`
                  : undefined;
              return (
                <tr key={area.id}>
                  <th scope="row">{nameOf(area)}</th>
                  <td>
                    <SelectField
                      isBare
                      label={`Instead of ${nameOf(area)}`}
                      value={choiceId(now)}
                      choices={choices}
                      onChange={(id) => onChoose(new Map([[area.id, choiceOf(id)]]))}
                    />
                  </td>
                  <td>{foundAs(by, byHand.has(area.id), clipsLost.get(area.id), travels)}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
      {open.length > 0 && (
        <Buttons>
          <Button
            onPress={() => onChoose(new Map(open.map(({ area }) => [area.id, { kind: wholeId } as const])))}
          >
            The whole panel for all that were not found
          </Button>
        </Buttons>
      )}
    </>
  );
}

/** How a counterpart was found, and what is to be known of it. */
function foundAs(
  by: AreaMatch['by'],
  isByHand: boolean,
  clipsLost: number | undefined,
  travels: string | undefined,
): string {
  return [
    isByHand ? 'by hand' : foundWords[by],
    ...(clipsLost === undefined ? [] : [clipsLeftOut(clipsLost)]),
    ...(travels === undefined ? [] : [`travels ${travels}`]),
  ].join('; ');
}

function Coming({ preview }: { readonly preview: PackPreview }) {
  const settled = useSettled();
  const amps = usePackAmps(preview);
  const { plan, after, findings } = preview;
  const { power } = settled.project;
  const lost = leftOutWords(plan);
  const told = [
    ...findings.slice(0, mostFindings).map(({ message }) => message),
    ...(findings.length > mostFindings ? [`And ${findings.length - mostFindings} more like these.`] : []),
  ];
  const bytes = (compiled: typeof settled): string =>
    compiled.showData ? `${figure(compiled.showData.bytes.length)} bytes` : 'more than 64 KB';
  return (
    <>
      <Outcome>{comingWords(plan)}</Outcome>
      {after && (
        <Note>
          Show data {bytes(settled)} now, {bytes(after)} then; {(1000 / settled.frameMs).toFixed(1)} frames a
          second now, {(1000 / after.frameMs).toFixed(1)} then.
        </Note>
      )}
      {after && (
        <table className={css['areas']}>
          <thead>
            <tr>
              <th scope="col">Show here</th>
              <th scope="col">Peak</th>
            </tr>
          </thead>
          <tbody>
            {plan.shows.map((id) => {
              const peak = amps.get(id);
              return (
                <tr key={id}>
                  <th scope="row">{nameOf(after.project.lampshows.find((show) => show.id === id)!)}</th>
                  <td data-tone={peak !== undefined && isTooMuch(peak, power) ? 'warn' : 'plain'}>
                    {peak === undefined ? '-.--' : `${peak.toFixed(2)} A, ${ampsWords(peak, power)}`}
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
      )}
      {[...lost, ...told].length > 0 && (
        <ul className={css['problems']}>
          {[...lost, ...told].map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      )}
    </>
  );
}
