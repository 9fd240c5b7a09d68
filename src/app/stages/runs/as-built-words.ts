// What was built otherwise than planned, in few words: `18 runs soldered, run 12 reversed, run 14 LED 5 dead. The shows follow.` Pure.
import { builtRun, type Layout } from '../../../panel/index.ts';
import type { Project } from '../../../project/index.ts';
import type { ChainColumn } from './chain-columns.ts';
import { ledListText } from './led-list.ts';

const ledsWord = (leds: readonly number[]): string => (leds.length === 1 ? 'LED' : 'LEDs');

/** A run's number on the panel, or its id where no data reaches it. */
const tag = ({ number, placed }: ChainColumn): string => String(number ?? placed.run.id);

/** All that differs for one run, a phrase each. */
export function differences(project: Project, column: ChainColumn): string[] {
  const { run } = column.placed;
  const built = builtRun(project, run.id);
  const { deadLeds = [], bypassedLeds = [] } = run;
  const name = `run ${tag(column)}`;
  return [
    ...(built.skipped ? [`${name} left out`] : []),
    ...(built.laidReversed ? [`${name} reversed`] : []),
    ...(built.fedAtDout ? [`${name} fed at DOUT`] : []),
    ...(built.strip === undefined ? [] : [`${name} from another reel`]),
    ...(built.colourOrder === undefined ? [] : [`${name} in order ${built.colourOrder}`]),
    ...(deadLeds.length > 0 ? [`${name} ${ledsWord(deadLeds)} ${ledListText(deadLeds)} dead`] : []),
    ...(bypassedLeds.length > 0
      ? [`${name} ${ledsWord(bypassedLeds)} ${ledListText(bypassedLeds)} bypassed`]
      : []),
  ];
}

export interface BuiltWords {
  readonly soldered: string;
  readonly differing: readonly string[];
  readonly follows: string;
}

export function builtWords(project: Project, layout: Layout, columns: readonly ChainColumn[]): BuiltWords {
  const chained = columns.filter(({ at }) => at);
  const soldered = chained.filter(({ placed }) => !builtRun(project, placed.run.id).skipped).length;
  const byId = new Map(columns.map((column) => [column.placed.run.id, column]));
  const swaps = (project.asBuilt?.swaps ?? []).flatMap(({ first, second }) => {
    const [a, b] = [byId.get(first), byId.get(second)];
    return a && b ? [`runs ${tag(a)} and ${tag(b)} exchanged`] : [];
  });
  const differing = [...columns.flatMap((column) => differences(project, column)), ...swaps];
  const dark = layout.lines.flatMap(({ darkFrom, runs }) => runs[darkFrom ?? -1] ?? []);
  const darkTags = dark.map(({ run }) => tag(byId.get(run.id)!));
  return {
    soldered: `${soldered} ${soldered === 1 ? 'run' : 'runs'} soldered`,
    differing,
    follows:
      darkTags.length > 0
        ? `Dark from run ${darkTags.join(' and ')} on.`
        : differing.length > 0
          ? 'The shows follow.'
          : 'All as planned.',
  };
}
