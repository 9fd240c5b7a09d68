// Channels traced by hand: the chosen runs' outlines become engraved channels, locked, as wide as the tool cuts them.
import { channelAllowanceMm, layOut, outline, type PlacedRun } from '../../../panel/index.ts';
import { addChannels, type Channel, freeId, type Project } from '../../../project/index.ts';
import { Button, Buttons, Group } from '../../fields/index.ts';
import { useEdit, useProject, useWorkbench } from '../../workbench/context.ts';

const tidy = (mm: number): number => Math.round(mm * 1e3) / 1e3 + 0;

/** Corners of the run's channel: the board's, moved apart by half the allowance on every side. */
function channelOutline(placed: PlacedRun): { xMm: number; yMm: number }[] {
  const corners = outline(placed);
  const [a, b, , d] = corners as [PlacedRun['dinEnd'], PlacedRun['dinEnd'], unknown, PlacedRun['dinEnd']];
  const unit = (from: PlacedRun['dinEnd'], to: PlacedRun['dinEnd']) => {
    const lengthMm = Math.hypot(to.xMm - from.xMm, to.yMm - from.yMm);
    return { x: (to.xMm - from.xMm) / lengthMm, y: (to.yMm - from.yMm) / lengthMm };
  };
  const [along, across] = [unit(a, b), unit(a, d)];
  const half = channelAllowanceMm / 2;
  const signs = [
    [-1, -1],
    [1, -1],
    [1, 1],
    [-1, 1],
  ] as const;
  return corners.map(({ xMm, yMm }, i) => {
    const [s, t] = signs[i]!;
    return {
      xMm: tidy(xMm + half * (s * along.x + t * across.x)),
      yMm: tidy(yMm + half * (s * along.y + t * across.y)),
    };
  });
}

/** One channel for each straight run, in the order given; ring boards lie in none. */
export function channelsOfRuns(project: Project, ids: readonly string[]): Channel[] {
  const { runs } = layOut(project);
  const taken = (project.channels ?? []).map(({ id }) => id);
  return ids.flatMap((run): Channel[] => {
    const placed = runs.find((one) => one.run.id === run);
    if (!placed || placed.run.ring) return [];
    const id = freeId(taken, 'channel-1');
    taken.push(id);
    return [{ id, points: channelOutline(placed) as unknown as Channel['points'] }];
  });
}

export function ChannelsOfRuns({ ids }: { readonly ids: readonly string[] }) {
  const edit = useEdit();
  const workbench = useWorkbench();
  const hasStraight = useProject(({ runs }) => runs.some((run) => ids.includes(run.id) && !run.ring));
  if (!hasStraight) return null;
  return (
    <Group title="Engraved channels">
      <Buttons>
        <Button
          onPress={() =>
            edit(
              ids.length === 1 ? 'Add channel' : 'Add channels',
              addChannels(channelsOfRuns(workbench.project, ids)),
            )
          }
        >
          {ids.length === 1 ? 'Add its outline as a channel' : 'Add their outlines as channels'}
        </Button>
      </Buttons>
    </Group>
  );
}
