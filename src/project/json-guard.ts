// Looks over JSON text before it is parsed: size, depth, number of values and where brackets break off.
// Why: a parser given 50 MB of nested brackets runs out of memory, which no error handling can catch.
import { type ParseError, parse } from 'jsonc-parser';
import { limits } from './limits.ts';
import { failed, ok, type Problem, type Result } from './problems.ts';

const quote = 0x22;
const backslash = 0x5c;
const opening = new Set([0x5b, 0x7b]);
const closing = new Set([0x5d, 0x7d]);
const comma = 0x2c;

const mebibytes = (bytes: number): string => `${(bytes / 1024 / 1024).toFixed(1)} MiB`;

/** Line and column, both from 1, of a place in a text. */
function place(text: string, index: number): string {
  const before = text.slice(0, index);
  const line = before.split('\n').length;
  return `line ${line}, column ${index - before.lastIndexOf('\n')}`;
}

function shapeProblem(text: string): Problem | undefined {
  let depth = 0;
  let values = 0;
  let inString = false;
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    if (inString) {
      if (c === backslash) i++;
      else if (c === quote) inString = false;
    } else if (c === quote) inString = true;
    else if (c === comma) values++;
    else if (opening.has(c)) {
      values++;
      if (++depth > limits.nesting)
        return {
          code: 'json-too-deep',
          at: '',
          expected: `at most ${limits.nesting} nested lists and objects`,
          found: `more at ${place(text, i)}`,
          mend: 'No Lamploom project is like that; open the right file.',
        };
    } else if (closing.has(c)) depth--;
    if (values > limits.values)
      return {
        code: 'json-too-many-values',
        at: '',
        expected: `at most ${limits.values} values`,
        found: 'more',
        mend: 'No Lamploom project is like that; open the right file.',
      };
  }
  return undefined;
}

/** For a file's size in bytes, before it is loaded whole, and for a text's length, which is never more than its bytes. */
export function sizeProblem(bytes: number): Problem | undefined {
  if (bytes <= limits.fileBytes) return undefined;
  return {
    code: 'file-too-large',
    at: '',
    expected: `a file of at most ${mebibytes(limits.fileBytes)}`,
    found: mebibytes(bytes),
    mend: 'Make the artwork image smaller, or open the right file.',
  };
}

/** Text to a value. Fails with one problem that says where the text stops being JSON. */
export function parseJson(text: string): Result<unknown> {
  const problem = sizeProblem(text.length) ?? shapeProblem(text);
  if (problem) return failed([problem]);
  try {
    return ok(JSON.parse(text));
  } catch {
    // The engine's own message names no place in every version, so a second parser looks for it.
    const errors: ParseError[] = [];
    parse(text, errors, { disallowComments: true });
    const offset = errors[0]?.offset;
    const where =
      offset === undefined || offset >= text.trimEnd().length ? 'at its end' : `at ${place(text, offset)}`;
    return failed([
      {
        code: 'not-json',
        at: '',
        expected: 'JSON text',
        found: text.trim() === '' ? 'an empty file' : `text that stops being JSON ${where}`,
        mend: 'Take the file from a backup or save it again; it may be cut short.',
      },
    ]);
  }
}
