// The fuse rule in words: what to tell of conductors that fuses don't protect, and names of conductors and shorts for screens.
// One finding for each zone with the short and each kind of conductor, the worst first. Not here: the rule (fuse-rule.ts). Not told again: a feed's
// own wire or plug below its own fuse (fuse-above-wire, fuse-above-plug), and a feed for which no fuse is large enough (fuse-missing).
import { runTitle } from '../panel/index.ts';
import { type Finding, type Project, pointer } from '../project/index.ts';
import { amps } from './findings-words.ts';
import { boardLead, type Conductor } from './fuse-conductors.ts';
import type { ConductorCheck, FuseRule, Short } from './fuse-rule.ts';
import type { PanelNetwork } from './panel-network.ts';
import type { FeedSize } from './sizing.ts';

const titleOf = (project: Project, run: string): string => {
  const known = project.runs.find(({ id }) => id === run);
  return `"${known ? runTitle(known) : run}"`;
};
const ledPlace = (project: Project, { run, led }: { readonly run: string; readonly led: number }): string =>
  `LED ${led} of run ${titleOf(project, run)}`;

/** "LED 4 of run "sky"", or "the cable of the feed at ...". */
export function shortPlace(project: Project, panel: PanelNetwork, { led, feed }: Short): string {
  return feed === undefined
    ? ledPlace(project, panel.leds[led]!)
    : `the cable of the feed at ${ledPlace(project, panel.feeds[feed]!.feed)}`;
}

/** Where a conductor stands in the document: a pointer that exists there. */
function conductorAt(project: Project, panel: PanelNetwork, { kind, index }: Conductor): string {
  switch (kind) {
    case 'segment': {
      const { run } = panel.leds[panel.segments[index]!.fromLed]!;
      return pointer(
        'runs',
        project.runs.findIndex(({ id }) => id === run),
      );
    }
    case 'jumper':
      return panel.jumpers[index]!.at;
    case 'feed':
      return `${panel.feeds[index]!.at}/wire`;
    case 'plug':
      return `${panel.feeds[index]!.at}/plug`;
    case 'board-lead':
      return boardLead(project, index).at;
    case 'board-ground':
      return project.power.controller ? pointer('power', 'controller') : pointer('power');
    case 'supply-ground':
      return `${panel.supplies[index]!.at}/ground/wire`;
  }
}

/** What a conductor is called in a sentence. */
export function conductorName(
  project: Project,
  panel: PanelNetwork,
  { kind, polarity, index }: Conductor,
): string {
  const rail = polarity === 'plus' ? '+' : 'ground';
  switch (kind) {
    case 'segment': {
      const { fromLed, toLed } = panel.segments[index]!;
      const { run, led } = panel.leds[fromLed]!;
      return `the ${rail} rail of run ${titleOf(project, run)} between LED ${led} and ${panel.leds[toLed]!.led}`;
    }
    case 'jumper': {
      const { jumper, wire } = panel.jumpers[index]!;
      return `the ${rail} jumper (${wire.id}) from run "${runTitle(jumper.from.run)}" to "${runTitle(jumper.to.run)}"`;
    }
    case 'feed': {
      const { feed, wire } = panel.feeds[index]!;
      return `the ${rail} wire (${wire.id}) of the feed at ${ledPlace(project, feed)}`;
    }
    case 'plug': {
      const { feed, plug } = panel.feeds[index]!;
      return `the ${rail} contact of the plug (${plug!.label}) of the feed at ${ledPlace(project, feed)}`;
    }
    case 'board-lead': {
      const { wire } = boardLead(project, index);
      return `the ground of the lead (${wire.id}) from the board to data line ${index + 1}`;
    }
    case 'board-ground':
      return "the board's own ground wire";
    case 'supply-ground':
      return `the wire that joins the ground of supply "${panel.supplies[index]!.id}" to the first one's`;
  }
}

const thickerWire = 'Take thicker wire for it';
/** What helps one conductor itself; rails are as they are. */
const ownMends: Record<Conductor['kind'], string | undefined> = {
  segment: undefined,
  jumper: thickerWire,
  feed: thickerWire,
  plug: 'Solder the feed, or take a larger plug',
  'board-lead': thickerWire,
  'board-ground': thickerWire,
  'supply-ground': thickerWire,
};

function mendFor({ conductor: { kind, polarity }, fuses }: ConductorCheck): string {
  const own = ownMends[kind];
  const fewer =
    fuses.length > 1
      ? 'cut + between feeds, at a jumper or by dividing the run, so that fewer fuses feed one short'
      : 'take a smaller fuse and less load on it: more zones, each with its feed';
  const mend = own === undefined ? `${fewer[0]!.toUpperCase()}${fewer.slice(1)}` : `${own}, or ${fewer}`;
  return polarity === 'plus' ? `${mend}.` : `${mend}. Grounds stay joined.`;
}

function fusesText(fuses: readonly number[], sizes: readonly Pick<FeedSize, 'fuseAmps'>[]): string {
  const each = fuses.flatMap((feed) => sizes[feed]!.fuseAmps ?? []);
  const [first] = each;
  if (first === undefined) return 'no fuse';
  if (each.length === 1) return `the fuse of ${amps(first)}`;
  if (each.every((one) => one === first)) return `${each.length} fuses of ${amps(first)}`;
  const most = 4;
  const listed = each.slice(0, most).map(amps);
  return each.length > most
    ? `fuses of ${listed.join(', ')} and ${each.length - most} more`
    : `fuses of ${listed.slice(0, -1).join(', ')} and ${listed.at(-1)}`;
}

/** Whether another finding says it already. */
function isTold(
  { conductor: { kind, index }, ratingAmps, fusesAmps }: ConductorCheck,
  sizes: readonly Pick<FeedSize, 'fuseAmps'>[],
): boolean {
  if (kind !== 'feed' && kind !== 'plug') return false;
  const own = sizes[index]!.fuseAmps;
  return own === undefined ? fusesAmps === Number.POSITIVE_INFINITY : own > ratingAmps;
}

/**
 * Warnings about conductors that fuses don't protect.
 * @param sizes by index of the feed, as the rule was asked with
 */
export function fuseRuleFindings(
  project: Project,
  panel: PanelNetwork,
  sizes: readonly Pick<FeedSize, 'fuseAmps'>[],
  { violations }: FuseRule,
): Finding[] {
  const groups = new Map<string, ConductorCheck[]>();
  for (const violation of violations) {
    if (isTold(violation, sizes)) continue;
    const key = `${panel.leds[violation.short!.led]!.zone} ${violation.conductor.kind}`;
    groups.set(key, [...(groups.get(key) ?? []), violation]);
  }
  return [...groups.values()].map((group): Finding => {
    const { conductor, ratingAmps, fusesAmps, fuses, short } = group[0]!;
    const name = conductorName(project, panel, conductor);
    const sum = fuses.length > 1 ? `, together ${amps(fusesAmps)}` : '';
    const others = group.length - 1;
    return {
      severity: 'warning',
      code: 'fuse-rule',
      at: conductorAt(project, panel, conductor),
      message:
        `In a short at ${shortPlace(project, panel, short!)} only ${fusesText(fuses, sizes)}${sum} would limit what flows through ` +
        `${name}, which should carry ${amps(ratingAmps)} at most.` +
        (others === 0 ? '' : ` The same goes for ${others} more of its kind.`),
      mend: mendFor(group[0]!),
    };
  });
}
