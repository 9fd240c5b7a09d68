// XML text as a tree of elements, by a parser that fetches nothing and knows no entities but XML's own five.
// Text between elements isn't kept: no shape is in it.
import { SaxesParser } from 'saxes';
import { drawingLimits, tooMuch, UnreadableDrawing, unreadable } from './limits.ts';

export interface Element {
  /** Without its prefix. */
  readonly name: string;
  /** By name without prefix; the first of a name counts. */
  readonly attributes: ReadonlyMap<string, string>;
  readonly children: readonly Element[];
  /** Line in the file, from 1. */
  readonly line: number;
}

export const localName = (name: string): string => name.slice(name.indexOf(':') + 1);

const firstSentence = (message: string): string => message.replace(/^\d+:\d+: |\.$/g, '').slice(0, 100);

/** The root element. Throws UnreadableDrawing. */
export function parseXml(text: string, at: string, mostElements: number = drawingLimits.elements): Element {
  const parser = new SaxesParser({ position: true });
  const open: (Element & { readonly children: Element[] })[] = [];
  let root: Element | undefined;
  let count = 0;
  parser.on('error', (error) =>
    unreadable(
      'drawing-not-xml',
      at,
      'well-formed SVG',
      `line ${parser.line}: ${firstSentence(error.message)}`,
      'Save the drawing again; it may be cut short.',
    ),
  );
  // What an entity stands for may be a file of this computer, or grow without end; the parser itself would only say that it is not defined.
  parser.on('doctype', (doctype) => {
    if (/<!ENTITY/i.test(doctype))
      unreadable(
        'drawing-entities',
        at,
        'a drawing without entities of its own',
        'an <!ENTITY> declaration',
        'Save it as plain SVG.',
      );
  });
  parser.on('opentag', ({ name, attributes: given }) => {
    const where = `${at} line ${parser.line}`;
    if (++count > mostElements) tooMuch(where, mostElements, 'elements');
    if (open.length >= drawingLimits.depth) tooMuch(where, drawingLimits.depth, 'groups in each other');
    const attributes = new Map<string, string>();
    for (const [key, value] of Object.entries(given))
      if (!attributes.has(localName(key))) attributes.set(localName(key), value);
    const element = { name: localName(name), attributes, children: [], line: parser.line };
    open.at(-1)?.children.push(element);
    root ??= element;
    open.push(element);
  });
  parser.on('closetag', () => {
    open.pop();
  });
  try {
    parser.write(text).close();
  } catch (error) {
    if (error instanceof UnreadableDrawing) throw error;
    // saxes turns what its own handlers can't take into errors; a text that does that is no drawing.
    unreadable('drawing-not-xml', at, 'well-formed SVG', 'text that is none', 'Save the drawing again.');
  }
  if (!root) unreadable('drawing-not-xml', at, 'an <svg> element', 'none', 'Open an SVG file.');
  return root;
}
