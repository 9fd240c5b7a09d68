// Reads an SVG's shapes in millimetres from its sheet's top left. Nothing in it is run or fetched; what isn't drawn (hidden, defined only) is left
// out, and clipping is not followed. Not here: values (svg-values.ts), shapes (svg-shapes.ts).
import { type Affine, compose, identity, scaling, translation } from './affine.ts';
import { Collector, type RawShape } from './collector.ts';
import { drawingLimits, unreadable } from './limits.ts';
import { svgShapes } from './svg-shapes.ts';
import {
  fitBox,
  lengthMm,
  lengthOf,
  mmPerPixel,
  transformOf,
  userLength,
  type ViewBox,
  viewBoxOf,
} from './svg-values.ts';
import { type Element, parseXml } from './xml.ts';

export interface SvgContent {
  readonly shapes: readonly RawShape[];
  readonly notes: readonly string[];
  readonly widthMm: number | undefined;
  readonly heightMm: number | undefined;
}

interface Sheet {
  readonly map: Affine;
  readonly view: Pick<ViewBox, 'width' | 'height'>;
  readonly widthMm: number | undefined;
  readonly heightMm: number | undefined;
  readonly note: string | undefined;
}

const noUnit = 'No unit in the drawing: 1 unit is taken as 1 mm.';

/** The map from the drawing's units to mm. Sizes with a unit decide; where none has one, a unit is a millimetre. */
function sheetOf(root: Element): Sheet {
  const [width, height] = ['width', 'height'].map((name) => lengthOf(root.attributes.get(name)));
  const box = viewBoxOf(root.attributes.get('viewBox'));
  // A bare number in a drawing for a machine means millimetres; a per cent of a window says nothing.
  const sizeOf = (length: typeof width): number | undefined =>
    length?.unit === '' ? length.value : lengthMm(length);
  const hasUnit = lengthMm(width) !== undefined || lengthMm(height) !== undefined;
  let [widthMm, heightMm] = [sizeOf(width), sizeOf(height)];
  const note = hasUnit ? undefined : noUnit;
  if (!box) {
    const map = hasUnit ? scaling(mmPerPixel, mmPerPixel) : identity;
    const view = { width: (widthMm ?? 0) / map.a, height: (heightMm ?? 0) / map.d };
    return { map, view, widthMm, heightMm, note };
  }
  widthMm ??= heightMm === undefined ? box.width : (heightMm * box.width) / box.height;
  heightMm ??= (widthMm * box.height) / box.width;
  const map = fitBox(box, widthMm, heightMm, root.attributes.get('preserveAspectRatio'));
  return { map, view: box, widthMm, heightMm, note };
}

interface Place {
  readonly map: Affine;
  readonly view: Pick<ViewBox, 'width' | 'height'>;
  readonly holders: readonly string[];
  readonly copies: number;
}

/** Elements that only hold others. A `switch` draws one of its children; all are taken here, since languages don't change outlines. */
const groups: ReadonlySet<string> = new Set(['g', 'a', 'switch']);
const leftOut: ReadonlyMap<string, string> = new Map([
  ['text', 'Text is left out; turn it into paths first.'],
  ['image', 'Pictures are left out.'],
]);

/** Names that a layer or group goes by: its id, and the label that drawing programs give. */
const namesOf = ({ attributes }: Element): string[] =>
  ['id', 'label'].map((key) => attributes.get(key)?.trim() ?? '').filter((name) => name !== '');

const isHidden = ({ attributes }: Element): boolean =>
  attributes.get('display')?.trim() === 'none' ||
  /(?:^|;)\s*display\s*:\s*none\b/i.test(attributes.get('style') ?? '');

function idsBelow(element: Element, found = new Map<string, Element>()): Map<string, Element> {
  const id = element.attributes.get('id');
  if (id !== undefined && !found.has(id)) found.set(id, element);
  for (const child of element.children) idsBelow(child, found);
  return found;
}

class Walk {
  private readonly collector: Collector;
  private readonly byId: ReadonlyMap<string, Element>;
  private readonly fileName: string;

  constructor(root: Element, fileName: string, collector: Collector) {
    this.byId = idsBelow(root);
    this.fileName = fileName;
    this.collector = collector;
  }

  children(element: Element, place: Place): void {
    for (const child of element.children) this.element(child, place);
  }

  private element(element: Element, place: Place): void {
    const at = `${this.fileName} line ${element.line}`;
    this.collector.countElement(at);
    if (isHidden(element)) return;
    const map = compose(place.map, transformOf(element.attributes.get('transform')));
    const names = namesOf(element);
    const inside: Place = { ...place, map, holders: [...place.holders, ...names] };
    const shape = svgShapes.get(element.name);
    if (shape) {
      const tolerance = this.collector.toleranceThrough(map);
      for (const { points, closed } of shape(element, { at, view: place.view, tolerance }))
        this.collector.add(at, map, points, closed, { holders: place.holders, ownNames: names });
    } else if (groups.has(element.name)) this.children(element, inside);
    else if (element.name === 'svg') this.viewport(element, inside, element);
    else if (element.name === 'use') this.copy(element, inside, at);
    else if (leftOut.has(element.name)) this.collector.note(leftOut.get(element.name)!);
  }

  /** An inner sheet, or a symbol; `sized` says where and how large. */
  private viewport(element: Element, place: Place, sized: Element): void {
    const { view } = place;
    const side = (name: 'width' | 'height'): number =>
      userLength(sized.attributes.get(name), view[name]) ??
      userLength(element.attributes.get(name), view[name]) ??
      view[name];
    const own = sized === element;
    const x = own ? (userLength(element.attributes.get('x'), view.width) ?? 0) : 0;
    const y = own ? (userLength(element.attributes.get('y'), view.height) ?? 0) : 0;
    const box = viewBoxOf(element.attributes.get('viewBox'));
    const [width, height] = [side('width'), side('height')];
    const fit = box ? fitBox(box, width, height, element.attributes.get('preserveAspectRatio')) : identity;
    const map = compose(place.map, compose(translation(x, y), fit));
    this.children(element, { ...place, map, view: box ?? { width, height } });
  }

  private copy(use: Element, place: Place, at: string): void {
    const href = use.attributes.get('href')?.trim() ?? '';
    const target = href.startsWith('#') ? this.byId.get(href.slice(1)) : undefined;
    if (!target) {
      this.collector.note('A copy of something outside the drawing is left out.');
      return;
    }
    if (place.copies >= drawingLimits.copyDepth)
      unreadable(
        'drawing-copies',
        at,
        `copies of copies at most ${drawingLimits.copyDepth} deep`,
        `a <use> of "${href.slice(0, 40)}" that goes deeper, or holds itself`,
        'Turn copies into shapes of their own.',
      );
    const x = userLength(use.attributes.get('x'), place.view.width) ?? 0;
    const y = userLength(use.attributes.get('y'), place.view.height) ?? 0;
    const inside = { ...place, map: compose(place.map, translation(x, y)), copies: place.copies + 1 };
    if (target.name === 'symbol') this.viewport(target, inside, use);
    else this.element(target, inside);
  }
}

/** Throws UnreadableDrawing. */
export function readSvg(text: string, fileName: string): SvgContent {
  const root = parseXml(text, fileName);
  if (root.name !== 'svg')
    unreadable(
      'drawing-not-svg',
      fileName,
      'an <svg> element',
      `<${root.name.slice(0, 40)}>`,
      'Open an SVG file.',
    );
  const { map, view, widthMm, heightMm, note } = sheetOf(root);
  const collector = new Collector();
  if (note) collector.note(note);
  new Walk(root, fileName, collector).children(root, { map, view, holders: [], copies: 0 });
  return { shapes: collector.shapes, notes: collector.notes, widthMm, heightMm };
}
