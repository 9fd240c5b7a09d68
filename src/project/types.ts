// The document's types, derived from its schema and made readable by name. Nothing is declared here that the schema doesn't say.
import type { FromSchema } from 'json-schema-to-ts';
import type { Strip } from '../catalogue/index.ts';
import type { projectSchema } from './schema.ts';
import type { areaSchema } from './schema-areas.ts';
import type { gameEventSchema, inputsSchema, pressLogSchema } from './schema-events.ts';
import type { gradientSchema, lampshowSchema } from './schema-shows.ts';

export type Project = FromSchema<typeof projectSchema>;
export type Area = FromSchema<typeof areaSchema>;
export type Gradient = FromSchema<typeof gradientSchema>;
export type Lampshow = FromSchema<typeof lampshowSchema>;
export type GameEvent = FromSchema<typeof gameEventSchema>;
export type Inputs = FromSchema<typeof inputsSchema>;
export type PressLog = FromSchema<typeof pressLogSchema>;
export type Run = Project['runs'][number];
export type Panel = Project['panel'];
export type PanelImage = NonNullable<Panel['artwork']>;
export type Baffles = NonNullable<Panel['baffles']>;
export type KeepOut = NonNullable<Panel['keepOuts']>[number];
export type Measure = NonNullable<Panel['measures']>[number];
export type OwnSheet = NonNullable<Project['sheets']>[number];
export type OwnStrip = NonNullable<Project['strips']>[number];
export type Channel = NonNullable<Project['channels']>[number];
export type AsBuilt = NonNullable<Project['asBuilt']>;
export type BuiltRun = AsBuilt['runs'][number];
export type Feed = Project['power']['feeds'][number];
export type FurtherSupply = NonNullable<Project['power']['moreSupplies']>[number];
export type Planning = NonNullable<Project['power']['planning']>;
export type Controller = NonNullable<Project['power']['controller']>;
export type DataLine = Project['dataLines'][number];
export type AreaMembers = Area['members'][number];
export type AreaOrder = Area['order'];
export type Marker = NonNullable<Lampshow['markers']>[number];
export type ShowRow = Lampshow['rows'][number];
export type Clip = ShowRow['clips'][number];
export type Effect = Clip['effect'];
export type EffectKind = Effect['kind'];
export type EffectOf<K extends EffectKind> = Extract<Effect, { kind: K }>;
export type Blend = Clip['blend'];

/** What every calculation needs to know of a strip; the builder's own reels and the catalogue's alike. */
export type StripData = Omit<Strip, 'label' | 'chip' | 'source'>;
