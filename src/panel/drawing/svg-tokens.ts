// SVG text as tokens with their places in it, so that parts can be cut out and the rest stays as it is, byte for byte.
// It takes what is no well-formed XML too, as well as it can: what is left after cutting is parsed by a real parser (xml.ts).

export interface SvgAttribute {
  readonly name: string;
  /** As it stands there, references and all, without quotes. */
  readonly value: string;
  /** With the blanks before it. */
  readonly from: number;
  readonly to: number;
  readonly valueFrom: number;
}

export interface SvgToken {
  readonly kind: 'text' | 'comment' | 'cdata' | 'instruction' | 'doctype' | 'open' | 'close';
  readonly from: number;
  readonly to: number;
  /** Of an element or an instruction; '' elsewhere. */
  readonly name: string;
  readonly attributes: readonly SvgAttribute[];
  readonly selfClosing: boolean;
}

const bare = { name: '', attributes: [], selfClosing: false } as const;

const behind = (text: string, end: string, from: number): number => {
  const at = text.indexOf(end, from);
  return at < 0 ? text.length : at + end.length;
};

/** Where a <!DOCTYPE ends: behind the first > that is in no quotes and no brackets. */
function doctypeEnd(text: string, from: number): number {
  let quote = '';
  let depth = 0;
  for (let i = from; i < text.length; i++) {
    const c = text[i]!;
    if (quote !== '') {
      if (c === quote) quote = '';
    } else if (c === '"' || c === "'") quote = c;
    else if (text.startsWith('<!--', i)) i = behind(text, '-->', i) - 1;
    else if (c === '[') depth++;
    else if (c === ']') depth--;
    else if (c === '>' && depth <= 0) return i + 1;
  }
  return text.length;
}

const blankPattern = /\s*/y;
const namePattern = /[^\s>/]*/y;
/** Each alternative without blanks before it: trying them over and over would take the square of their number. */
const attributePattern = /([^\s=>/"'<]+)\s*(?:=\s*(?:"([^"]*)"|'([^']*)'))?|\/(?=>)|>|[\s\S]/y;

function matchAt(pattern: RegExp, text: string, at: number): RegExpExecArray | null {
  pattern.lastIndex = at;
  return pattern.exec(text);
}

function tagFrom(text: string, from: number): SvgToken {
  const isClose = text[from + 1] === '/';
  const name = matchAt(namePattern, text, from + (isClose ? 2 : 1))![0];
  const attributes: SvgAttribute[] = [];
  let at = from + (isClose ? 2 : 1) + name.length;
  let selfClosing = false;
  while (at < text.length) {
    const start = at + matchAt(blankPattern, text, at)![0].length;
    const match = matchAt(attributePattern, text, start);
    if (!match) break;
    const to = start + match[0].length;
    if (match[1] !== undefined) {
      const value = match[2] ?? match[3] ?? '';
      const valueFrom = match[2] === undefined && match[3] === undefined ? to : to - 1 - value.length;
      attributes.push({ name: match[1], value, from: at, to, valueFrom });
    } else if (match[0].endsWith('/')) selfClosing = true;
    at = to;
    if (match[0].endsWith('>') && match[1] === undefined) break;
  }
  return { kind: isClose ? 'close' : 'open', from, to: at, name, attributes, selfClosing };
}

/** All tokens in order; each begins where the one before ends. */
export function* svgTokens(text: string): Generator<SvgToken> {
  let from = 0;
  while (from < text.length) {
    let token: SvgToken;
    if (text[from] !== '<') {
      const next = text.indexOf('<', from);
      token = { ...bare, kind: 'text', from, to: next < 0 ? text.length : next };
    } else if (text.startsWith('<!--', from))
      token = { ...bare, kind: 'comment', from, to: behind(text, '-->', from + 4) };
    else if (text.startsWith('<![CDATA[', from))
      token = { ...bare, kind: 'cdata', from, to: behind(text, ']]>', from) };
    else if (text.startsWith('<?', from)) {
      const name = /^[^\s?>]*/.exec(text.slice(from + 2, from + 200))![0];
      token = { ...bare, kind: 'instruction', from, to: behind(text, '?>', from), name };
    } else if (text.startsWith('<!', from))
      token = { ...bare, kind: 'doctype', from, to: doctypeEnd(text, from + 2) };
    else token = tagFrom(text, from);
    yield token;
    from = token.to;
  }
}
