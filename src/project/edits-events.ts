// Edits of game events and of the inputs by which the board hears them. Each returns a recipe for history.ts, and keeps references whole. What a limit
// forbids is left undone, and numbers are brought inside the schema's bounds. Not here: recorded presses (edits-press-logs.ts), whether pins and
// buses go together (findings tell).
import { changeWithinSchema, withinSchema } from './bounds.ts';
import { applyChange, byId, type Change, indexById, mustBeNew, partOf } from './edits-parts.ts';
import { dropFromPressLogs } from './edits-press-logs.ts';
import type { Edit } from './history.ts';
import { projectSchema } from './schema.ts';
import { gameEventSchema, inputsSchema } from './schema-events.ts';
import type { GameEvent, Inputs } from './types.ts';

const mostEvents = projectSchema.properties.gameEvents.maxItems;
const roomStepCount = inputsSchema.properties.roomPercents.minItems;

/** Adds it behind the others, so that their numbers in messages stay. */
export const addGameEvent =
  (event: GameEvent): Edit =>
  (project) => {
    const events = project.gameEvents ?? [];
    mustBeNew(events, event.id);
    byId(project.lampshows, event.lampshow, 'lampshow');
    const bounded = withinSchema(gameEventSchema, event);
    if (bounded && events.length < mostEvents) project.gameEvents = [...events, bounded];
  };

/** Changes some of an event's properties but its id; an optional one given as undefined is deleted. */
export const changeGameEvent =
  (id: string, change: Change<Omit<GameEvent, 'id'>>): Edit =>
  (project) => {
    const events = project.gameEvents ?? [];
    const index = indexById(events, id, 'game event');
    if (change.lampshow !== undefined) byId(project.lampshows, change.lampshow, 'lampshow');
    applyChange(events, index, changeWithinSchema<GameEvent>(gameEventSchema, change, events[index]));
  };

/** Takes its presses out of all logs. The list stays, if need be empty. */
export const deleteGameEvent =
  (id: string): Edit =>
  (project) => {
    const events = project.gameEvents ?? [];
    const index = indexById(events, id, 'game event');
    dropFromPressLogs(project, [id]);
    events.splice(index, 1);
  };

/** Moves it to another place: its number in messages, and theirs between the two places, are others then. */
export const moveGameEvent =
  (from: number, to: number): Edit =>
  (project) => {
    const events = project.gameEvents ?? [];
    const event = partOf(events, from, 'game event');
    events.splice(from, 1);
    events.splice(to, 0, event);
  };

/** Changes some of the inputs; one given as undefined is taken away. Room steps that are not three are left undone. */
export const changeInputs =
  (change: Change<Inputs>): Edit =>
  (project) => {
    const { roomPercents, ...others } = change;
    const wanted = roomPercents && roomPercents.length !== roomStepCount ? others : change;
    const bounded = changeWithinSchema<Inputs>(inputsSchema, wanted, project.inputs);
    const named = Object.values(bounded).some((value) => value !== undefined);
    if (!project.inputs && !named) return;
    project.inputs ??= {};
    applyChange(project, 'inputs', bounded);
  };
