// Edits of the supply, the current limit and the feeds. Each returns a recipe for history.ts, and keeps references whole.
// Not here: whether they suffice (src/power). What a limit forbids is left undone, and numbers are brought inside the
// schema's bounds.
import { changeWithinSchema, withinSchema } from './bounds.ts';
import {
  applyChange,
  type Change,
  freeId,
  indexById,
  mustBeWire,
  mustHoldLed,
  partOf,
  runOf,
  withoutEntry,
} from './edits-parts.ts';
import type { Edit } from './history.ts';
import { limits } from './limits.ts';
import { projectSchema } from './schema.ts';
import type { Controller, Feed, FurtherSupply, Planning, Project } from './types.ts';

const powerSchema = projectSchema.properties.power;
const furtherSupplySchema = powerSchema.properties.moreSupplies.items;
const feedSchema = powerSchema.properties.feeds.items;

export const setSupply =
  (change: Change<Project['power']['supply']>): Edit =>
  (project) => {
    const { power } = project;
    applyChange(power, 'supply', changeWithinSchema(powerSchema.properties.supply, change, power.supply));
  };

/** A further supply, its + for feeds of its own. Its id is free to choose; the next free "supply-2" where absent. */
export const addSupply =
  (supply: Omit<FurtherSupply, 'id'> & { readonly id?: string }): Edit =>
  ({ power }) => {
    const supplies = power.moreSupplies ?? [];
    const id =
      supply.id ??
      freeId(
        supplies.map((one) => one.id),
        'supply-2',
      );
    const bounded = withinSchema(furtherSupplySchema, { ...supply, id });
    if (!bounded || supplies.length >= limits.moreSupplies || supplies.some((one) => one.id === id)) return;
    power.moreSupplies = [...supplies, bounded];
  };

export const changeFurtherSupply =
  (id: string, change: Change<Omit<FurtherSupply, 'id'>>): Edit =>
  ({ power }) => {
    const supplies = power.moreSupplies ?? [];
    const index = indexById(supplies, id, 'supply');
    applyChange(
      supplies,
      index,
      changeWithinSchema<FurtherSupply>(furtherSupplySchema, change, supplies[index]),
    );
  };

/** Takes a further supply away; its feeds go back to the first one. */
export const removeFurtherSupply =
  (id: string): Edit =>
  (project) => {
    const { power } = project;
    const index = indexById(power.moreSupplies ?? [], id, 'supply');
    for (const [f, feed] of power.feeds.entries())
      if (feed.supply === id) applyChange(power.feeds, f, { supply: undefined });
    applyChange(project, 'power', { moreSupplies: withoutEntry(power.moreSupplies!, index) });
  };

/** What planning may do. A property given as undefined is as where nothing was said. */
export const setPlanning =
  (change: Change<Planning>): Edit =>
  ({ power }) => {
    if (change.wire !== undefined) mustBeWire(change.wire);
    power.planning ??= {};
    applyChange(
      power,
      'planning',
      changeWithinSchema<Planning>(powerSchema.properties.planning, change, power.planning),
    );
  };

/** Forbids an LED as a place for feeds, or allows it again. */
export const setForbidden =
  (run: string, led: number, isForbidden: boolean): Edit =>
  (project) => {
    mustHoldLed(runOf(project, run), led);
    const { power } = project;
    const others = (power.planning?.forbidden ?? []).filter(
      (place) => place.run !== run || place.led !== led,
    );
    const forbidden = isForbidden ? [...others, { run, led }] : others;
    power.planning ??= {};
    applyChange(power, 'planning', { forbidden: forbidden.length > 0 ? forbidden : undefined });
  };

export const setController =
  (change: Change<Controller>): Edit =>
  ({ power }) => {
    if (change.wire !== undefined) mustBeWire(change.wire);
    power.controller ??= {};
    applyChange(
      power,
      'controller',
      changeWithinSchema<Controller>(powerSchema.properties.controller, change, power.controller),
    );
  };

/** How hot the backbox gets, and how long an evening's play is. */
export const setPowerSurroundings =
  (change: Change<Pick<Project['power'], 'hotCelsius' | 'eveningHours'>>): Edit =>
  (project) =>
    applyChange(project, 'power', changeWithinSchema<Project['power']>(powerSchema, change, project.power));

/** A plan of feeds: all feeds anew, and what each jumper named does with +. */
export interface FeedPlanEdit {
  readonly feeds: readonly Feed[];
  readonly jumpers: readonly {
    readonly line: number;
    /** Place in the line's chain of the run that the jumper leads to. */
    readonly place: number;
    readonly power: 'carried' | 'cut';
  }[];
}

export const applyFeedPlan =
  ({ feeds, jumpers }: FeedPlanEdit): Edit =>
  (project) => {
    for (const feed of feeds) mustBeFeedable(project, feed);
    project.power.feeds = feeds.map((feed) => ({ ...feed }));
    for (const { line, place, power } of jumpers) {
      const link = partOf(partOf(project.dataLines, line, 'data line').chain, place, 'link');
      if ((link.jumper?.power ?? 'carried') === power) continue;
      link.jumper ??= {};
      link.jumper.power = power;
    }
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
