// What is worth telling about how strip is laid: boards that overlap, lie in a keep-out, leave too little wood between them for the tool, are cut
// beside a cut mark, or hold a joint of the maker's.
import { type Finding, type Project, pointer } from '../project/index.ts';
import { reachesInto } from './keep-outs.ts';
import { arrowVector, type Layout, type PlacedRun, runTitle } from './layout.ts';
import type { PointMm } from './plane.ts';
import { boardPieces, nearPairs } from './run-outline.ts';

/** A channel is this much wider than the strip, both sides together (0.5 to 1 mm: common practice, no source). */
export const channelAllowanceMm = 0.6;
/** Wood that must be left between two milled pockets in plywood (common practice, no source). */
const milledWallMm = 6;
/** How deep channels are where the backing doesn't say. */
export const usualChannelDepthMm = 3;
/** Without a backing, only boards that meet are told. */
const noWallMm = 0;
/** Length of the pieces that makers solder into a reel (5 m strips are 0.5 m boards soldered end to end: a seller's page). */
const usualJointMm = 500;

const name = ({ run }: PlacedRun): string => `"${runTitle(run)}"`;

/** Least wall between two channels for the tool that cuts them, with its reason; a laser leaves walls as thick as the sheet. */
export function leastWall(backing: Project['panel']['backing']): { wallMm: number; reason: string } {
  if (!backing) return { wallMm: noWallMm, reason: '' };
  if (backing.bitMm === undefined)
    return {
      wallMm: backing.thicknessMm,
      reason: `a laser wants a wall as thick as the sheet, ${backing.thicknessMm} mm`,
    };
  return {
    wallMm: Math.max(milledWallMm, backing.bitMm),
    reason: `a router bit of ${backing.bitMm} mm wants ${Math.max(milledWallMm, backing.bitMm)} mm between two channels`,
  };
}

/** Middle lines this near are one. */
const sameLineMm = 0.5;

/** Whether two straight pieces lie end to end on one line: then one channel holds both, and no wall is wanted between them. */
function goOnFromEachOther(a: PlacedRun, b: PlacedRun): boolean {
  if (a.run.ring || b.run.ring) return false;
  const ends = [a.dinEnd, a.doutEnd, b.dinEnd, b.doutEnd];
  const { x, y } = arrowVector(a.run.arrowDeg);
  const asideMm = (p: PointMm): number => (p.xMm - a.dinEnd.xMm) * y - (p.yMm - a.dinEnd.yMm) * x;
  return ends.every((end) => Math.abs(asideMm(end)) <= sameLineMm);
}

function meetings(project: Project, layout: Layout): Finding[] {
  const { wallMm, reason } = leastWall(project.panel.backing);
  // From board to board there is half a channel's allowance on either side of the wall.
  const boardsApartMm = wallMm > 0 ? wallMm + channelAllowanceMm : 0;
  return nearPairs(layout.runs, boardsApartMm).flatMap(({ a, b, gapMm, overlap }): Finding[] => {
    if (!overlap && goOnFromEachOther(a, b)) return [];
    if (overlap)
      return [
        {
          severity: 'warning',
          code: 'runs-overlap',
          at: pointer('runs', b.runIndex),
          message: `Runs ${name(a)} and ${name(b)} overlap.`,
          mend: 'Move or shorten one of them; two strips have no room in one channel.',
        },
      ];
    const leftMm = Math.max(0, gapMm - channelAllowanceMm);
    return [
      {
        severity: 'warning',
        code: 'runs-too-close',
        at: pointer('runs', b.runIndex),
        message: `Between the channels of runs ${name(a)} and ${name(b)} only ${leftMm.toFixed(1)} mm are left; ${reason}.`,
        mend: `Move one of them ${(boardsApartMm - gapMm).toFixed(1)} mm away.`,
      },
    ];
  });
}

function keepOuts(project: Project, layout: Layout): Finding[] {
  const all = project.panel.keepOuts ?? [];
  return layout.runs.flatMap((placed) =>
    all
      .filter((keepOut) => boardPieces(placed).some((piece) => reachesInto(piece, keepOut)))
      .map(
        (keepOut): Finding => ({
          severity: 'error',
          code: 'run-in-keep-out',
          at: pointer('runs', placed.runIndex),
          message: `Run ${name(placed)} lies in the keep-out "${keepOut.name ?? keepOut.id}".`,
          mend: 'Move, shorten or split the run, or move the keep-out.',
        }),
      ),
  );
}

/** The bit can't cut a channel that is narrower than itself. */
function narrowChannels(project: Project, layout: Layout): Finding[] {
  const bitMm = project.panel.backing?.bitMm;
  if (bitMm === undefined) return [];
  return layout.runs
    .filter(({ strip }) => strip.boardWidthMm + channelAllowanceMm < bitMm)
    .map(
      (placed): Finding => ({
        severity: 'warning',
        code: 'channel-below-bit',
        at: pointer('runs', placed.runIndex),
        message: `The channel of run ${name(placed)} is ${(placed.strip.boardWidthMm + channelAllowanceMm).toFixed(1)} mm wide, narrower than the router bit of ${bitMm} mm.`,
        mend: 'Choose a thinner bit, or accept a wider channel and fix the strip with its tape.',
      }),
    );
}

function cuts(layout: Layout): Finding[] {
  return layout.runs.flatMap((placed): Finding[] => {
    const { strip, run } = placed;
    const every = strip.cutEveryLeds ?? 1;
    if (run.ring || run.ledCount % every === 0) return [];
    const less = run.ledCount - (run.ledCount % every);
    return [
      {
        severity: 'warning',
        code: 'cut-off-mark',
        at: pointer('runs', placed.runIndex, 'ledCount'),
        message: `Run ${name(placed)} has ${run.ledCount} LEDs, but its strip can be cut only every ${every} LEDs.`,
        mend: `Make it ${less > 0 ? `${less} or ` : ''}${less + every} LEDs long.`,
      },
    ];
  });
}

/** Runs that are longer than the reel's pieces, told together: on most panels there are many, and none is a fault. */
function joints(layout: Layout): Finding[] {
  const long = layout.runs.filter(
    ({ strip, run, cutLengthMm }) => !run.ring && cutLengthMm > (strip.jointEveryMm ?? usualJointMm) + 0.01,
  );
  const [first] = long;
  if (!first) return [];
  const isOne = long.length === 1;
  return [
    {
      severity: 'note',
      code: 'joint-inside',
      at: pointer('runs', first.runIndex),
      message: `${isOne ? 'Run' : 'Runs'} ${long.map(name).join(', ')} ${isOne ? 'is' : 'are'} longer than the pieces that reels are soldered from (${first.strip.jointEveryMm ?? usualJointMm} mm), so a joint lies inside; LEDs behind a joint may sit half a millimetre off.`,
      mend: 'Cut so that the joint lies where the channel has room, or split the run there.',
    },
  ];
}

/** Findings about boards on the backing. */
export const layingFindings = (project: Project, layout: Layout): Finding[] => [
  ...meetings(project, layout),
  ...keepOuts(project, layout),
  ...narrowChannels(project, layout),
  ...cuts(layout),
  ...joints(layout),
];
