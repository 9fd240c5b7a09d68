// What a new game event begins with. Pure.
import {
  addGameEvent,
  type Edit,
  freeId,
  type GameEvent,
  idFrom,
  type Project,
  projectSchema,
} from '../../../../project/index.ts';
import { nameOf } from '../words.ts';

export const mostEvents = projectSchema.properties.gameEvents.maxItems;

/** It starts the first show that no event starts yet and that isn't the attract mode, and is named like it. Undefined where there is no room. */
export function plannedEvent(project: Project): { readonly edit: Edit; readonly id: string } | undefined {
  const { gameEvents = [], lampshows, attractMode } = project;
  if (gameEvents.length >= mostEvents || lampshows.length === 0) return undefined;
  const isStarted = (id: string) => gameEvents.some(({ lampshow }) => lampshow === id);
  const show =
    lampshows.find(({ id }) => id !== attractMode && !isStarted(id)) ??
    lampshows.find(({ id }) => id !== attractMode) ??
    lampshows[0]!;
  const taken = new Set(gameEvents.map(nameOf));
  const base = nameOf(show);
  let name = base;
  for (let next = 2; taken.has(name); next++) name = `${base} ${next}`;
  const id = freeId(
    gameEvents.map((event) => event.id),
    idFrom(name),
  );
  const event: GameEvent = { id, name, lampshow: show.id };
  return { edit: addGameEvent(event), id };
}
