// SVG drawings: sizes, units and the viewBox, every shape against its closed form, nested transforms and copies, other programs' files, and files made to
// do harm. Rules are those of SVG 1.1 and CSS Values 3 (1 in = 25.4 mm = 96 px = 72 pt).
import makerjs from 'makerjs';
import { describe, expect, test } from 'vitest';
import { areaMm2, boundsOf, type DrawingShape } from '../../src/panel/index.ts';
import {
  drawingOf,
  expectCorners,
  expectOn,
  onLayer,
  only,
  refusal,
  sheet,
  stadium,
  svg,
} from '../support/drawings.ts';

const shapesOf = (text: string): readonly DrawingShape[] => drawingOf(text, 'drawing.svg').shapes;
const shapeOf = (body: string): DrawingShape => only(shapesOf(sheet(body)));

describe('[SVG1] sizes and units', () => {
  const rect = '<rect x="10" y="20" width="30" height="40"/>';
  /** Corners of that rectangle where a unit is so many mm. */
  const expectScaled = (attributes: string, mm: number, left = 0, top = 0): void => {
    const corner = (x: number, y: number): [number, number] => [left + x * mm, top + y * mm];
    expectCorners(only(shapesOf(svg(attributes, rect))), [
      corner(10, 20),
      corner(40, 20),
      corner(40, 60),
      corner(10, 60),
    ]);
  };
  test.each([
    ['width="210mm" height="297mm" viewBox="0 0 210 297"', 1],
    ['width="21cm" height="29.7cm" viewBox="0 0 210 297"', 1],
    ['width="2in" height="3in" viewBox="0 0 200 300"', 0.254],
    ['width="72pt" height="144pt" viewBox="0 0 100 200"', 0.254],
    ['width="6pc" height="12pc" viewBox="0 0 100 200"', 0.254],
    ['width="840Q" height="840Q" viewBox="0 0 210 210"', 1],
    ['width="96px" height="192px" viewBox="0 0 96 192"', 25.4 / 96],
    ['width="200mm" height="100mm"', 25.4 / 96],
    ['width="100mm" viewBox="0 0 50 80"', 2],
    ['height="100mm" viewBox="0 0 50 50"', 2],
  ])('%s', (attributes, mm) => {
    expectScaled(attributes, mm);
    expect(drawingOf(svg(attributes, rect), 'a.svg').notes).toEqual([]);
  });
  test.each([
    ['', 1],
    ['viewBox="0 0 600 300"', 1],
    ['width="600" height="300" viewBox="0 0 600 300"', 1],
    ['width="600" height="300"', 1],
    ['width="100%" height="100%" viewBox="0 0 600 300"', 1],
    ['width="1200" height="600" viewBox="0 0 600 300"', 2],
  ])('without any unit a number is a millimetre, which is told: %s', (attributes, mm) => {
    expectScaled(attributes, mm);
    const { notes } = drawingOf(svg(attributes, rect), 'a.svg');
    expect(notes).toEqual(['No unit in the drawing: 1 unit is taken as 1 mm.']);
  });
  test('the sheet’s top left is the origin, and its size is told', () => {
    expectScaled('width="100mm" height="200mm" viewBox="-10 5 100 200"', 1, 10, -5);
    expect(drawingOf(sheet(rect), 'a.svg')).toMatchObject({ widthMm: 600, heightMm: 300 });
  });
  test('another shape of sheet than of viewBox: kept in proportion, placed or stretched as told', () => {
    const size = 'width="200mm" height="100mm" viewBox="0 0 100 100"';
    expectScaled(size, 1, 50, 0);
    expectScaled(`${size} preserveAspectRatio="xMinYMin"`, 1);
    expectScaled(`${size} preserveAspectRatio="xMaxYMid meet"`, 1, 100, 0);
    expectScaled(`${size} preserveAspectRatio="xMidYMid slice"`, 2, 0, -50);
    const stretched = only(shapesOf(svg(`${size} preserveAspectRatio="none"`, rect)));
    expectCorners(stretched, [
      [20, 20],
      [80, 20],
      [80, 60],
      [20, 60],
    ]);
  });
});

describe('[SVG2] shapes', () => {
  test('rectangles, plain and with round corners', () => {
    expectCorners(shapeOf('<rect x="1" y="2" width="30" height="10"/>'), [
      [1, 2],
      [31, 2],
      [31, 12],
      [1, 12],
    ]);
    expectOn(
      shapeOf('<rect x="10" y="20" width="111" height="11" rx="5.5"/>'),
      stadium([15.5, 25.5], [115.5, 25.5], 5.5),
    );
    // A radius beyond half of a side is cut to it.
    expectOn(shapeOf('<rect x="10" y="20" width="111" height="11" rx="50" ry="80"/>'), ({ xMm, yMm }) => {
      return (Math.hypot(Math.max(0, Math.abs(xMm - 65.5) - 5.5) / 50, (yMm - 25.5) / 5.5) - 1) * 5.5;
    });
    expect(shapesOf(sheet('<rect width="10"/><rect width="-3" height="3"/>'))).toEqual([]);
  });
  test('circle and ellipse', () => {
    const circle = shapeOf('<circle cx="100" cy="100" r="50"/>');
    expectOn(circle, ({ xMm, yMm }) => Math.hypot(xMm - 100, yMm - 100) - 50, 0.001);
    expect(areaMm2(circle.points)).toBeCloseTo(Math.PI * 2500, 0);
    expectOn(shapeOf('<ellipse cx="100" cy="100" rx="50" ry="5"/>'), ({ xMm, yMm }) => {
      return (Math.hypot((xMm - 100) / 50, (yMm - 100) / 5) - 1) * 5;
    });
  });
  test('line, polyline, polygon', () => {
    expect(shapeOf('<line x1="1" y1="2" x2="3" y2="4"/>')).toMatchObject({
      closed: false,
      points: [
        { xMm: 1, yMm: 2 },
        { xMm: 3, yMm: 4 },
      ],
    });
    expect(shapeOf('<polyline points="0,0 10,0 10,5"/>')).toMatchObject({
      closed: false,
      points: { length: 3 },
    });
    expectCorners(shapeOf('<polygon points="0,0 10,0 10,5"/>'), [
      [0, 0],
      [10, 0],
      [10, 5],
    ]);
    expectCorners(shapeOf('<polyline points="0 0 10 0 10 5 0 0"/>'), [
      [0, 0],
      [10, 0],
      [10, 5],
    ]);
  });
  test('sizes of shapes have units and per cents too', () => {
    // 1 cm is 37.795... px, and a px is a unit of the drawing; per cents are of the viewBox.
    const shape = shapeOf('<rect x="10%" y="50%" width="1cm" height="1in"/>');
    const px = 96 / 25.4;
    expectCorners(shape, [
      [60, 150],
      [60 + 10 * px, 150],
      [60 + 10 * px, 246],
      [60, 246],
    ]);
  });
});

describe('[SVG3] paths', () => {
  const path = (d: string): DrawingShape => shapeOf(`<path d="${d}"/>`);
  test.each([
    ['absolute', 'M10 20 L60 20 L60 31 L10 31 Z'],
    ['relative', 'm10 20 l50 0 l0 11 l-50 0 z'],
    ['level and upright', 'M10,20 H60 V31 H10 z'],
    ['level and upright, relative', 'm10 20h50v11h-50z'],
    ['lines behind a move', 'M10 20 60 20 60 31 10 31Z'],
    ['run together', 'M10 20L60 2e1 60+31 10 31z'],
    ['closed by hand', 'M10 20 L60 20 L60 31 L10 31 L10 20'],
  ])('corners: %s', (_, d) => {
    expectCorners(path(d), [
      [10, 20],
      [60, 20],
      [60, 31],
      [10, 31],
    ]);
  });
  test('parts of one path are shapes of their own; a relative part begins where the one before began', () => {
    const shapes = shapesOf(sheet('<path d="m10 10 h10 v10 z m50 0 h10 v10 z l5 5"/>'));
    expect(shapes.map(({ points }) => [boundsOf(points).leftMm, boundsOf(points).topMm])).toEqual([
      [10, 10],
      [60, 10],
      [60, 10],
    ]);
  });
  test.each([
    ['a slot', 'M15 20 H115 A5.5 5.5 0 0 1 115 31 H15 A5.5 5.5 0 0 1 15 20 Z'],
    ['relative, flags run together', 'm15 20h100a5.5 5.5 0 01 0 11h-100a5.5 5.5 0 01 0-11z'],
    ['the other way', 'M15 31 H115 A5.5 5.5 0 1 0 115 20 H15 A5.5 5.5 0 1 0 15 31 Z'],
    ['radii too small, so stretched', 'M15 20 H115 A1 1 0 0 1 115 31 H15 A1 1 0 0 1 15 20 Z'],
  ])('arcs: %s', (_, d) => {
    const shape = path(d);
    expectOn(shape, stadium([15, 25.5], [115, 25.5], 5.5), 0.002);
    expect(areaMm2(shape.points)).toBeCloseTo(100 * 11 + Math.PI * 5.5 ** 2, 0);
  });
  test('a large turned ellipse, by its large part', () => {
    // Half axes 200 and 100, turned by 30 deg about 250, 150; both ends on it at parameters 0 and 90 deg.
    const at = (deg: number): string => {
      const [u, v] = [200 * Math.cos((deg * Math.PI) / 180), 100 * Math.sin((deg * Math.PI) / 180)];
      const [cos, sin] = [Math.cos(Math.PI / 6), Math.sin(Math.PI / 6)];
      return `${250 + u * cos - v * sin} ${150 + u * sin + v * cos}`;
    };
    const shape = path(`M${at(0)} A200 100 30 1 0 ${at(90)}`);
    expectOn(
      shape,
      ({ xMm, yMm }) => {
        const [dx, dy] = [xMm - 250, yMm - 150];
        const [cos, sin] = [Math.cos(Math.PI / 6), Math.sin(Math.PI / 6)];
        return (Math.hypot((dx * cos + dy * sin) / 200, (dy * cos - dx * sin) / 100) - 1) * 100;
      },
      0.002,
    );
    // Three quarters of the way round: it passes the far ends of both axes.
    const reached = Math.min(
      ...shape.points.map(({ xMm, yMm }) => Math.hypot(xMm - (250 - 200 * Math.cos(Math.PI / 6)), yMm - 50)),
    );
    expect(reached).toBeLessThan(3);
  });
  test.each([
    ['cubic', 'M0 0 C30 90 60 -90 90 0'],
    ['cubic, relative', 'm0 0 c30 90 60 -90 90 0'],
  ])('%s against its polynomial', (_, d) => {
    // x = 90 t, y = 270 t (1 - t) (1 - 2 t).
    expectOn(path(d), ({ xMm, yMm }) => yMm - 270 * (xMm / 90) * (1 - xMm / 90) * (1 - xMm / 45), 0.01);
  });
  test('quadratic ones, and short forms that mirror the control point before', () => {
    // A parabola: x = 100 t, y = 2 t (1 - t) 40; the mirrored one goes on below.
    const shape = path('M0 100 Q50 140 100 100 T200 100');
    expectOn(shape, ({ xMm, yMm }) => {
      const t = (xMm % 100) / 100;
      return yMm - 100 - (xMm <= 100 ? 1 : -1) * 80 * t * (1 - t);
    });
    const smooth = path('M0 100 C0 120 40 120 50 100 S100 80 100 100');
    const long = path('M0 100 C0 120 40 120 50 100 C60 80 100 80 100 100');
    expect(smooth.points).toEqual(long.points);
  });
  test('what stands before an error is drawn', () => {
    expect(path('M0 0 L50 0 L50 rubbish').points).toHaveLength(2);
    expect(shapesOf(sheet('<path d="L 5 5"/><path d=""/><path/>'))).toEqual([]);
  });
});

describe('[SVG4] groups, transforms, copies', () => {
  test('transforms nest; each kind does what it says', () => {
    const rect = '<rect width="10" height="5"/>';
    const corners = (transform: string): DrawingShape => shapeOf(`<g transform="${transform}">${rect}</g>`);
    expectCorners(corners('translate(20)'), [
      [20, 0],
      [30, 0],
      [30, 5],
      [20, 5],
    ]);
    expectCorners(corners('translate(20,30) scale(2)'), [
      [20, 30],
      [40, 30],
      [40, 40],
      [20, 40],
    ]);
    expectCorners(corners('scale(2,3) translate(1 1)'), [
      [2, 3],
      [22, 3],
      [22, 18],
      [2, 18],
    ]);
    // Clockwise where y points down.
    expectCorners(corners('rotate(90)'), [
      [0, 0],
      [0, 10],
      [-5, 10],
      [-5, 0],
    ]);
    expectCorners(corners('rotate(90 10 10)'), [
      [20, 0],
      [20, 10],
      [15, 10],
      [15, 0],
    ]);
    expectCorners(corners('matrix(1 0 0 -1 0 50)'), [
      [0, 50],
      [10, 50],
      [10, 45],
      [0, 45],
    ]);
    expectCorners(corners('skewX(45)'), [
      [0, 0],
      [10, 0],
      [15, 5],
      [5, 5],
    ]);
    expectCorners(corners('skewY(45)'), [
      [0, 0],
      [10, 10],
      [10, 15],
      [0, 5],
    ]);
    const nested = shapeOf(`<g transform="translate(100 0)"><g transform="rotate(90)">${rect}</g></g>`);
    expectCorners(nested, [
      [100, 0],
      [100, 10],
      [95, 10],
      [95, 0],
    ]);
  });
  test('curves stay within a thousandth however much they are stretched', () => {
    const big = shapeOf('<g transform="scale(100)"><circle cx="3" cy="1.5" r="1"/></g>');
    expectOn(big, ({ xMm, yMm }) => Math.hypot(xMm - 300, yMm - 150) - 100, 0.0011);
  });
  test('names: id, label of a drawing program, a shape’s own', () => {
    const text = svg(
      'xmlns:draw="http://example.org/draw" width="600mm" height="300mm" viewBox="0 0 600 300"',
      `<g id="g1" draw:label="channels" draw:groupmode="layer"><g><rect width="9" height="9"/></g></g>
       <g id="art"><path id="moon" d="M0 0h5v5z"/></g>`,
    );
    expect(shapesOf(text).map((shape) => shape.layers)).toEqual([
      ['g1', 'channels'],
      ['art', 'moon'],
    ]);
  });
  test('what is not drawn is left out: hidden, defined only, text', () => {
    const rect = '<rect width="9" height="9"/>';
    const drawing = drawingOf(
      sheet(`<g style="fill:none; display : none">${rect}</g><g display="none">${rect}</g><defs>${rect}</defs>
        <clipPath id="c">${rect}</clipPath><symbol id="s">${rect}</symbol><mask>${rect}</mask><text>Ticket</text>
        <script>${rect}</script><foreignObject>${rect}</foreignObject><constructor/><__proto__/>`),
      'a.svg',
    );
    expect(drawing.shapes).toEqual([]);
    expect(drawing.notes).toEqual(['Text is left out; turn it into paths first.']);
  });
  test('copies: of shapes, groups, symbols with a viewBox, moved and turned', () => {
    const defs =
      '<defs><rect id="r" width="10" height="5"/><symbol id="s" viewBox="0 0 20 10"><rect width="20" height="10"/></symbol></defs>';
    expectCorners(shapeOf(`${defs}<use href="#r" x="100" y="50"/>`), [
      [100, 50],
      [110, 50],
      [110, 55],
      [100, 55],
    ]);
    expectCorners(shapeOf(`${defs}<use xlink:href="#r" transform="rotate(90)" x="100"/>`), [
      [0, 100],
      [0, 110],
      [-5, 110],
      [-5, 100],
    ]);
    expectCorners(shapeOf(`${defs}<use href="#s" x="10" width="40" height="20"/>`), [
      [10, 0],
      [50, 0],
      [50, 20],
      [10, 20],
    ]);
    const drawing = drawingOf(sheet('<use href="other.svg#r"/><use href="#missing"/>'), 'a.svg');
    expect(drawing.notes).toEqual(['A copy of something outside the drawing is left out. (2 times)']);
  });
  test('a sheet inside the sheet', () => {
    expectCorners(
      shapeOf(
        '<svg x="100" y="50" width="40" height="20" viewBox="0 0 4 2"><rect width="4" height="2"/></svg>',
      ),
      [
        [100, 50],
        [140, 50],
        [140, 70],
        [100, 70],
      ],
    );
  });
});

describe('[SVG5] another program’s writer', () => {
  test.each([
    ['mm', makerjs.unitType.Millimeter, 1],
    ['cm', makerjs.unitType.Centimeter, 10],
    ['in', makerjs.unitType.Inch, 25.4],
  ] as const)('a slot and a rectangle in %s', (_, units, mm) => {
    const slot: makerjs.IModel = new makerjs.models.Slot([0, 0], [100 / mm, 0], 5.5 / mm);
    const rect: makerjs.IModel = new makerjs.models.Rectangle(60 / mm, 11 / mm);
    slot.origin = [20 / mm, 80 / mm];
    slot.layer = 'channels';
    rect.origin = [14.5 / mm, 20 / mm];
    rect.layer = 'other';
    // Else it rounds to a thousandth of its unit, 0.025 mm for an inch.
    const text = makerjs.exporter.toSVG({ models: { slot, rect }, units }, { accuracy: 1e-7 });
    const drawing = drawingOf(text, 'writer.svg');
    // Its sheet begins at the drawing's left and top edge: 14.5 and 85.5, y up.
    expectOn(only(onLayer(drawing, 'channels')), stadium([5.5, 5.5], [105.5, 5.5], 5.5));
    expectCorners(only(onLayer(drawing, 'other')), [
      [0, 54.5],
      [60, 54.5],
      [60, 65.5],
      [0, 65.5],
    ]);
    expect(drawing.widthMm).toBeCloseTo(111, 3);
  });
  test('its loose lines and arcs make outlines again', () => {
    const slot: makerjs.IModel = new makerjs.models.Slot([0, 0], [100, 0], 5.5);
    slot.layer = 'channels';
    const text = makerjs.exporter.toSVG(
      { models: { slot }, units: makerjs.unitType.Millimeter },
      { useSvgPathOnly: false },
    );
    const shape = only(onLayer(drawingOf(text, 'writer.svg'), 'channels'));
    expect(shape.closed).toBe(true);
    expectOn(shape, stadium([5.5, 5.5], [105.5, 5.5], 5.5));
  });
});

describe('[SVG6] hostile and damaged files', () => {
  const laughs = `<!DOCTYPE svg [<!ENTITY a "ha">${'bcdefghij'
    .split('')
    .map((name, i) => `<!ENTITY ${name} "${`&${'abcdefghi'[i]};`.repeat(10)}">`)
    .join('')}]>`;
  const cases: readonly (readonly [string, string, string | Uint8Array])[] = [
    ['entities that multiply', 'drawing-entities', `${laughs}<svg><desc>&j;</desc></svg>`],
    [
      'a file of this computer',
      'drawing-entities',
      '<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]><svg>&x;</svg>',
    ],
    ['an entity of nowhere', 'drawing-not-xml', sheet('&nowhere;')],
    ['cut short', 'drawing-not-xml', sheet('<g>').slice(0, -10)],
    ['no XML', 'drawing-not-xml', 'hello'],
    ['empty', 'drawing-not-xml', ''],
    ['another kind of file', 'drawing-not-svg', '<html><body/></html>'],
    ['nested without end', 'drawing-too-large', sheet('<g>'.repeat(5000) + '</g>'.repeat(5000))],
    ['too many elements', 'drawing-too-large', sheet('<g/>'.repeat(100_001))],
    ['a copy of itself', 'drawing-copies', sheet('<g id="a"><use href="#a"/></g>')],
    [
      'copies in a circle',
      'drawing-copies',
      sheet('<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>'),
    ],
    [
      'ten times ten times ten ...',
      'drawing-too-large',
      sheet(
        `<defs><rect id="l0" width="1" height="1"/>${[1, 2, 3, 4, 5, 6].map((i) => `<g id="l${i}">${`<use href="#l${i - 1}"/>`.repeat(10)}</g>`).join('')}</defs><use href="#l6"/>`,
      ),
    ],
    ['places of 1e9', 'drawing-coordinate', sheet('<line x1="0" y1="0" x2="1e9" y2="5"/>')],
    ['infinite places', 'drawing-coordinate', sheet('<path d="M0 0 L1e999 5"/>')],
    ['infinite arcs', 'drawing-coordinate', sheet('<path d="M0 0 A1e308 1e308 0 0 1 1e308 5"/>')],
    [
      'a transform that stretches to infinity',
      'drawing-coordinate',
      sheet('<g transform="scale(1e200) scale(1e200)"><circle r="1"/></g>'),
    ],
    ['too many corners', 'drawing-too-large', sheet(`<path d="M0 0${'h1v1'.repeat(260_000)}"/>`)],
    ['21 MiB', 'drawing-too-large', new Uint8Array(21 * 1024 * 1024).fill(32)],
    ['bytes that are no text', 'drawing-not-text', Uint8Array.of(0x3c, 0xff, 0xfe, 0x80)],
  ];
  test.each(cases)(
    '%s: refused (%s)',
    (_, code, content) => {
      expect(refusal(content, 'hostile.svg').code).toBe(code);
    },
    20_000,
  );
  test.each([
    ['letters without a bracket', 'transform', 'a'.repeat(3e6)],
    ['brackets without an end', 'transform', 'a('.repeat(1e6)],
    ['blanks', 'width', `1${' '.repeat(3e6)}!`],
    ['signs', 'height', '-+'.repeat(1e6)],
    ['blanks in a style', 'style', `display${' '.repeat(3e6)}`],
  ])(
    'values made to take the square of their length in time: %s',
    (_, name, value) => {
      const started = performance.now();
      drawingOf(sheet(`<rect ${name}="${value}"/>`), 'a.svg');
      expect(performance.now() - started).toBeLessThan(5000);
    },
    20_000,
  );
  test('a path of huge arcs is refused', () => {
    const text = sheet(`<path d="M0 0${'A9e4 9e4 0 0 1 9e4 9 A9e4 9e4 0 0 1 0 0'.repeat(500)}"/>`);
    expect(refusal(text, 'hostile.svg').code).toBe('drawing-too-large');
  }, 20_000);
  test('a plain document type, as drawing programs write it, is no harm', () => {
    const type =
      '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">';
    expect(
      shapesOf(svg('viewBox="0 0 9 9"', '<rect width="5" height="5"/>').replace('<svg', `${type}<svg`)),
    ).toHaveLength(1);
  });
  test('another ending is refused', () => {
    expect(refusal('<svg/>', 'drawing.pdf').code).toBe('drawing-kind');
  });
  test('numbers that are none count as 0, and names that every object has mean nothing', () => {
    const shapes = shapesOf(
      sheet('<rect x="NaN" y="5constructor" width="9" height="4" transform="constructor(1) toString(2)"/>'),
    );
    expectCorners(only(shapes), [
      [0, 0],
      [9, 0],
      [9, 4],
      [0, 4],
    ]);
  });
});
