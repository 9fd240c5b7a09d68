// Findings about feeds, their fuses, wires and plugs, about jumpers, and about what enters a strip at one point.
import { fuseLoadShare } from '../catalogue/index.ts';
import { runTitle } from '../panel/index.ts';
import type { Finding } from '../project/index.ts';
import { amps, feedName, finding, type Rule } from './findings-words.ts';
import { type FeedSize, injectionPoints, settled, wireFor } from './sizing.ts';

/** Fuse and wire of one feed. */
function feedFindings(size: FeedSize): Finding[] {
  const { loadAmps, groundAmps, fuseAmps, conductors } = size;
  const { wire, at } = conductors;
  const wireText = `its wire, ${wire.id}, should carry ${amps(wire.designAmps)} at most`;
  const thicker = (needed: number) => {
    const better = wireFor(needed, wire);
    return better ? `Use ${better.id} or thicker` : 'Use two feeds, each with a fuse and a pair of wires';
  };
  const findings: Finding[] = [];
  if (fuseAmps === undefined)
    findings.push(
      finding(
        'error',
        'fuse-missing',
        at,
        `${feedName(size)} carries ${amps(loadAmps)}; no blade fuse is made for that much.`,
        'Split the load over more feeds, each with its own fuse.',
      ),
    );
  else if (loadAmps > fuseAmps)
    findings.push(
      finding(
        'error',
        'fuse-too-small',
        `${at}/fuseAmps`,
        `${feedName(size)} carries ${amps(loadAmps)} in full white, more than its fuse of ${amps(fuseAmps)}.`,
        'Add feeds, or take a larger fuse if the wire allows it.',
      ),
    );
  else if (loadAmps > settled(fuseAmps * fuseLoadShare))
    findings.push(
      finding(
        'warning',
        'fuse-tight',
        `${at}/fuseAmps`,
        `${feedName(size)} carries ${amps(loadAmps)} in full white, over 80 % of its fuse of ${amps(fuseAmps)}.`,
        'A fuse this close ages and opens early: take the next size if the wire allows it, or add a feed.',
      ),
    );
  if (fuseAmps !== undefined && fuseAmps > wire.designAmps)
    findings.push(
      finding(
        'error',
        'fuse-above-wire',
        `${at}/wire`,
        `${feedName(size)} has a fuse of ${amps(fuseAmps)}, but ${wireText}: in a short the wire could burn before the fuse opens.`,
        `${thicker(fuseAmps)}, or a smaller fuse and less load.`,
      ),
    );
  else if (Math.max(loadAmps, groundAmps) > wire.designAmps)
    findings.push(
      finding(
        'warning',
        'wire-overload',
        `${at}/wire`,
        `${feedName(size)} carries ${amps(loadAmps)} on + and ${amps(groundAmps)} on ground in full white; ${wireText}.`,
        `${thicker(Math.max(loadAmps, groundAmps))}, or add a feed.`,
      ),
    );
  return [...findings, ...plugFindings(size)];
}

/** What joins a feed to the strip carries no more than its contacts. */
function plugFindings(size: FeedSize): Finding[] {
  const { loadAmps, groundAmps, fuseAmps, conductors } = size;
  const { plug, at } = conductors;
  const most = Math.max(loadAmps, groundAmps);
  if (!plug) return [];
  if (fuseAmps !== undefined && fuseAmps > plug.amps)
    return [
      finding(
        'error',
        'fuse-above-plug',
        `${at}/plug`,
        `${feedName(size)} has a fuse of ${amps(fuseAmps)}, but its plug (${plug.label}) carries ${amps(plug.amps)}: in a short it could melt before the fuse opens.`,
        'Solder the feed, take a larger plug, or a smaller fuse and less load.',
      ),
    ];
  return most > plug.amps
    ? [
        finding(
          'warning',
          'plug-overload',
          `${at}/plug`,
          `${feedName(size)} carries ${amps(most)} in full white; its plug (${plug.label}) carries ${amps(plug.amps)}.`,
          'Solder the feed, take a larger plug, or add a feed.',
        ),
      ]
    : [];
}

export const feeds: Rule = (_, { feedSizes }) => feedSizes.flatMap(feedFindings);

export const jumpers: Rule = (_, { panel, worst }) =>
  panel.jumpers.flatMap(({ jumper, wire, at, plus, ground }) => {
    const along = (link: number | undefined) => (link === undefined ? 0 : Math.abs(worst.linkAmps[link]!));
    const most = settled(Math.max(along(plus), along(ground)));
    if (most <= wire.designAmps) return [];
    const better = wireFor(most, wire);
    return [
      finding(
        'warning',
        'jumper-overload',
        at,
        `The jumper from run "${runTitle(jumper.from.run)}" to "${runTitle(jumper.to.run)}" carries ${amps(most)} in full white; ` +
          `${wire.id} should carry ${amps(wire.designAmps)} at most.`,
        `Add a feed behind it${better ? `, or use ${better.id} or thicker` : ''}.`,
      ),
    ];
  });

export const entries: Rule = (_, { panel, feedSizes }) =>
  injectionPoints(panel, feedSizes)
    .filter((point) => point.amps > point.limitAmps)
    .map(({ feeds: [first], amps: load, limitAmps }) =>
      finding(
        'warning',
        'injection-overload',
        first!.conductors.at,
        `${feedName(first!)} puts ${amps(load)} into the strip in full white; ${amps(limitAmps)} is what its pads and rails should carry there.`,
        'Add another injection point, or move this one inside the run, where the current leaves both ways.',
      ),
    );
