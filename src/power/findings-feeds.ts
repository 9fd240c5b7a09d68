// Findings about feeds, their fuses, wires and plugs, about jumpers, and about what enters a strip at one point.
import { fuseLoadShare } from '../catalogue/index.ts';
import { runTitle } from '../panel/index.ts';
import { type Finding, pointer } from '../project/index.ts';
import { amps, feedName, finding, type Rule } from './findings-words.ts';
import { railAmps } from './rail-ratings.ts';
import { along, type FeedSize, injectionPoints, settled, wireFor } from './sizing.ts';

/** Fuse and wire of one feed. */
function feedFindings(size: FeedSize): Finding[] {
  const { loadAmps, groundAmps, mostAmps, mostFusedAmps, fuseAmps, conductors } = size;
  const { wire, at, feed } = conductors;
  const when = mostFusedAmps > Math.abs(loadAmps) ? 'in full white, hot,' : 'in full white';
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
        `${feedName(size)} carries ${amps(loadAmps)}; no ${feed.fuseKind ?? 'blade'} fuse is made for that much.`,
        'Split the load over more feeds, each with its own fuse.',
      ),
    );
  else if (mostFusedAmps > fuseAmps)
    findings.push(
      finding(
        'error',
        'fuse-too-small',
        `${at}/fuseAmps`,
        `${feedName(size)} carries ${amps(mostFusedAmps)} ${when.replace(/,$/, '')}, more than its fuse of ${amps(fuseAmps)}.`,
        'Add feeds, or take a larger fuse if the wire allows it.',
      ),
    );
  else if (mostFusedAmps > settled(fuseAmps * fuseLoadShare))
    findings.push(
      finding(
        'warning',
        'fuse-tight',
        `${at}/fuseAmps`,
        `${feedName(size)} carries ${amps(mostFusedAmps)} ${when.replace(/,$/, '')}, over 80 % of its fuse of ${amps(fuseAmps)}.`,
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
  else if (mostAmps > wire.designAmps)
    findings.push(
      finding(
        'warning',
        'wire-overload',
        `${at}/wire`,
        `${feedName(size)} carries ${amps(Math.abs(loadAmps))} on + and ${amps(Math.abs(groundAmps))} on ground in full white; ${wireText}.`,
        `${thicker(mostAmps)}, or add a feed.`,
      ),
    );
  return [...findings, ...plugFindings(size)];
}

/** What joins a feed to the strip carries no more than its contacts. */
function plugFindings(size: FeedSize): Finding[] {
  const { mostAmps: most, fuseAmps, conductors } = size;
  const { plug, at } = conductors;
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
        'Divide the run and feed each part by itself, with a fuse of its own and + cut between them; or take wider strip.',
      ),
    );

/** What a rail carries in normal use, also for its neighbours: grounds are joined across cut + jumpers. One finding for each run. */
export const rails: Rule = (project, { panel, worst }) => {
  const worstOfRun = new Map<
    string,
    { readonly amps: number; readonly led: number; readonly rail: string }
  >();
  for (const { fromLed, toLed, plus, ground } of panel.segments)
    for (const [rail, link] of [
      ['+', plus],
      ['ground', ground],
    ] as const) {
      const load = settled(Math.abs(along(worst.linkAmps, link)));
      const { run, led, strip } = panel.leds[fromLed]!;
      if (load <= railAmps(strip) || load <= (worstOfRun.get(run)?.amps ?? 0)) continue;
      worstOfRun.set(run, { amps: load, led: Math.min(led, panel.leds[toLed]!.led), rail });
    }
  return [...worstOfRun].map(([id, { amps: load, led, rail }]) => {
    const index = project.runs.findIndex((run) => run.id === id);
    const run = project.runs[index]!;
    const { strip } = panel.leds.find((one) => one.run === id)!;
    return finding(
      'warning',
      'rail-overload',
      pointer('runs', index),
      `The ${rail} rail of run "${runTitle(run)}" carries ${amps(load)} behind LED ${led} in full white; strip of ${strip.boardWidthMm} mm should carry ${amps(railAmps(strip))} at most.`,
      rail === '+'
        ? 'Add a feed with a fuse of its own, with + cut between them, or take wider strip.'
        : 'Give the neighbours shorter or thicker ground wires, so that less of their current comes back this way, or take wider strip.',
    );
  });
};
