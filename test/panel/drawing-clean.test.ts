// Artwork is cleaned of everything that runs or fetches: each known way in, alone and hidden; what is clean comes back byte for byte; and whatever
// comes out is looked through by a parser of its own.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { SaxesParser } from 'saxes';
import { describe, expect, test } from 'vitest';
import { cleanSvg } from '../../src/panel/index.ts';
import { problemLine } from '../../src/project/index.ts';
import { root } from '../support/lamploom.ts';
import { seedOf } from '../support/seed.ts';

const wrapped = (body: string, before = ''): string =>
  `<?xml version="1.0" encoding="UTF-8"?>\n${before}<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 9 9">${body}</svg>\n`;

function cleaned(text: string): { text: string; removed: readonly string[] } {
  const result = cleanSvg(text);
  if (!result.ok) throw new Error(result.problems.map(problemLine).join('\n'));
  return result.value;
}

/** What is still harmful in a text, by a parser and rules that share nothing with the cleaner's. */
function harmIn(text: string): string[] {
  const harm: string[] = [];
  const parser = new SaxesParser();
  let style = 0;
  const cssHarm = (css: string): boolean =>
    /@import|url\(\s*["']?\s*(?!#|data:(image\/(?!svg)|font))[^"')\s]|\\|image-set/i.test(
      css.replace(/\/\*.*?\*\//gs, ''),
    );
  let css = '';
  parser.on('error', (error) => harm.push(error.message));
  parser.on('doctype', () => harm.push('doctype'));
  parser.on('processinginstruction', ({ target }) => harm.push(`<?${target}?>`));
  parser.on('opentag', ({ name, attributes }) => {
    const local = name.split(':').at(-1)!.toLowerCase();
    if (/^(script|foreignobject|iframe|object|embed|audio|video|handler|link|meta|body)$/.test(local))
      harm.push(name);
    if (local === 'style') style++;
    for (const [key, value] of Object.entries(attributes)) {
      const plain = key.split(':').at(-1)!.toLowerCase();
      if (plain.startsWith('on')) harm.push(key);
      // biome-ignore lint/suspicious/noControlCharactersInRegex: browsers skip these
      const link = value.replace(/[\u0000-\u0020]/g, '');
      if (/^(href|src)$/.test(plain) && link !== '' && !/^(#|data:image\/(png|jpeg|gif|webp))/i.test(link))
        harm.push(`${key}=${link}`);
      if (key === 'xml:base') harm.push(key);
      if (plain === 'attributename' && /href|^on/i.test(value)) harm.push(`animates ${value}`);
      if (/url\(|\\/i.test(value) && cssHarm(value)) harm.push(`${key}=${value}`);
    }
  });
  const take = (part: string): void => {
    if (style > 0) css += part;
  };
  parser.on('text', take);
  parser.on('cdata', take);
  parser.on('closetag', ({ name }) => {
    if (name.split(':').at(-1)!.toLowerCase() === 'style') style--;
  });
  parser.write(text).close();
  if (cssHarm(css)) harm.push(`style ${css}`);
  return harm;
}

describe('[CLEAN1] what is clean comes back byte for byte', () => {
  const folder = join(root, 'samples', 'artwork');
  const artwork = readdirSync(folder).filter((name) => name.endsWith('.svg'));
  test('there is artwork to look at', () => expect(artwork.length).toBeGreaterThan(0));
  test.each(artwork)('samples/artwork/%s', (name) => {
    const text = readFileSync(join(folder, name), 'utf8');
    expect(cleaned(text)).toEqual({ text, removed: [] });
  });
  test.each([
    [
      'blanks, quotes and comments of every kind',
      wrapped(
        `<g  id='a'\n\tfill = "red" ><!-- <script> on="x" <!ENTITY --><rect width='9'   height="9" /></g >`,
      ),
    ],
    [
      'links inside, pictures of pixels',
      wrapped(
        '<defs><rect id="r" width="1" height="1"/></defs><use xlink:href="#r"/><use href=" #r&#10;"/><image href="data:image/png;base64,iVBORw0KGgo="/><a href="#r"/>',
      ),
    ],
    [
      'references, CDATA, style that points inside',
      wrapped(
        '<text>A &amp; B &#x263A; &lt;script&gt;</text><style><![CDATA[ .a > .b { fill: url(#g); font: url(data:font/woff2;base64,AA) } ]]></style><rect style="fill:url(#g)" clip-path="url( \'#c\' )"/>',
      ),
    ],
    [
      'words that look like code',
      wrapped(
        '<text id="only" onion-like="no">javascript: onload=1 url(http://x)</text>'.replace(
          ' onion-like="no"',
          '',
        ),
      ),
    ],
    ['CR LF line ends and no declaration', wrapped('<g>\r\n</g>').replace(/^<\?xml[^\n]*\n/, '')],
    [
      'names of XML spaces that are addresses',
      wrapped('<metadata xmlns:d="http://example.org/d"><d:work about="http://example.org"/></metadata>'),
    ],
  ])('%s', (_, text) => {
    expect(cleaned(text)).toEqual({ text, removed: [] });
  });
});

describe('[CLEAN2] what runs or fetches goes, and nothing else', () => {
  const rect = '<rect width="9" height="9"/>';
  /** What stands in the drawing, what is left of it, and what is told. */
  const cases: readonly (readonly [string, string, string, string])[] = [
    ['a script', `${rect}<script>alert("&lt;/g>")</script>${rect}`, `${rect}${rect}`, '<script>'],
    [
      'a script with a prefix',
      '<s:script xmlns:s="http://www.w3.org/2000/svg">x()</s:script>',
      '',
      '<script>',
    ],
    [
      'a script behind a prefix as long as one likes',
      `<${'p'.repeat(300)}:script xmlns:${'p'.repeat(300)}="http://www.w3.org/2000/svg">x()</${'p'.repeat(300)}:script>`,
      '',
      '<script>',
    ],
    ['a script in capital letters', '<SCRIPT>x()</SCRIPT>', '', '<SCRIPT>'],
    ['an empty script', `<script href="x.js"/>${rect}`, rect, '<script>'],
    ['scripts in scripts', '<script><script>1</script>2</script>', '', '<script>'],
    ['a script in CDATA', '<script><![CDATA[ </script> x() ]]></script>', '', '<script>'],
    [
      'foreign content',
      '<foreignObject><body xmlns="http://www.w3.org/1999/xhtml"><iframe src="x"/></body></foreignObject>',
      '',
      '<foreignObject>',
    ],
    [
      'pages without foreign content',
      '<h:iframe xmlns:h="http://www.w3.org/1999/xhtml" src="http://x"/>',
      '',
      '<iframe>',
    ],
    [
      'event attributes',
      '<g onclick="x()" id="a"\n onLoad = \'y()\'/>',
      '<g id="a"/>',
      'event attribute onclick',
    ],
    [
      'an event attribute without a blank before it',
      '<g id="a"onclick="x()"/>'.replace('"onclick', '" onclick'),
      '<g id="a"/>',
      'event attribute onclick',
    ],
    ['a link that runs', '<a href="javascript:x()">t</a>', '<a>t</a>', 'link of <a>'],
    [
      'the same in disguise',
      '<a xlink:href="&#x20;java&#x09;scr&#105;pt:x()">t</a>',
      '<a>t</a>',
      'link of <a>',
    ],
    ['a link to elsewhere', '<a href="https://example.org">t</a>', '<a>t</a>', 'link of <a>'],
    [
      'a picture from elsewhere',
      '<image href="http://example.org/a.png" width="1"/>',
      '<image width="1"/>',
      'link of <image>',
    ],
    ['a file of this computer', '<image href="file:///etc/passwd"/>', '<image/>', 'link of <image>'],
    ['a drawing in a link', '<image href="data:image/svg+xml,&lt;svg/>"/>', '<image/>', 'link of <image>'],
    ['data in a copy', '<use href="data:image/png;base64,AA"/>', '<use/>', 'link of <use>'],
    ['a shape from another file', '<use href="other.svg#a"/>', '<use/>', 'link of <use>'],
    [
      'another base for links inside',
      '<g xml:base="http://example.org/"><use href="#a"/></g>',
      '<g><use href="#a"/></g>',
      'xml:base',
    ],
    ['an animated link', '<a><set attributeName="href" to="javascript:x()"/>t</a>', '<a>t</a>', '<set>'],
    ['an animated event', '<animate attributeName="onclick" values="x()"/>', '', '<animate>'],
    [
      'a style from elsewhere',
      '<style>@import url("http://x/y.css"); .a{fill:red}</style>',
      '<style> .a{fill:red}</style>',
      'links in <style>',
    ],
    [
      'a style’s picture',
      '<style>.a{fill:url(http://x/y#z);stroke:url(#g)}</style>',
      '<style>.a{fill:none;stroke:url(#g)}</style>',
      'links in <style>',
    ],
    [
      'a style’s import in pieces',
      '<style>@im<![CDATA[port "http://x";]]></style>',
      '<style></style>',
      'links in <style>',
    ],
    [
      'a style’s import in escapes',
      '<style>\\40 import "http://x"; .a{}</style>',
      '<style></style>',
      'links in <style>',
    ],
    [
      'a style’s picture in escapes',
      '<style>.a{fill:\\75rl(http://x)}</style>',
      '<style></style>',
      'links in <style>',
    ],
    [
      'a style split by a comment',
      '<style>.a{fill:u<!-- -->rl(http://x)}</style>',
      '<style>.a{fill:none}</style>',
      'links in <style>',
    ],
    ['a style with an element in it', '<style>.a{}<g/></style>', '<style></style>', 'links in <style>'],
    [
      'a fill from elsewhere',
      '<g fill="url(http://x/y.svg#z)"/>',
      '<g fill="none"/>',
      'link in the attribute fill',
    ],
    [
      'a fill in references',
      '<g fill="ur&#108;(//x/y)" id="a"/>',
      '<g fill="none" id="a"/>',
      'link in the attribute fill',
    ],
    [
      'a style attribute',
      `<g style="fill:red;filter:url('http://x#f')"/>`,
      '<g style="fill:red;filter:none"/>',
      'link in the attribute style',
    ],
    [
      'a style attribute in escapes',
      '<g style="fill:\\75 rl(http://x)" id="a"/>',
      '<g id="a"/>',
      'link in the attribute style',
    ],
    ['instructions', '<?php x() ?><g/>', '<g/>', '<?php?>'],
  ];
  test.each(cases)('%s', (_, body, left, told) => {
    const result = cleaned(wrapped(body));
    expect(result.text).toBe(wrapped(left));
    expect(result.removed).toContain(told);
    expect(harmIn(result.text)).toEqual([]);
    // Clean once, clean for good.
    expect(cleaned(result.text)).toEqual({ text: result.text, removed: [] });
  });
  test('a style sheet named before the drawing, and its document type', () => {
    const before =
      '<?xml-stylesheet href="http://x/y.css"?><!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">';
    const result = cleaned(wrapped(rect, before));
    expect(result).toEqual({ text: wrapped(rect), removed: ['<?xml-stylesheet?>', '<!DOCTYPE>'] });
  });
  test('entities that multiply, read files, or hold scripts: the declarations and every use of them', () => {
    const declared = `<!DOCTYPE svg [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;"><!ENTITY c SYSTEM "file:///etc/passwd"><!ENTITY d '<script>x(">")</script>'>\n<!-- ]> -->]>`;
    const result = cleaned(wrapped(`<desc>1&b;2&c;3&d;4&amp;</desc><g id="&a;x&#65;"/>`, declared));
    expect(result.text).toBe(wrapped('<desc>1234&amp;</desc><g id="x&#65;"/>'));
    expect(result.removed).toEqual(['<!DOCTYPE>', 'entities']);
  });
  test('cutting makes nothing new', () => {
    // What stands around what is cut must not grow together to a script.
    for (const body of [
      '<scr<script/>ipt>x()</script>',
      '<g on<!-- -->click="x()"/>',
      '<<script/>script>x()</script>',
    ]) {
      const result = cleanSvg(wrapped(body));
      if (result.ok) expect(harmIn(result.value.text)).toEqual([]);
      else expect(result.problems[0]!.code).toMatch(/^drawing-/);
    }
  });
});

describe('[CLEAN3] what can’t be cleaned is refused with a clear line', () => {
  test.each([
    ['drawing-not-xml', wrapped('<g>')],
    ['drawing-not-xml', 'no drawing'],
    ['drawing-not-xml', wrapped('<script>').replace('</svg>', '')],
    ['drawing-not-svg', '<html><svg/></html>'.replace('html', 'page').replace('/html', '/page')],
    ['drawing-too-large', ' '.repeat(21 * 1024 * 1024)],
    ['drawing-too-large', wrapped('<g>'.repeat(2000) + '</g>'.repeat(2000))],
  ])('%s', (code, text) => {
    const result = cleanSvg(text);
    expect(result.ok ? [] : result.problems.map((problem) => problem.code)).toEqual([code]);
  });
});

test.each([
  ['blanks in a tag', `<g${' '.repeat(1e6)}!/>`],
  ['url( without an end', `<style>${'url('.repeat(3e5)}</style>`],
  ['blanks in url(', `<style>url(${' '.repeat(1e6)}</style>`],
  ['references without an end', `<text>${'&amp;a'.repeat(3e5)}</text>`],
  ['many style parts', `<style>${'<!-- -->a'.repeat(1e5)}</style>`],
])(
  '[CLEAN5] values made to take the square of their length in time: %s',
  (_, body) => {
    const started = performance.now();
    cleanSvg(wrapped(body));
    expect(performance.now() - started).toBeLessThan(5000);
  },
  20_000,
);

test('[CLEAN4] random mixtures of harm come out harmless, or are refused', () => {
  const piece = fc.constantFrom(
    '<script>',
    '</script>',
    '<script/>',
    '<g ',
    '<g>',
    '</g>',
    '/>',
    '>',
    'onclick="x()"',
    " onload='y'",
    '<style>',
    '</style>',
    '@import "x";',
    '<![CDATA[',
    ']]>',
    '<!--',
    '-->',
    '<a href="',
    'javascript:x()',
    '"',
    "'",
    '<foreignObject>',
    '</foreignObject>',
    '&#x6a;',
    '&a;',
    'url(http://x)',
    '<use href="#a"/>',
    '<!DOCTYPE svg [<!ENTITY a "b">]>',
    '<?pi ?>',
    ' ',
    'x',
    '=',
    '<',
    'style="fill:url(//x)"',
    '\\75rl(x)',
  );
  let cleanCount = 0;
  fc.assert(
    fc.property(fc.array(piece, { maxLength: 14 }), (pieces) => {
      const result = cleanSvg(wrapped(pieces.join('')));
      if (!result.ok) return;
      cleanCount++;
      expect(harmIn(result.value.text)).toEqual([]);
    }),
    { numRuns: 6000, seed: seedOf(3) },
  );
  expect(cleanCount).toBeGreaterThan(300);
});
