// Findings about supplies: their volts, their size, what joins them, and the board's own share.
import { supplyAmps, supplyKind, supplyLoadShare } from '../catalogue/index.ts';
import { type Finding, pointer, type StripData } from '../project/index.ts';
import type { PowerAssessment } from './assessment.ts';
import { controllerAmps, controllerFloorVolts } from './controller.ts';
import { amps, finding, type Rule, runNames, type Texts, volts } from './findings-words.ts';
import { darkAmps, wireAmps } from './load-cases.ts';
import { ownedSupply } from './owned-supply.ts';
import { settled, wireFor } from './sizing.ts';
import type { Supply } from './supplies.ts';
import { supplyLoads } from './supply-choice.ts';
import type { Zone } from './zones.ts';

/** How far a supply may be trimmed from a strip's nominal volts (open-frame supplies trim about +-10 %: from memory). */
const supplyTolerance = 0.1;
/** Absolute maximum of the WS2812B data sheet, version 1; taken for every strip of 5 V, as the lowest that any of their sheets gives. */
export const fiveVoltMaximum = 5.3;

const nameOf = ({ id }: Supply): string => (id === undefined ? 'The supply' : `Supply "${id}"`);

/** Whether a strip must not hang on a supply, in words; undefined where it may. */
export function supplyVoltsWrong(strip: StripData, supply: Supply): Texts | undefined {
  const name = nameOf(supply);
  if (strip.supplyVolts === 5 && supply.volts > fiveVoltMaximum)
    return {
      message: `${name} gives ${volts(supply.volts)}; the chips of strip "${strip.id}" stand ${volts(fiveVoltMaximum)} at most.`,
      mend:
        supplyKind(supply.volts) === '5'
          ? 'Trim the supply to between 5.0 and 5.2 V before you connect the strip.'
          : 'Take a supply of 5 V for it, its + apart from the other one; 12 V destroys its chips at once.',
    };
  if (Math.abs(supply.volts - strip.supplyVolts) <= supplyTolerance * strip.supplyVolts) return undefined;
  return {
    message: `${name} gives ${volts(supply.volts)}, but strip "${strip.id}" is made for ${strip.supplyVolts} V.`,
    mend: `Take a supply of ${strip.supplyVolts} V, or another strip.`,
  };
}

/** The supplies of a zone; where a chain's zone has no feed yet, the first one, which its feed would come from; none of a piece that nothing joins. */
const suppliesOfZone = ({ panel }: PowerAssessment, { feeds, chained }: Zone): number[] =>
  feeds.length === 0 ? (chained ? [0] : []) : [...new Set(feeds.map((feed) => panel.feeds[feed]!.supply))];

export const supplyVolts: Rule = (_, assessment) => {
  const { panel } = assessment;
  return panel.supplies.flatMap((supply, index) => {
    const strips = new Map(
      panel.zones
        .filter((zone) => suppliesOfZone(assessment, zone).includes(index))
        .flatMap(({ runs }) => runs.map(({ strip }) => [strip.id, strip] as const)),
    );
    return [...strips.values()].flatMap((strip) => {
      const wrong = supplyVoltsWrong(strip, supply);
      return wrong
        ? [finding('error', 'supply-voltage', `${supply.at}/volts`, wrong.message, wrong.mend)]
        : [];
    });
  });
};

/** Two supplies on one + would push current into each other. */
export const suppliesJoined: Rule = (_, assessment) => {
  const { panel } = assessment;
  return panel.zones.flatMap((zone): Finding[] => {
    const found = suppliesOfZone(assessment, zone);
    if (found.length < 2) return [];
    const names = found.map((index) => panel.supplies[index]!.id ?? 'the first one');
    return [
      finding(
        'error',
        'supplies-joined',
        pointer('power', 'feeds', zone.feeds[0]!),
        `${runNames(zone)} feeds from two supplies (${names.join(', ')}): their + would be joined, and one would push current into the other.`,
        'Feed each zone from one supply, or cut the + jumper between the feeds. Only grounds are joined.',
      ),
    ];
  });
};

/** The size to ask for in a shop. */
function supplyToBuy(supply: Supply, neededAmps: number): string {
  const usual = supplyAmps[supplyKind(supply.volts)].find((size) => size >= neededAmps);
  return `Take a supply of at least ${amps(Math.ceil(neededAmps * 10) / 10)}${usual ? `, such as the usual ${amps(usual)}` : ''}`;
}

export const supplies: Rule = (project, { panel }) => {
  const findings: Finding[] = [];
  const { limitAmps } = project.power;
  const isSingle = panel.supplies.length === 1;
  const loads = supplyLoads(project, panel);
  // The limit is one for all supplies, and a show may light the LEDs of one alone.
  const beyond = loads.find(
    ({ supply, worstAmps }) => limitAmps !== undefined && Math.min(limitAmps, worstAmps) > supply.amps,
  );
  if (limitAmps !== undefined && beyond) {
    const rated = beyond.supply.amps;
    const bearable = ownedSupply(project, panel, rated).limitAmps;
    findings.push(
      finding(
        'error',
        'limit-above-supply',
        '/power/limitAmps',
        `The limit of ${amps(limitAmps)} lets the LEDs draw more than ${isSingle ? "the supply's" : `${nameOf(beyond.supply).replace('The', 'the')}'s`} ${amps(rated)}.`,
        `${bearable !== undefined && bearable > 0 ? `Lower the limit to ${amps(Math.floor(bearable * 10) / 10)}, or take` : 'Take'} a larger supply.`,
      ),
    );
  }
  for (const { supply, worstAmps, drawAmps, needAmps } of loads) {
    if (supply.amps >= needAmps) continue;
    findings.push(
      finding(
        'warning',
        'supply-small',
        `${supply.at}/amps`,
        `${limitAmps !== undefined && limitAmps < worstAmps ? 'White at the limit' : 'Full white'} draws ` +
          `${amps(drawAmps)}${supply.id === undefined && controllerAmps(project) > 0 ? ' with the board' : ''}; ` +
          `${isSingle ? 'a supply' : nameOf(supply).replace('The', 'the')} of ${amps(supply.amps)} should give ${amps(supply.amps * supplyLoadShare)} at most (80 %).`,
        `${supplyToBuy(supply, needAmps)}, or set a lower current limit. Have mains work done by someone qualified.`,
      ),
    );
  }
  const quiescent = settled(wireAmps(panel, darkAmps(panel)));
  if (limitAmps !== undefined && limitAmps < quiescent)
    findings.push(
      finding(
        'error',
        'limit-unreachable',
        '/power/limitAmps',
        `The LEDs draw ${amps(quiescent)} when dark, more than the limit of ${amps(limitAmps)}, so nothing could be lit.`,
        'Raise the limit.',
      ),
    );
  return findings;
};

/** The wires that join the supplies' grounds carry what returns to the wrong supply. */
export const bonds: Rule = (_, { panel, worst }) =>
  panel.supplies.flatMap(({ groundWire, at, id }, index) => {
    const load = settled(Math.abs(worst.bondAmps[index]!));
    if (!groundWire || load <= groundWire.designAmps) return [];
    const better = wireFor(load, groundWire);
    return [
      finding(
        'warning',
        'ground-wire-overload',
        `${at}/ground`,
        `The wire that joins the ground of supply "${id}" carries ${amps(load)} in full white; ${groundWire.id} should carry ${amps(groundWire.designAmps)} at most.`,
        better ? `Use ${better.id} or thicker.` : 'Join the grounds by two wires.',
      ),
    ];
  });

/** The board must go on running while the strips draw all they can, and its own wire must carry what it draws. */
export const controller: Rule = (_, { controller: board }) => {
  if (board === undefined) return [];
  const findings: Finding[] = [];
  if (board.volts < controllerFloorVolts)
    findings.push(
      finding(
        'warning',
        'controller-low',
        '/power/supply/volts',
        `With the strips at full white the board gets ${volts(board.volts)}; below ${volts(controllerFloorVolts)} it may reset.`,
        'Take a stronger supply, trim it up to 5.2 V at most, run the board by thicker or shorter wire, or from USB.',
      ),
    );
  if (settled(board.amps) > board.wire.designAmps) {
    const better = wireFor(board.amps, board.wire);
    findings.push(
      finding(
        'warning',
        'controller-wire',
        '/power/controller',
        `The board draws ${amps(board.amps)}; its wire, ${board.wire.id}, should carry ${amps(board.wire.designAmps)} at most.`,
        `${better ? `Use ${better.id} or thicker` : 'Use thicker wire'}, with a fuse of its own in its + wire.`,
      ),
    );
  }
  return findings;
};
