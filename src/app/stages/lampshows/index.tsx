// The stage Lampshows: the panel lit above, the show's rows with clips drawn as their weave below, the chosen clip or the show on the right.
import type { StageParts } from '../stage-parts.ts';
import { Dock } from './dock.tsx';
import { GlassTools } from './glass-tools.tsx';
import { Inspector } from './inspector.tsx';

export const lampshowsStage: StageParts = { Tools: GlassTools, Dock, Inspector };
