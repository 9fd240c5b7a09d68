// What was really soldered, where it differs from the plan: which strip a run was cut from, which end is fed, and in which order the data passes.
// The plan stays as it is in the document; chains, bytes and voltages follow what stands here. Findings about it: as-built-findings.ts.
import type { BuiltRun, Project, Run } from '../project/index.ts';

type Link = Project['dataLines'][number]['chain'][number];
export type BuiltLink = Link & {
  /** Where the link stands in the planned chain. */
  readonly place: number;
};

export interface BuiltLine {
  readonly pin: number | undefined;
  readonly chain: readonly BuiltLink[];
}

const asPlanned: Omit<BuiltRun, 'run'> = {};

/** What is known of a run as built; nothing, where it is as planned. */
export const builtRun = ({ asBuilt }: Pick<Project, 'asBuilt'>, id: string): Omit<BuiltRun, 'run'> =>
  asBuilt?.runs.find(({ run }) => run === id) ?? asPlanned;

/** The run with the reel and the colour order that it was really built with. */
export function runAsBuilt(project: Pick<Project, 'asBuilt'>, run: Run): Run {
  const { strip, colourOrder } = builtRun(project, run.id);
  if (strip === undefined && colourOrder === undefined) return run;
  // Another reel brings its own order; the plan's was for the planned one.
  const { colourOrder: planned, ...others } = run;
  const order = colourOrder ?? (strip === undefined ? planned : undefined);
  return { ...others, strip: strip ?? run.strip, ...(order === undefined ? {} : { colourOrder: order }) };
}

/** A typed length belongs to the two ends that it was measured between; between others it says nothing. */
function builtJumper(
  planned: Link['jumper'],
  isCut: boolean,
  isMeant: boolean,
): { readonly jumper?: NonNullable<Link['jumper']> } {
  if (!isCut && (isMeant || planned?.lengthMm === undefined)) return planned ? { jumper: planned } : {};
  const { lengthMm, ...others } = planned ?? {};
  return {
    jumper: {
      ...others,
      ...(isMeant && lengthMm !== undefined ? { lengthMm } : {}),
      ...(isCut ? { power: 'cut' as const } : {}),
    },
  };
}

/** The chains as the data really passes them. A jumper past a skipped run carries +5 V only if both jumpers beside the run were to. */
export function builtLines({ dataLines, asBuilt }: Pick<Project, 'dataLines' | 'asBuilt'>): BuiltLine[] {
  if (!asBuilt)
    return dataLines.map(({ pin, chain }) => ({
      pin,
      chain: chain.map((link, place) => ({ ...link, place })),
    }));
  const standsFor = new Map<string, string>();
  const runAt = (planned: string): string => standsFor.get(planned) ?? planned;
  const plannedAt = new Map<string, string>();
  const planOf = (run: string): string => plannedAt.get(run) ?? run;
  for (const { first, second } of asBuilt.swaps) {
    const [a, b] = [planOf(first), planOf(second)];
    standsFor.set(a, second).set(b, first);
    plannedAt.set(second, a).set(first, b);
  }
  const skipped = new Set(asBuilt.runs.filter((one) => one.skipped).map(({ run }) => run));
  return dataLines.map(({ pin, chain }) => {
    const links: BuiltLink[] = [];
    let isCut = false;
    for (const [place, link] of chain.entries()) {
      const run = runAt(link.run);
      if (skipped.has(run)) {
        isCut ||= link.jumper?.power === 'cut';
        continue;
      }
      const before = chain[place - 1];
      const isMeant = run === link.run && (!before || runAt(before.run) === links.at(-1)?.run);
      links.push({ ...link, run, place, ...builtJumper(link.jumper, links.length > 0 && isCut, isMeant) });
      isCut = false;
    }
    return { pin, chain: links };
  });
}
