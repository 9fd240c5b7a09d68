// The order of a data line's runs as a builder types it: `5, 3, 1-4`, numbers as on the panel, or ids and names of runs. Pure.
import { failed, ok, type Problem, type Project, type Result } from '../../../project/index.ts';

const rangePattern = /^(\d+)\s*[-\u2013]\s*(\d+)$/;
const numberPattern = /^\d+$/;

const fault = (found: string, mend: string): Problem => ({
  code: 'chain-order',
  at: '',
  expected: 'numbers or names of runs, such as 5, 3, 1-4',
  found,
  mend,
});

/** Whole numbers from one to the other, either way. */
function stretch(from: number, to: number): number[] {
  const step = from <= to ? 1 : -1;
  return Array.from({ length: Math.abs(to - from) + 1 }, (_, i) => from + i * step);
}

/** Longer stretches than any chain is are a slip of the finger. */
const longestStretch = 1000;

/**
 * Ids of runs in the order typed; whether they are all of a line's, once each, is not looked at.
 * @param numbers each run's number on the panel
 */
export function parseOrder(
  text: string,
  runs: Project['runs'],
  numbers: ReadonlyMap<string, number>,
): Result<string[]> {
  const byNumber = new Map([...numbers].map(([id, number]) => [number, id]));
  const ids: string[] = [];
  const problems: Problem[] = [];
  const take = (number: number): void => {
    const id = byNumber.get(number);
    if (id === undefined)
      problems.push(fault(`${number}, which no run has`, 'Take a number from the panel.'));
    else ids.push(id);
  };
  for (const part of text.split(/[,;]/).map((one) => one.trim())) {
    if (part === '') continue;
    const named =
      runs.find(({ id }) => id === part) ??
      runs.find(({ name }) => name?.toLowerCase() === part.toLowerCase());
    const [, from, to] = rangePattern.exec(part) ?? [];
    if (named) ids.push(named.id);
    else if (numberPattern.test(part)) take(Number(part));
    else if (from !== undefined && Math.abs(Number(to) - Number(from)) < longestStretch)
      for (const number of stretch(Number(from), Number(to))) take(number);
    else problems.push(fault(`"${part}"`, 'Write numbers or names with commas between them.'));
  }
  return problems.length > 0 ? failed(problems) : ok(ids);
}

/** Three or more numbers in a row are written as a stretch; a run without a number by its id. */
export function orderText(ids: readonly string[], numbers: ReadonlyMap<string, number>): string {
  const parts: { text: string; from?: number; to?: number }[] = [];
  for (const id of ids) {
    const number = numbers.get(id);
    const last = parts.at(-1);
    if (number === undefined) parts.push({ text: id });
    else if (last?.to !== undefined && number === last.to + 1) last.to = number;
    else parts.push({ text: '', from: number, to: number });
  }
  return parts
    .map(({ text, from, to }) =>
      from === undefined
        ? text
        : from === to
          ? `${from}`
          : to === from + 1
            ? `${from}, ${to}`
            : `${from}-${to}`,
    )
    .join(', ');
}
