// Every conductor that a short can send fuses' current through, with what it may carry, and how the grounds hang together.
// Ratings: wires and plugs from the catalogue, rails from rail-ratings.ts. The half pitch of strip between a jumper and the LED beside it counts as
// part of the pad that the jumper is soldered to. Not here: which fuses reach a conductor (fuse-rule.ts).
import { plugAmps, type Wire } from '../catalogue/index.ts';
import { builtLines, defaultJumperWire, type Layout } from '../panel/index.ts';
import { type Project, pointer } from '../project/index.ts';
import { controllerPower } from './controller.ts';
import type { PanelNetwork } from './panel-network.ts';
import { railAmps } from './rail-ratings.ts';
import { wireById } from './supplies.ts';
import type { Ends } from './ways.ts';

/**
 * `index`: of the segment, jumper or feed in the panel's lists; of the data line in the project for the lead from the board to its first LED; of the
 * supply in the panel's list for the wire that joins its ground to the first one's; 0 for the board's own ground wire.
 */
export interface Conductor {
  readonly kind: 'segment' | 'jumper' | 'feed' | 'plug' | 'board-lead' | 'board-ground' | 'supply-ground';
  readonly polarity: 'plus' | 'ground';
  readonly index: number;
}

export interface RatedConductor {
  readonly conductor: Conductor;
  readonly ratingAmps: number;
}

/** A ground conductor between two nodes: LEDs by their index, then the supplies' grounds, then the board. `rated`: in the list; a joint has none. */
interface GroundConductor extends Ends {
  readonly rated: readonly number[];
}

export interface FuseConductors {
  readonly rated: readonly RatedConductor[];
  /** By LED: index of the + rail or jumper from it to the next; -1 where none joins them. */
  readonly plusAfter: Int32Array;
  /** By feed: indices of what its + wire is made of, wire before plug; undefined where a fault took it away. */
  readonly plusOfFeed: readonly (readonly number[] | undefined)[];
  readonly groundNodeCount: number;
  readonly grounds: readonly GroundConductor[];
  /** Ground node of each supply; one node where two are joined at the terminals. */
  readonly supplyNodes: readonly number[];
}

/** The wires from the board to the first LED of a data line as built, data and ground, and where the document has them. */
export function boardLead(
  project: Pick<Project, 'dataLines' | 'asBuilt'>,
  line: number,
): { readonly wire: Wire; readonly at: string } {
  const link = builtLines(project)[line]!.chain[0]!;
  return {
    wire: wireById(link.jumper?.wire ?? defaultJumperWire),
    at: pointer('dataLines', line, 'chain', link.place),
  };
}

/**
 * The board's ground is a node: the leads to the data lines meet there, and its own wire joins it to the first supply's ground. Where that wire is
 * not known (it runs from USB, or behind a regulator), its grounds count as joined all the same.
 */
export function fuseConductors(project: Project, layout: Layout, panel: PanelNetwork): FuseConductors {
  const rated: RatedConductor[] = [];
  const grounds: GroundConductor[] = [];
  const rate = (ratingAmps: number, conductor: Conductor): number =>
    rated.push({ conductor, ratingAmps }) - 1;
  const ledCount = panel.leds.length;
  const plusAfter = new Int32Array(ledCount).fill(-1);
  const join = (
    kind: 'segment' | 'jumper',
    index: number,
    ratingAmps: number,
    { plus, ground, fromLed: a, toLed: b }: PanelNetwork['segments'][number],
  ): void => {
    if (plus !== undefined) plusAfter[Math.min(a, b)] = rate(ratingAmps, { kind, polarity: 'plus', index });
    if (ground !== undefined)
      grounds.push({ a, b, rated: [rate(ratingAmps, { kind, polarity: 'ground', index })] });
  };
  for (const [index, segment] of panel.segments.entries())
    join('segment', index, railAmps(panel.leds[segment.fromLed]!.strip), segment);
  for (const [index, jumper] of panel.jumpers.entries())
    join('jumper', index, jumper.wire.designAmps, jumper);

  const supplyNodes: number[] = [];
  for (const [index, { groundWire }] of panel.supplies.entries()) {
    supplyNodes.push(index === 0 || groundWire ? ledCount + index : ledCount);
    if (groundWire) {
      const wire = rate(groundWire.designAmps, { kind: 'supply-ground', polarity: 'ground', index });
      grounds.push({ a: ledCount + index, b: ledCount, rated: [wire] });
    }
  }
  const plusOfFeed = panel.feeds.map(({ plus, ground, wire, plug, atLed, supply }, index) => {
    const parts = (polarity: Conductor['polarity']): number[] => [
      rate(wire.designAmps, { kind: 'feed', polarity, index }),
      ...(plug ? [rate(plugAmps(plug), { kind: 'plug', polarity, index })] : []),
    ];
    if (ground !== undefined) grounds.push({ a: atLed, b: supplyNodes[supply]!, rated: parts('ground') });
    return plus === undefined ? undefined : parts('plus');
  });

  const board = ledCount + panel.supplies.length;
  for (const { index } of layout.lines) {
    const { wire } = boardLead(project, index);
    const lead = rate(wire.designAmps, { kind: 'board-lead', polarity: 'ground', index });
    const firstLed = panel.zones.find((zone) => zone.line === index)!.firstLed;
    grounds.push({ a: board, b: firstLed, rated: [lead] });
  }
  const boardWire = controllerPower(project, panel, 0)?.wire;
  if (layout.lines.length > 0)
    grounds.push({
      a: board,
      b: ledCount,
      rated: boardWire
        ? [rate(boardWire.designAmps, { kind: 'board-ground', polarity: 'ground', index: 0 })]
        : [],
    });
  return { rated, plusAfter, plusOfFeed, groundNodeCount: board + 1, grounds, supplyNodes };
}
