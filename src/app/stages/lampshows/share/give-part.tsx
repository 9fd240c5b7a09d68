// Shows for another builder's panel, as a file: which shows, and whether their game events come along.
import { useMemo, useState } from 'react';
import { packOf } from '../../../../lampshow/show-pack.ts';
import { writePack } from '../../../../project/read-pack.ts';
import { CheckField, Derived, Group } from '../../../fields/index.ts';
import { fileNameOf, projectExtension } from '../../../files/file-store.ts';
import { figure } from '../../../format.ts';
import { useCommander, useSettled } from '../../../workbench/context.ts';
import { Halves, Note } from '../../runs/dialog.tsx';
import { nameOf, wayOf } from '../words.ts';
import css from './share.module.css';
import type { SharePart } from './share-part.ts';

export const packExtension = '.lamploom-shows.json';

export function useGivePart(isActive: boolean): SharePart {
  const { files } = useCommander();
  const { project, layout } = useSettled();
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  const [withEvents, setWithEvents] = useState(true);
  const shows = project.lampshows.map(({ id }) => id).filter((id) => !left.has(id));
  const eventCount = (project.gameEvents ?? []).filter(({ lampshow }) => shows.includes(lampshow)).length;
  const pack = useMemo(() => {
    const wanted = project.lampshows.map(({ id }) => id).filter((id) => !left.has(id));
    return isActive && wanted.length > 0 ? packOf(project, layout, wanted, withEvents) : undefined;
  }, [isActive, project, layout, left, withEvents]);
  const save = () => {
    if (!pack) return;
    const name = fileNameOf(project.name).replace(projectExtension, packExtension);
    void files.saveBytes(name, new TextEncoder().encode(writePack(pack)), 'application/json');
  };
  return {
    act: shows.length === 1 ? 'Save one show' : `Save ${shows.length} shows`,
    onAct: pack && save,
    body: (
      <Halves
        fields={
          <>
            <Group title="Shows">
              <ul className={css['list']}>
                {project.lampshows.map((show) => (
                  <li key={show.id}>
                    <CheckField
                      label={nameOf(show)}
                      value={!left.has(show.id)}
                      onChange={(wanted) => setLeft(toggled(left, show.id, !wanted))}
                    />
                  </li>
                ))}
              </ul>
            </Group>
            <Group title="Along with them">
              {eventCount > 0 && (
                <CheckField
                  label={eventCount === 1 ? 'One game event' : `${eventCount} game events`}
                  value={withEvents}
                  onChange={setWithEvents}
                />
              )}
              <Derived label="Gradients">{figure(pack?.gradients.length ?? 0)}</Derived>
            </Group>
            <Note>
              The panel stays here: no LEDs, no wiring, no pins, no artwork. Whoever takes the shows in says
              which of their areas is which.
            </Note>
          </>
        }
      >
        {/* biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls, and keys must reach what is out of view */}
        <section className={css['scroll']} aria-label="Areas of the pack" tabIndex={0}>
          <table className={css['areas']}>
            <thead>
              <tr>
                <th scope="col">Area</th>
                <th scope="col">Role</th>
                <th scope="col">Effects travel</th>
              </tr>
            </thead>
            <tbody>
              {(pack?.areas ?? []).map((area) => (
                <tr key={area.id}>
                  <td>{nameOf(area)}</td>
                  <td>{area.role}</td>
                  <td>{wayOf(area.order)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </section>
        <Note>Another panel’s areas are found by their roles, which are set in Runs.</Note>
      </Halves>
    ),
  };
}

/** A set with one entry put in or taken out. */
export function toggled(set: ReadonlySet<string>, id: string, isIn: boolean): ReadonlySet<string> {
  const next = new Set(set);
  if (isIn) next.add(id);
  else next.delete(id);
  return next;
}
