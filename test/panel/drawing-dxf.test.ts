// DXF drawings by other programs' writers: outlines to a hundredth of a mm, units, Y direction, versions; curves against their closed forms; and files
// made to do harm. Group codes are those of the format's reference.
import { DxfWriter, LWPolylineFlags, point2d, point3d, Units } from '@tarikjabiri/dxf';
import makerjs from 'makerjs';
import { describe, expect, test } from 'vitest';
import { areaMm2, boundsOf } from '../../src/panel/index.ts';
import {
  drawingOf,
  expectCorners,
  expectOn,
  ezdxf,
  onLayer,
  only,
  panelHeightMm,
  refusal,
  stadium,
} from '../support/drawings.ts';

/** Pairs of group code and value, as a file. */
const dxf = (...pairs: readonly (readonly [number, string | number])[]): string =>
  `${pairs.map(([code, value]) => `${code}\n${value}`).join('\n')}\n`;
const section = (name: string, ...inside: readonly (readonly [number, string | number])[]) =>
  [[0, 'SECTION'], [2, name], ...inside, [0, 'ENDSEC']] as const;
const entities = (...inside: readonly (readonly [number, string | number])[]): string =>
  dxf(...section('ENTITIES', ...inside), [0, 'EOF']);
const line = (x1: number, y1: number, x2: number, y2: number, layer = 'channels') =>
  [
    [0, 'LINE'],
    [8, layer],
    [10, x1],
    [20, y1],
    [11, x2],
    [21, y2],
  ] as const;

/** A slot 100 mm long between its centres and 11 mm wide, a rectangle, and a circle, in millimetres, y up. */
const slotOf = `k = 1 / mm
doc.layers.new('channels') if 'channels' not in doc.layers else None
msp = doc.modelspace()
on = {'layer': 'channels'}
slot = [(20, 85.5, 0), (120, 85.5, -1), (120, 74.5, 0), (20, 74.5, -1)]
`;

describe('[DXF1] another program’s writer, R12 and R2000, in every unit', () => {
  const units = [
    ['mm', 4, 1],
    ['inch', 1, 25.4],
    ['cm', 5, 10],
    ['m', 6, 1000],
  ] as const;
  test.each(units)('R2000 in %s: polyline with bulges, circle, ellipse, arcs', (_, code, mm) => {
    const bytes = ezdxf(`mm = ${mm}
doc = ezdxf.new('R2000')
doc.header['$INSUNITS'] = ${code}
${slotOf}
msp.add_lwpolyline([(x * k, y * k, b) for x, y, b in slot], format='xyb', dxfattribs={'closed': True, **on})
msp.add_circle((300 * k, 100 * k), 40 * k, dxfattribs={'layer': 'round'})
msp.add_ellipse((300 * k, 100 * k), (30 * k, 40 * k), 0.5, dxfattribs={'layer': 'oval'})
msp.add_arc((500 * k, 100 * k), 50 * k, 300, 30, dxfattribs={'layer': 'arc'})
doc.saveas('drawing.dxf')`);
    const drawing = drawingOf(bytes, 'writer.dxf');
    expect(drawing.notes).toEqual([]);
    const slot = only(onLayer(drawing, 'channels'));
    expect(slot.closed).toBe(true);
    // y down from the panel's top: 300 - 80.
    expectOn(slot, stadium([20, 220], [120, 220], 5.5));
    expect(areaMm2(slot.points)).toBeCloseTo(100 * 11 + Math.PI * 5.5 ** 2, 1);
    const round = only(onLayer(drawing, 'round'));
    expectOn(round, ({ xMm, yMm }) => Math.hypot(xMm - 300, yMm - 200) - 40);
    expect(areaMm2(round.points)).toBeCloseTo(Math.PI * 1600, 0);
    // Half axes 50 along (3, 4) / 5 and 25 across.
    expectOn(only(onLayer(drawing, 'oval')), ({ xMm, yMm }) => {
      const [x, y] = [xMm - 300, 200 - yMm];
      const value = Math.hypot((0.6 * x + 0.8 * y) / 50, (-0.8 * x + 0.6 * y) / 25);
      return (value - 1) * 25;
    });
    const arc = only(onLayer(drawing, 'arc'));
    expect(arc.closed).toBe(false);
    expectOn(arc, ({ xMm, yMm }) => Math.hypot(xMm - 500, yMm - 200) - 50);
    // From 300 deg, below the centre, to 30 deg, above it.
    expect(arc.points[0]!.yMm).toBeCloseTo(200 + 50 * Math.sin(Math.PI / 3), 2);
    expect(arc.points.at(-1)!.yMm).toBeCloseTo(175, 2);
  });

  test('R12 has no units: 1 is 1 mm, whatever a variable of a later version says', () => {
    const script = `mm = 1
doc = ezdxf.new('R12')
${slotOf}
msp.add_polyline2d(slot, format='xyb', dxfattribs={'flags': 1, **on})
doc.saveas('drawing.dxf')`;
    const bytes = ezdxf(script);
    const text = new TextDecoder('latin1').decode(bytes);
    expect(text).toContain('AC1009');
    for (const content of [bytes, text.replace(/( {2}9\r?\n\$ACADVER)/, '  9\n$INSUNITS\n 70\n1\n$1')]) {
      const drawing = drawingOf(content, 'old.dxf');
      expectOn(only(onLayer(drawing, 'channels')), stadium([20, 220], [120, 220], 5.5));
      expect(drawing.notes).toEqual(['No unit in the drawing: 1 unit is taken as 1 mm.']);
    }
  });

  test('blocks are drawn where they are inserted: moved, turned, stretched, mirrored, in rows', () => {
    const bytes = ezdxf(`mm = 1
doc = ezdxf.new('R2000')
doc.header['$INSUNITS'] = 4
${slotOf}
block = doc.blocks.new('PART', base_point=(10, 0))
block.add_lwpolyline([(10, 0), (40, 0), (40, 10), (10, 10)], dxfattribs={'closed': True, 'layer': '0'})
outer = doc.blocks.new('OUTER')
outer.add_blockref('PART', (5, 5), dxfattribs={'layer': '0'})
msp.add_blockref('PART', (100, 100), dxfattribs={'layer': 'turned', 'rotation': 30, 'xscale': 2, 'yscale': 1})
msp.add_blockref('PART', (100, 100), dxfattribs={'layer': 'mirrored', 'xscale': -1})
msp.add_blockref('OUTER', (200, 200), dxfattribs={'layer': 'nested'})
msp.add_blockref('PART', (0, 0), dxfattribs={'layer': 'rows', 'column_count': 3, 'row_count': 2, 'column_spacing': 50, 'row_spacing': 20})
doc.saveas('drawing.dxf')`);
    const drawing = drawingOf(bytes, 'blocks.dxf');
    const [cos, sin] = [Math.cos(Math.PI / 6), Math.sin(Math.PI / 6)];
    const turned = ([x, y]: readonly [number, number]): [number, number] => [
      100 + x * cos - y * sin,
      panelHeightMm - (100 + x * sin + y * cos),
    ];
    expectCorners(
      only(onLayer(drawing, 'turned')),
      (
        [
          [0, 0],
          [60, 0],
          [60, 10],
          [0, 10],
        ] as const
      ).map(turned),
    );
    expectCorners(only(onLayer(drawing, 'mirrored')), [
      [100, 200],
      [70, 200],
      [70, 190],
      [100, 190],
    ]);
    expectCorners(only(onLayer(drawing, 'nested')), [
      [205, 95],
      [235, 95],
      [235, 85],
      [205, 85],
    ]);
    const rows = onLayer(drawing, 'rows').map(({ points }) => boundsOf(points));
    expect(rows.map(({ leftMm, bottomMm }) => [leftMm, bottomMm]).sort()).toEqual(
      [
        [0, 300],
        [50, 300],
        [100, 300],
        [0, 280],
        [50, 280],
        [100, 280],
      ].sort(),
    );
    // What stands on layer 0 of a block is on the insertion's layer, and goes by the block's name too.
    expect(only(onLayer(drawing, 'nested')).layers).toEqual(['nested', 'OUTER', 'PART']);
  });

  test('splines: rational ones are exact circles, plain ones Bezier curves', () => {
    // A quarter circle of three control points has weights 1, 1/sqrt(2), 1 (Piegl and Tiller, from memory).
    const bytes = ezdxf(`doc = ezdxf.new('R2000')
doc.header['$INSUNITS'] = 4
msp = doc.modelspace()
s = msp.add_spline(degree=2, dxfattribs={'layer': 'circle'})
s.control_points = [(300, 200), (300, 300), (200, 300)]
s.knots = [0, 0, 0, 1, 1, 1]
s.weights = [1, 1 / math.sqrt(2), 1]
msp.add_open_spline([(0, 0), (30, 90), (60, -90), (90, 0)], degree=3, dxfattribs={'layer': 'bezier'})
msp.add_open_spline([(0, 0), (40, 0), (40, 60), (90, 60)], degree=1, dxfattribs={'layer': 'corners'})
doc.saveas('drawing.dxf')`);
    const drawing = drawingOf(bytes, 'splines.dxf');
    const circle = only(onLayer(drawing, 'circle'));
    expectOn(circle, ({ xMm, yMm }) => Math.hypot(xMm - 200, yMm - 100) - 100);
    expect(circle.points.at(-1)).toEqual({ xMm: 200, yMm: 0 });
    // With x = 90 t (control points a third apart), y = 270 t (1 - t) (1 - 2 t), y up.
    expectOn(
      only(onLayer(drawing, 'bezier')),
      ({ xMm, yMm }) => {
        const t = xMm / 90;
        return 300 - yMm - 270 * t * (1 - t) * (1 - 2 * t);
      },
      0.02,
    );
    expect(only(onLayer(drawing, 'corners')).points).toEqual([
      { xMm: 0, yMm: 300 },
      { xMm: 40, yMm: 300 },
      { xMm: 40, yMm: 240 },
      { xMm: 90, yMm: 240 },
    ]);
  });
});

describe('[DXF2] a second and a third writer', () => {
  test.each([
    ['mm', Units.Millimeters, 1],
    ['inch', Units.Inches, 25.4],
  ] as const)('polyline with bulges and loose lines in %s', (_, unit, mm) => {
    const writer = new DxfWriter();
    writer.setUnits(unit);
    writer.addLayer('channels', 1);
    writer.addLayer('loose', 2);
    const at = (x: number, y: number) => point2d(x / mm, y / mm);
    writer.addLWPolyline(
      [
        { point: at(20, 85.5) },
        { point: at(120, 85.5), bulge: -1 },
        { point: at(120, 74.5) },
        { point: at(20, 74.5), bulge: -1 },
      ],
      { flags: LWPolylineFlags.Closed, layerName: 'channels' },
    );
    const corners = [
      [200, 50],
      [260, 50],
      [260, 61],
      [200, 61],
    ] as const;
    for (const [i, [x, y]] of corners.entries()) {
      const [toX, toY] = corners[(i + 1) % 4]!;
      writer.addLine(point3d(x / mm, y / mm), point3d(toX / mm, toY / mm), { layerName: 'loose' });
    }
    const drawing = drawingOf(writer.stringify(), 'second.dxf');
    expectOn(only(onLayer(drawing, 'channels')), stadium([20, 220], [120, 220], 5.5));
    expectCorners(only(onLayer(drawing, 'loose')), [
      [200, 250],
      [260, 250],
      [260, 239],
      [200, 239],
    ]);
  });

  test.each([
    ['mm', makerjs.unitType.Millimeter, 1],
    ['cm', makerjs.unitType.Centimeter, 10],
    ['inch', makerjs.unitType.Inch, 25.4],
  ] as const)('loose lines and arcs, and old polylines, in %s', (_, units, mm) => {
    const slot: makerjs.IModel = new makerjs.models.Slot([0, 0], [100 / mm, 0], 5.5 / mm);
    slot.origin = [20 / mm, 80 / mm];
    slot.layer = 'channels';
    for (const usePOLYLINE of [false, true]) {
      const drawing = drawingOf(
        makerjs.exporter.toDXF({ models: { slot }, units }, { usePOLYLINE }),
        'third.dxf',
      );
      const shape = only(onLayer(drawing, 'channels'));
      expect(shape.closed).toBe(true);
      expectOn(shape, stadium([20, 220], [120, 220], 5.5));
      expect(areaMm2(shape.points)).toBeCloseTo(100 * 11 + Math.PI * 5.5 ** 2, 1);
    }
  });
});

describe('[DXF3] loose ends', () => {
  const shapesOf = (...lines: readonly ReturnType<typeof line>[]) =>
    drawingOf(entities(...lines.flat()), 'lines.dxf').shapes;
  test('lines drawn twice over count once, and gaps of rounding are closed', () => {
    const [shape, ...more] = shapesOf(
      line(0, 0, 50, 0),
      line(50.004, 0, 50, 10),
      line(0, 10, 50, 10),
      line(0, 10, 0, 0),
      line(50, 0, 0, 0),
    );
    expect(more).toEqual([]);
    expect([shape!.closed, shape!.points.length]).toEqual([true, 4]);
  });
  test('where three ends meet nothing is joined; layers are not joined with each other', () => {
    expect(shapesOf(line(0, 0, 50, 0), line(50, 0, 100, 0), line(50, 0, 50, 60))).toHaveLength(3);
    expect(shapesOf(line(0, 0, 50, 0, 'a'), line(50, 0, 100, 0, 'b'))).toHaveLength(2);
    const [joined, ...more] = shapesOf(line(0, 0, 50, 0), line(100, 0, 50, 0));
    expect([joined!.points.length, joined!.closed, more.length]).toEqual([3, false, 0]);
  });
});

describe('[DXF4] hostile and damaged files', () => {
  const header = dxf(...section('HEADER', [9, '$ACADVER'], [1, 'AC1015']));
  const insert = (name: string) =>
    [
      [0, 'INSERT'],
      [2, name],
      [10, 0],
      [20, 0],
    ] as const;
  const block = (name: string, ...inside: readonly (readonly [number, string | number])[]) =>
    [[0, 'BLOCK'], [2, name], [10, 0], [20, 0], ...inside, [0, 'ENDBLK']] as const;
  const cases: readonly (readonly [string, string, string | Uint8Array])[] = [
    ['not a DXF', 'drawing-not-dxf', 'hello\nthere\n'],
    ['empty', 'drawing-not-dxf', ''],
    ['no sections', 'drawing-not-dxf', dxf([0, 'LINE'], [0, 'EOF'])],
    ['cut short in a code', 'drawing-not-dxf', `${header}0\nSECTION\n2\nENTITIES\n0\nLINE\n1x\n3\n`],
    [
      'a number that is none',
      'drawing-number',
      entities([0, 'LINE'], [10, 'NaN'], [20, 0], [11, 1], [21, 1]),
    ],
    ['an infinite number', 'drawing-number', entities([0, 'CIRCLE'], [10, '1e999'], [20, 0], [40, 1])],
    ['places of 1e9', 'drawing-coordinate', entities(...line(0, 0, 1e9, 5))],
    ['a circle of 1e9', 'drawing-coordinate', entities([0, 'CIRCLE'], [10, 0], [20, 0], [40, 1e9])],
    [
      'a bulge of nearly nothing',
      'drawing-coordinate',
      entities([0, 'LWPOLYLINE'], [90, 2], [10, 0], [20, 0], [42, 1e12], [10, 1e7], [20, 0]),
    ],
    [
      'a block in itself',
      'drawing-copies',
      dxf(...section('BLOCKS', ...block('A', ...insert('A'))), ...section('ENTITIES', ...insert('A')), [
        0,
        'EOF',
      ]),
    ],
    [
      'blocks in a circle',
      'drawing-copies',
      dxf(
        ...section('BLOCKS', ...block('A', ...insert('B')), ...block('B', ...insert('A'))),
        ...section('ENTITIES', ...insert('A')),
        [0, 'EOF'],
      ),
    ],
    [
      'ten times ten times ten ...',
      'drawing-too-large',
      dxf(
        ...section(
          'BLOCKS',
          ...Array.from({ length: 7 }, (_, i) =>
            block(
              `B${i}`,
              ...Array.from({ length: 10 }, () => (i === 0 ? line(0, 0, 1, 1) : insert(`B${i - 1}`))).flat(),
            ),
          ).flat(),
        ),
        ...section('ENTITIES', ...insert('B6')),
        [0, 'EOF'],
      ),
    ],
    [
      'a million rows',
      'drawing-too-large',
      dxf(
        ...section('BLOCKS', ...block('A', ...line(0, 0, 1, 1))),
        ...section('ENTITIES', ...insert('A'), [70, 1e6], [71, 1e6]),
        [0, 'EOF'],
      ),
    ],
    ['a spline of degree 1e9', 'drawing-spline', entities([0, 'SPLINE'], [71, 1e9], [10, 0], [20, 0])],
    [
      'a spline without its knots',
      'drawing-spline',
      entities(
        [0, 'SPLINE'],
        [71, 3],
        [10, 0],
        [20, 0],
        [10, 1],
        [20, 0],
        [10, 2],
        [20, 0],
        [10, 3],
        [20, 0],
        [40, 0],
      ),
    ],
    [
      'too many entities',
      'drawing-too-large',
      `${dxf([0, 'SECTION'], [2, 'ENTITIES'])}${dxf(...line(0, 0, 1, 1)).repeat(100_001)}`,
    ],
    ['21 MiB', 'drawing-too-large', new Uint8Array(21 * 1024 * 1024).fill(48)],
    [
      'a polyline of huge arcs',
      'drawing-too-large',
      entities(
        [0, 'LWPOLYLINE'],
        ...Array.from(
          { length: 3000 },
          (_, i) =>
            [
              [10, (i % 2) * 9e4],
              [20, 0],
              [42, 1],
            ] as const,
        ).flat(),
      ),
    ],
    [
      'a spline of huge waves',
      'drawing-too-large',
      entities(
        [0, 'SPLINE'],
        [71, 3],
        ...Array.from({ length: 3004 }, (_, i) => [40, i] as const),
        ...Array.from(
          { length: 3000 },
          (_, i) =>
            [
              [10, i],
              [20, (i % 2) * 9e4],
            ] as const,
        ).flat(),
      ),
    ],
    ['binary', 'drawing-binary', 'AutoCAD Binary DXF\r\n\u001a\u0000'],
  ];
  test.each(cases)(
    '%s is refused (%s)',
    (_, code, content) => {
      expect(refusal(content, 'hostile.dxf').code).toBe(code);
    },
    20_000,
  );

  test('rubbish that other readers hang on ends quickly: a polyline without its end, counts that lie', () => {
    const polyline = entities(
      [0, 'POLYLINE'],
      [8, 'a'],
      [70, 0],
      [0, 'VERTEX'],
      [10, 0],
      [20, 0],
      [0, 'TEXT'],
      [1, 'x'],
      ...line(0, 0, 9, 0),
    );
    expect(drawingOf(polyline, 'a.dxf').shapes).toHaveLength(1);
    const count = entities([0, 'LWPOLYLINE'], [90, 2e9], [10, 0], [20, 0], [10, 9], [20, 0]);
    expect(drawingOf(count, 'a.dxf').shapes).toHaveLength(1);
  });

  test('thirty thousand lines through one place don’t take their square in time', () => {
    const star = Array.from({ length: 30_000 }, (_, i) => dxf(...line(0, 0, 1000 + i, 5))).join('');
    const started = performance.now();
    expect(drawingOf(`${dxf([0, 'SECTION'], [2, 'ENTITIES'])}${star}`, 'a.dxf').shapes).toHaveLength(30_000);
    expect(performance.now() - started).toBeLessThan(8000);
  }, 20_000);

  test('a name of another program’s type system does nothing', () => {
    expect(
      drawingOf(entities([0, 'constructor'], [0, '__proto__'], ...line(0, 0, 9, 0, '__proto__')), 'a.dxf')
        .layers,
    ).toEqual(['__proto__']);
  });
});

test('letters of older programs are read', () => {
  const bytes = Uint8Array.from(
    [...entities(...line(0, 0, 9, 0, 'Kan?le'))].map((c) => (c === '?' ? 0xe4 : c.charCodeAt(0))),
  );
  expect(drawingOf(bytes, 'a.dxf').layers).toEqual(['Kanäle']);
});
