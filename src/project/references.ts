// Rules between the parts of a project that a schema can't say: ids are unique, every id that is referred to exists,
// a chain passes each run once, sums stay inside the limits. Breaking one makes the project unreadable (exit status 2).
import { sheets, strips, wires } from '../catalogue/index.ts';
import { limits } from './limits.ts';
import { type Problem, pointer } from './problems.ts';
import { paintedProblems } from './rules-painted.ts';
import type { Area, Project } from './types.ts';

interface Known {
  readonly what: string;
  readonly ids: ReadonlySet<string>;
}

const idsOf = (rows: readonly { readonly id: string }[]): Set<string> => new Set(rows.map((row) => row.id));

function nearest(wanted: string, ids: ReadonlySet<string>): string {
  const some = [...ids].slice(0, 8).map((id) => `"${id}"`);
  if (some.length === 0) return `Add "${wanted}" first.`;
  return `Use one of ${some.join(', ')}${ids.size > some.length ? ' and others' : ''}, or add "${wanted}".`;
}

const unknownId = (at: string, known: Known, found: string): Problem => ({
  code: 'unknown-id',
  at,
  expected: `the id of ${known.what}`,
  found: JSON.stringify(found),
  mend: nearest(found, known.ids),
});

/** Problem if `id` is not among the known ones. */
const lookUp = (problems: Problem[], at: string, known: Known, id: string): void => {
  if (!known.ids.has(id)) problems.push(unknownId(at, known, id));
};

export function duplicateIds(
  problems: Problem[],
  list: string,
  rows: readonly { readonly id?: string }[] | undefined,
): void {
  const first = new Map<string, number>();
  for (const [index, row] of (rows ?? []).entries()) {
    if (row.id === undefined) continue;
    const earlier = first.get(row.id);
    if (earlier === undefined) first.set(row.id, index);
    else
      problems.push({
        code: 'duplicate-id',
        at: `${list}/${index}/id`,
        expected: 'an id of its own',
        found: `"${row.id}", which ${list}/${earlier} has too`,
        mend: 'Rename one of the two.',
      });
  }
}

function feeds(problems: Problem[], { power, runs }: Project, runIds: Known, wireIds: Known): void {
  const supplies: Known = { what: 'a further supply of this project', ids: idsOf(power.moreSupplies ?? []) };
  const ledPlace = (
    at: readonly (string | number)[],
    place: { readonly run: string; readonly led: number },
  ) => {
    lookUp(problems, pointer('power', ...at, 'run'), runIds, place.run);
    const ledCount = runs.find((run) => run.id === place.run)?.ledCount;
    if (ledCount !== undefined) ledInRun(problems, pointer('power', ...at, 'led'), place.led, ledCount);
  };
  const wire = (at: readonly (string | number)[], id: string | undefined) => {
    if (id !== undefined) lookUp(problems, pointer('power', ...at, 'wire'), wireIds, id);
  };
  for (const [f, feed] of power.feeds.entries()) {
    ledPlace(['feeds', f], feed);
    wire(['feeds', f], feed.wire);
    if (feed.supply !== undefined)
      lookUp(problems, pointer('power', 'feeds', f, 'supply'), supplies, feed.supply);
  }
  duplicateIds(problems, '/power/moreSupplies', power.moreSupplies);
  for (const [s, supply] of (power.moreSupplies ?? []).entries())
    wire(['moreSupplies', s, 'ground'], supply.ground?.wire);
  for (const [p, place] of (power.planning?.forbidden ?? []).entries())
    ledPlace(['planning', 'forbidden', p], place);
  wire(['planning'], power.planning?.wire);
  wire(['controller'], power.controller?.wire);
}

function chains(problems: Problem[], project: Project, runs: Known, wireIds: Known): void {
  const passed = new Map<string, string>();
  for (const [l, line] of project.dataLines.entries())
    for (const [c, link] of line.chain.entries()) {
      const at = pointer('dataLines', l, 'chain', c, 'run');
      lookUp(problems, at, runs, link.run);
      const earlier = passed.get(link.run);
      if (earlier !== undefined)
        problems.push({
          code: 'cyclic-chain',
          at,
          expected: 'a run that no chain has passed yet',
          found: `"${link.run}", already passed at ${earlier}`,
          mend: 'Data enters a run once: take one of the two out of the chain.',
        });
      passed.set(link.run, at);
      if (link.jumper?.wire !== undefined)
        lookUp(problems, pointer('dataLines', l, 'chain', c, 'jumper', 'wire'), wireIds, link.jumper.wire);
    }
}

function builtRuns(problems: Problem[], project: Project, runs: Known, stripIds: Known): void {
  const seen = new Set<string>();
  for (const [r, built] of (project.asBuilt?.runs ?? []).entries()) {
    const at = pointer('asBuilt', 'runs', r, 'run');
    lookUp(problems, at, runs, built.run);
    if (built.strip !== undefined)
      lookUp(problems, pointer('asBuilt', 'runs', r, 'strip'), stripIds, built.strip);
    if (seen.has(built.run))
      problems.push({
        code: 'duplicate-id',
        at,
        expected: 'one entry a run',
        found: `a second one for "${built.run}"`,
        mend: 'Put what was built otherwise into one entry.',
      });
    seen.add(built.run);
  }
  for (const [s, swap] of (project.asBuilt?.swaps ?? []).entries())
    for (const end of ['first', 'second'] as const)
      lookUp(problems, pointer('asBuilt', 'swaps', s, end), runs, swap[end]);
}

function ledInRun(problems: Problem[], at: string, led: number, ledCount: number): void {
  if (led < ledCount) return;
  problems.push({
    code: 'led-outside-run',
    at,
    expected: `an LED from 0 to ${ledCount - 1}`,
    found: String(led),
    mend: `The run has ${ledCount} LEDs, counted from 0 at DIN.`,
  });
}

function areaMembers(problems: Problem[], project: Project, area: Area, a: number, runs: Known): void {
  for (const [m, member] of area.members.entries()) {
    const at = (...parts: (string | number)[]) => pointer('areas', a, 'members', m, ...parts);
    if (member.kind === 'runs')
      for (const [r, id] of member.runs.entries()) lookUp(problems, at('runs', r), runs, id);
    if (member.kind !== 'leds') continue;
    lookUp(problems, at('run'), runs, member.run);
    const ledCount = project.runs.find((run) => run.id === member.run)?.ledCount;
    if (ledCount === undefined) continue;
    for (const end of ['from', 'to'] as const) ledInRun(problems, at(end), member[end], ledCount);
  }
}

/** What shows refer to, and all that refers to shows. */
type ShowParts = Pick<Project, 'gradients' | 'lampshows' | 'gameEvents' | 'pressLogs'> & {
  readonly areas: readonly { readonly id: string }[];
};

/** Broken rules between shows, and what they refer to. `owner` is what holds them, in words. */
export function showProblems(problems: Problem[], project: ShowParts, owner = 'this project'): void {
  const areas: Known = { what: `an area of ${owner}`, ids: idsOf(project.areas) };
  const gradients: Known = { what: `a gradient of ${owner}`, ids: idsOf(project.gradients) };
  const lampshows: Known = { what: `a lampshow of ${owner}`, ids: idsOf(project.lampshows) };
  for (const [e, event] of (project.gameEvents ?? []).entries())
    lookUp(problems, pointer('gameEvents', e, 'lampshow'), lampshows, event.lampshow);
  pressLogs(problems, project, lampshows);
  let allClips = 0;
  for (const [s, show] of project.lampshows.entries()) {
    duplicateIds(problems, pointer('lampshows', s, 'rows'), show.rows);
    let clipCount = 0;
    for (const [r, row] of show.rows.entries()) {
      clipCount += row.clips.length;
      for (const [c, clip] of row.clips.entries()) {
        const at = (part: string) => pointer('lampshows', s, 'rows', r, 'clips', c, part);
        lookUp(problems, at('area'), areas, clip.area);
        lookUp(problems, at('gradient'), gradients, clip.gradient);
        problems.push(...paintedProblems(clip.effect, at('effect')));
      }
    }
    if (clipCount > limits.clipsPerShow)
      problems.push(tooMany(pointer('lampshows', s), 'clips in a show', limits.clipsPerShow, clipCount));
    allClips += clipCount;
  }
  if (allClips > limits.clips)
    problems.push(tooMany('/lampshows', 'clips in all shows together', limits.clips, allClips));
}

function pressLogs(problems: Problem[], project: ShowParts, lampshows: Known): void {
  const events: Known = { what: 'a game event of this project', ids: idsOf(project.gameEvents ?? []) };
  for (const [l, log] of (project.pressLogs ?? []).entries()) {
    const at = (...parts: (string | number)[]) => pointer('pressLogs', l, ...parts);
    if (log.lampshow !== undefined) lookUp(problems, at('lampshow'), lampshows, log.lampshow);
    for (const [p, press] of log.presses.entries())
      lookUp(problems, at('presses', p, 'event'), events, press.event);
    for (const [e, { lampshow }] of (log.expected ?? []).entries())
      lookUp(problems, at('expected', e, 'lampshow'), lampshows, lampshow);
  }
}

const tooMany = (at: string, what: string, limit: number, found: number): Problem => ({
  code: 'too-many',
  at,
  expected: `at most ${limit} ${what}`,
  found: String(found),
  mend: 'Split the project, or take some out.',
});

/** All broken rules between parts, in the order of the document. */
export function referenceProblems(project: Project): Problem[] {
  const problems: Problem[] = [];
  const lists = [
    'sheets',
    'strips',
    'channels',
    'runs',
    'areas',
    'gradients',
    'lampshows',
    'gameEvents',
    'pressLogs',
  ] as const;
  for (const list of lists) duplicateIds(problems, pointer(list), project[list]);
  const runs: Known = { what: 'a run of this project', ids: idsOf(project.runs) };
  const stripIds: Known = {
    what: 'a strip of this project or the catalogue',
    ids: idsOf([...(project.strips ?? []), ...strips]),
  };
  duplicateIds(problems, '/panel/keepOuts', project.panel.keepOuts);
  const sheetIds: Known = {
    what: 'a diffuser sheet of this project or the catalogue',
    ids: idsOf([...(project.sheets ?? []), ...sheets]),
  };
  lookUp(problems, '/panel/sheet', sheetIds, project.panel.sheet);
  if (project.panel.grid?.strip !== undefined)
    lookUp(problems, '/panel/grid/strip', stripIds, project.panel.grid.strip);
  let ledCount = 0;
  for (const [r, run] of project.runs.entries()) {
    ledCount += run.ledCount;
    lookUp(problems, pointer('runs', r, 'strip'), stripIds, run.strip);
    for (const list of ['spareLeds', 'deadLeds', 'bypassedLeds'] as const)
      for (const [s, led] of (run[list] ?? []).entries())
        ledInRun(problems, pointer('runs', r, list, s), led, run.ledCount);
  }
  if (ledCount > limits.leds)
    problems.push(tooMany('/runs', 'LEDs in all runs together', limits.leds, ledCount));
  const wireIds: Known = { what: 'a wire of the catalogue', ids: idsOf(wires) };
  chains(problems, project, runs, wireIds);
  feeds(problems, project, runs, wireIds);
  builtRuns(problems, project, runs, stripIds);
  for (const [a, area] of project.areas.entries()) areaMembers(problems, project, area, a, runs);
  const lampshows: Known = { what: 'a lampshow of this project', ids: idsOf(project.lampshows) };
  lookUp(problems, '/attractMode', lampshows, project.attractMode);
  showProblems(problems, project);
  return problems;
}
