// Cleans an SVG that is to be kept as artwork: everything that could run or fetch something is cut out, and all else stays as it is, byte for byte. What
// was cut is told. What comes out is parsed and looked through once more before it is given back.
import type { Result } from '../../project/index.ts';
import { drawingLimits, tooMuch, unreadable } from './limits.ts';
import { asResult } from './read-drawing.ts';
import {
  attributeFault,
  foreignReferences,
  holdsCss,
  isBannedElement,
  isBannedName,
  isHarmlessCss,
  mendedCss,
  resolved,
} from './svg-clean-rules.ts';
import { type SvgToken, svgTokens } from './svg-tokens.ts';
import { type Element, localName, parseXml } from './xml.ts';

export interface CleanSvg {
  readonly text: string;
  /** What was taken out, each kind once, in order of appearance. Empty where the text is unchanged. */
  readonly removed: readonly string[];
}

/** Artwork may be finer than a drawing of channels: traced pictures have this many paths. */
const mostElements = 500_000;

const where = 'artwork';

class Cutter {
  readonly removed = new Set<string>();
  private readonly text: string;
  private readonly parts: string[] = [];
  private taken = 0;

  constructor(text: string) {
    this.text = text;
  }

  /** Replaces a stretch; stretches come in order. */
  cut(from: number, to: number, what: string, instead = ''): void {
    this.parts.push(this.text.slice(this.taken, from), instead);
    this.taken = to;
    this.removed.add(what);
  }

  get result(): string {
    return this.parts.join('') + this.text.slice(this.taken);
  }
}

const escaped = (css: string): string =>
  css.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('"', '&quot;');

function cleanAttributes(cutter: Cutter, token: SvgToken): void {
  for (const attribute of token.attributes) {
    const { name, value, from, to, valueFrom } = attribute;
    const fault = attributeFault(token.name, attribute);
    const css = resolved(value);
    if (fault !== undefined) cutter.cut(from, to, fault);
    else if (holdsCss(attribute) && !isHarmlessCss(css)) {
      const mended = mendedCss(css);
      const what = `link in the attribute ${localName(name)}`;
      if (mended === '') cutter.cut(from, to, what);
      else cutter.cut(from, to, what, ` ${name}="${escaped(mended)}"`);
    } else
      for (const reference of foreignReferences(value))
        cutter.cut(valueFrom + reference.from, valueFrom + reference.to, 'entities');
  }
}

/** Style text of an element: one text or CDATA is mended, anything more involved that isn't harmless goes. */
function cleanStyle(cutter: Cutter, text: string, inside: readonly SvgToken[]): void {
  const [first, last] = [inside[0], inside.at(-1)];
  if (!first || !last) return;
  const cssOf = (token: SvgToken): string => {
    const raw = text.slice(token.from, token.to);
    if (token.kind === 'cdata') return raw.slice('<![CDATA['.length, -']]>'.length);
    return token.kind === 'text' ? resolved(raw) : '';
  };
  const hasElements = inside.some(({ kind }) => kind === 'open' || kind === 'close');
  const css = inside.map(cssOf).join('');
  const isForeign = inside.some(
    ({ kind, from, to }) => kind === 'text' && foreignReferences(text.slice(from, to)).length > 0,
  );
  if (isHarmlessCss(css) && !hasElements && !isForeign) return;
  const mended = hasElements || isForeign ? '' : mendedCss(css);
  cutter.cut(first.from, last.to, 'links in <style>', escaped(mended));
}

const instructionsKept: ReadonlySet<string> = new Set(['xml']);

function cleanOnce(text: string): CleanSvg {
  const cutter = new Cutter(text);
  const tokens = svgTokens(text);
  /** Open elements, counted from the one that is cut out. */
  let cutDepth = 0;
  let cutFrom = 0;
  let cutName = '';
  let style: SvgToken[] | undefined;
  for (const token of tokens) {
    if (cutDepth > 0) {
      if (token.kind === 'open' && !token.selfClosing) cutDepth++;
      if (token.kind === 'close' && --cutDepth === 0) cutter.cut(cutFrom, token.to, `<${cutName}>`);
      continue;
    }
    if (style && !(token.kind === 'close' && localName(token.name).toLowerCase() === 'style')) {
      style.push(token);
      continue;
    }
    if (style) {
      cleanStyle(cutter, text, style);
      style = undefined;
    }
    if (token.kind === 'doctype') cutter.cut(token.from, token.to, '<!DOCTYPE>');
    else if (token.kind === 'instruction') {
      if (!instructionsKept.has(token.name))
        cutter.cut(token.from, token.to, `<?${token.name.slice(0, 40)}?>`);
    } else if (token.kind === 'text')
      for (const { from, to } of foreignReferences(text.slice(token.from, token.to)))
        cutter.cut(token.from + from, token.from + to, 'entities');
    else if (token.kind === 'open') {
      const name = localName(token.name);
      if (isBannedElement(token)) {
        [cutFrom, cutName] = [token.from, name.slice(0, 40)];
        if (token.selfClosing) cutter.cut(token.from, token.to, `<${cutName}>`);
        else cutDepth = 1;
      } else {
        cleanAttributes(cutter, token);
        if (name.toLowerCase() === 'style' && !token.selfClosing) style = [];
      }
    }
  }
  if (cutDepth > 0) cutter.cut(cutFrom, text.length, `<${cutName}>`);
  return { text: cutter.result, removed: [...cutter.removed] };
}

const hidden = (): never =>
  unreadable('drawing-unsafe', where, 'an SVG that can be cleaned', 'one that hides code', 'Draw it anew.');

/** A last look at what a real parser makes of the text, in case it reads a tag otherwise than the cutter did. */
const isHarmful = (element: Element): boolean =>
  isBannedName(element.name) ||
  [...element.attributes.keys()].some((name) => name.toLowerCase().startsWith('on')) ||
  element.children.some(isHarmful);

/** Cutting may bring parts together that make something new; a text that goes on changing is made to do so. */
const mostRounds = 4;

function clean(text: string): CleanSvg {
  if (text.length > drawingLimits.bytes) tooMuch(where, drawingLimits.bytes, 'bytes');
  const removed = new Set<string>();
  let current = text;
  for (let round = 0; ; round++) {
    const next = cleanOnce(current);
    if (next.removed.length === 0) break;
    if (round === mostRounds) hidden();
    for (const what of next.removed) removed.add(what);
    current = next.text;
  }
  const root = parseXml(current, where, mostElements);
  if (root.name !== 'svg')
    unreadable(
      'drawing-not-svg',
      where,
      'an <svg> element',
      `<${root.name.slice(0, 40)}>`,
      'Open an SVG file.',
    );
  if (isHarmful(root)) hidden();
  return { text: current, removed: [...removed] };
}

/** The same drawing without scripts, foreign content, event attributes, outside links and entities; a clean one comes back as it is. */
export const cleanSvg = (text: string): Result<CleanSvg> => asResult(() => clean(text));
