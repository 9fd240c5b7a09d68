// Edits of areas. Each returns a recipe for history.ts, and keeps references whole.
// Not here: which LEDs an area comes to hold (src/panel/areas.ts). What a limit forbids is left undone, and numbers
// are brought inside the schema's bounds.
import { withinSchema } from './bounds.ts';
import {
  applyChange,
  byId,
  idFrom,
  indexById,
  membersOrNone,
  mustBeNew,
  mustHoldMembers,
  setName,
} from './edits-parts.ts';
import type { Edit } from './history.ts';
import { limits } from './limits.ts';
import { areaSchema } from './schema-areas.ts';
import type { Area, AreaMembers, AreaOrder } from './types.ts';

export const addArea =
  (area: Area): Edit =>
  (project) => {
    mustBeNew(project.areas, area.id);
    mustHoldMembers(project, area.members);
    const bounded = withinSchema(areaSchema, area);
    const hasRoom = project.areas.length < limits.areas && area.members.length <= limits.runs;
    if (bounded && hasRoom) project.areas.push(bounded);
  };

/** Deletes an area and the clips that play on it, in every show. */
export const deleteArea =
  (id: string): Edit =>
  (project) => {
    byId(project.areas, id, 'area');
    project.areas = project.areas.filter((area) => area.id !== id);
    for (const show of project.lampshows)
      for (const row of show.rows)
        if (row.clips.some((clip) => clip.area === id))
          row.clips = row.clips.filter((clip) => clip.area !== id);
  };

export const renameArea =
  (id: string, name: string): Edit =>
  (project) =>
    setName(project.areas, indexById(project.areas, id, 'area'), name);

/** Sets what an area is on any panel, in an id's letters: `Sky, top` is kept as `sky-top`. An empty role is taken away. */
export const setAreaRole =
  (id: string, role: string): Edit =>
  (project) =>
    applyChange(project.areas, indexById(project.areas, id, 'area'), {
      role: role.trim() === '' ? undefined : idFrom(role),
    });

/** Sets what belongs to an area; nothing at all makes it an area of no runs. */
export const setAreaMembers =
  (id: string, members: readonly AreaMembers[]): Edit =>
  (project) => {
    mustHoldMembers(project, members);
    const area = byId(project.areas, id, 'area');
    const bounded = withinSchema(areaSchema.properties.members, [...members], area.members);
    if (bounded) area.members = membersOrNone(bounded.slice(0, limits.runs));
  };

export const setAreaOrder =
  (id: string, order: AreaOrder): Edit =>
  (project) => {
    const area = byId(project.areas, id, 'area');
    area.order = withinSchema(areaSchema.properties.order, order, area.order) ?? area.order;
  };
