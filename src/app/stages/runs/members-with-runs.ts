// Whole runs put into an area. Pure.
import type { AreaMembers } from '../../../project/index.ts';

/** An area's members with some whole runs added; the list of whole runs stays one. */
export function withRuns(members: readonly AreaMembers[], ids: readonly string[]): AreaMembers[] {
  const whole = members.find((one) => one.kind === 'runs');
  if (!whole) return [...members, { kind: 'runs', runs: [...ids] }];
  return members.map((one) =>
    one === whole ? { kind: 'runs', runs: [...new Set([...whole.runs, ...ids])] } : one,
  );
}
