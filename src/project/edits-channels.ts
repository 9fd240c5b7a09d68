// Edits of engraved channels, the locked outlines that runs are fitted into. Each returns a recipe for history.ts.
// Not here: fitting runs into them (src/panel/fit.ts). What a limit forbids is left undone, and numbers are brought inside the schema's bounds.
import { withinSchema } from './bounds.ts';
import { indexById, mustBeNew } from './edits-parts.ts';
import type { Edit } from './history.ts';
import { limits } from './limits.ts';
import { channelSchema } from './schema-runs.ts';
import type { Channel } from './types.ts';

/** Adds channels behind those that there are; all of them or none. */
export const addChannels =
  (channels: readonly Channel[]): Edit =>
  (project) => {
    const own = project.channels ?? [];
    const fresh: Channel[] = [];
    for (const channel of channels) {
      mustBeNew([...own, ...fresh], channel.id);
      const bounded = withinSchema(channelSchema, channel);
      if (!bounded) return;
      fresh.push(bounded);
    }
    if (fresh.length > 0 && own.length + fresh.length <= limits.runs) project.channels = [...own, ...fresh];
  };

/** Takes a channel out; the list stays, if need be empty, and runs stay where they lie. */
export const removeChannel =
  (id: string): Edit =>
  (project) => {
    const own = project.channels ?? [];
    own.splice(indexById(own, id, 'channel'), 1);
  };
