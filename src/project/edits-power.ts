// Edits of the supply, the current limit and the feeds. Each returns a recipe for history.ts, and keeps references whole.
// Not here: whether they suffice (src/power). What a limit forbids is left undone, and numbers are brought inside the
// schema's bounds.
import { changeWithinSchema, withinSchema } from './bounds.ts';
import { applyChange, type Change, mustBeWire, mustHoldLed, partOf, runOf } from './edits-parts.ts';
import type { Edit } from './history.ts';
import { limits } from './limits.ts';
import { projectSchema } from './schema.ts';
import type { Feed, Project } from './types.ts';

const powerSchema = projectSchema.properties.power;
const feedSchema = powerSchema.properties.feeds.items;

export const setSupply =
  (change: Change<Project['power']['supply']>): Edit =>
  (project) => {
    const { power } = project;
    applyChange(power, 'supply', changeWithinSchema(powerSchema.properties.supply, change, power.supply));
  };

/** The player's current limit; undefined takes it off. */
export const setLimit =
  (limitAmps: number | undefined): Edit =>
  (project) =>
    applyChange(
      project,
      'power',
      changeWithinSchema<Project['power']>(powerSchema, { limitAmps }, project.power),
    );

function mustBeFeedable(project: Project, feed: Pick<Feed, 'run' | 'led' | 'wire'>): void {
  mustHoldLed(runOf(project, feed.run), feed.led);
  mustBeWire(feed.wire);
}

export const addFeed =
  (feed: Feed): Edit =>
  (project) => {
    const bounded = withinSchema(feedSchema, feed);
    if (!bounded) return;
    mustBeFeedable(project, bounded);
    if (project.power.feeds.length < limits.runs) project.power.feeds.push(bounded);
  };

export const removeFeed =
  (index: number): Edit =>
  (project) => {
    partOf(project.power.feeds, index, 'feed');
    project.power.feeds.splice(index, 1);
  };

/** Changes some of a feed's properties; its fuse given as undefined is chosen from the load again. */
export const changeFeed =
  (index: number, change: Change<Feed>): Edit =>
  (project) => {
    const feed = partOf(project.power.feeds, index, 'feed');
    const bounded = changeWithinSchema<Feed>(feedSchema, change, feed);
    mustBeFeedable(project, { run: feed.run, led: feed.led, wire: feed.wire, ...bounded });
    applyChange(project.power.feeds, index, bounded);
  };
