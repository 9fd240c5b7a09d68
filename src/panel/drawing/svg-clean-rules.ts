// What may stand in an SVG that is shown: which elements, attributes and style rules run something or fetch something. Rules only; svg-clean.ts cuts.
import type { SvgAttribute, SvgToken } from './svg-tokens.ts';
import { localName } from './xml.ts';

/** Elements that run code, or bring in pages, programs or sound, in SVG or in the HTML that may stand in it. In small letters. */
const bannedElements: ReadonlySet<string> = new Set(
  'script foreignobject iframe frame frameset object embed applet portal audio video source track canvas link meta base form input button select textarea template handler listener html head body'.split(
    ' ',
  ),
);
const animations: ReadonlySet<string> = new Set([
  'animate',
  'set',
  'animatetransform',
  'animatemotion',
  'discard',
]);
const pictures: ReadonlySet<string> = new Set(['image', 'feimage', 'img']);

const named: ReadonlyMap<string, string> = new Map([
  ['lt', '<'],
  ['gt', '>'],
  ['amp', '&'],
  ['quot', '"'],
  ['apos', "'"],
]);

function characterOf(code: number): string {
  return code <= 0x10ffff ? String.fromCodePoint(code) : '';
}

/** Text with XML's references resolved. */
export const resolved = (raw: string): string =>
  raw.replace(/&(?:#x([0-9a-f]+)|#(\d+)|(\w+));/gi, (whole, hex, decimal, name) => {
    if (hex !== undefined) return characterOf(Number.parseInt(hex, 16));
    if (decimal !== undefined) return characterOf(Number(decimal));
    return named.get(name) ?? whole;
  });

/** References to entities that are not XML's own five: they may stand for anything. */
export const foreignReferences = (raw: string): { readonly from: number; readonly to: number }[] =>
  [...raw.matchAll(/&([^#;\s&<>]+);/g)]
    .filter(([, name]) => !named.has(name!))
    .map((match) => ({ from: match.index, to: match.index + match[0].length }));

export const isBannedName = (name: string): boolean => bannedElements.has(name.toLowerCase());

export function isBannedElement(token: SvgToken): boolean {
  const name = localName(token.name).toLowerCase();
  if (isBannedName(name)) return true;
  // An animation may write a link or an event attribute after all of it was looked through.
  const animated = token.attributes.find((one) => localName(one.name).toLowerCase() === 'attributename');
  return (
    animations.has(name) &&
    animated !== undefined &&
    /(href|src)$|^on/i.test(localName(resolved(animated.value).trim()))
  );
}

/** Browsers skip blanks and control characters in links. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is taken out
const withoutBlanks = (link: string): string => link.replace(/[\u0000-\u0020\u007f-\u00a0]/g, '');

/** Pictures of pixels can't run anything; a drawing inside a link could. */
const pixelPicture = /^data:image\/(png|jpe?g|gif|webp|bmp)[;,]/i;
const embeddedFont = /^data:(font\/|application\/(x-)?font)/i;

const mayLink = (value: string, isPicture: boolean): boolean => {
  const link = withoutBlanks(value);
  return link === '' || link.startsWith('#') || (isPicture && pixelPicture.test(link));
};

/** Style text as a browser sees it: comments out, escapes resolved. */
const plainCss = (css: string): string =>
  css
    .replace(/\/\*[\s\S]*?(?:\*\/|$)/g, '')
    .replace(/\\(?:([0-9a-f]{1,6})\s?|([\s\S]))/gi, (_, hex, character) =>
      hex === undefined ? character : characterOf(Number.parseInt(hex, 16)),
    );

const urlPattern = /url\(\s*(["']?)([^"')]*)/gi;
const isHarmlessUrl = (url: string): boolean => mayLink(url, true) || embeddedFont.test(withoutBlanks(url));

/** Whether style text fetches nothing and runs nothing. */
export function isHarmlessCss(css: string): boolean {
  const plain = plainCss(css);
  if (/@import|image-set\s*\(|\bsrc\s*\(|expression\s*\(|-moz-binding|behavior\s*:|javascript:/i.test(plain))
    return false;
  return [...plain.matchAll(urlPattern)].every(([, , url]) => isHarmlessUrl(url!));
}

/** Style text with imports and foreign links taken out where they stand plainly; '' where harm is left. */
export function mendedCss(css: string): string {
  const mended = css
    .replace(/@import[^;{}]*;?/gi, '')
    .replace(/url\(\s*(?:"([^"()]*)"|'([^'()]*)'|([^"'()\s]*))\s*\)/gi, (whole, double, single, plain) =>
      isHarmlessUrl(double ?? single ?? plain) ? whole : 'none',
    );
  return isHarmlessCss(mended) ? mended : '';
}

/** Why an attribute has to go, in a few words; undefined where it may stay, perhaps with another value. */
export function attributeFault(element: string, attribute: SvgAttribute): string | undefined {
  const name = localName(attribute.name).toLowerCase();
  if (attribute.name.toLowerCase().startsWith('xmlns')) return undefined;
  if (name.startsWith('on')) return `event attribute ${name}`;
  if (attribute.name.toLowerCase() === 'xml:base') return 'xml:base';
  const isLink =
    name === 'href' || name === 'src' || name === 'srcset' || name === 'action' || name === 'formaction';
  if (isLink && !mayLink(resolved(attribute.value), pictures.has(localName(element).toLowerCase())))
    return `link of <${localName(element)}>`;
  return undefined;
}

/** Attributes whose value is style text: style itself, and presentation attributes that may hold a url(). */
export const holdsCss = ({ name, value }: SvgAttribute): boolean =>
  name.toLowerCase() === 'style' ||
  (!/^(data-|xmlns)/i.test(name) && /url\s*\(|\\|image-set/i.test(resolved(value)));
