// Reads a DXF's shapes in millimetres, y down from the panel's top left; the file's origin is the panel's bottom left. Blocks are drawn where they
// are inserted. Not here: what single entities draw (dxf-shapes.ts), pairs and sections (dxf-tags.ts).
import { type Affine, compose, rotation, scaling, translation } from './affine.ts';
import { Collector, type RawShape } from './collector.ts';
import { dxfShapes, inOwnPlane } from './dxf-shapes.ts';
import { type DxfBlock, type DxfEntity, parseDxf } from './dxf-tags.ts';
import { drawingLimits, tooMuch, unreadable } from './limits.ts';

export interface DxfContent {
  readonly shapes: readonly RawShape[];
  readonly notes: readonly string[];
}

/** $INSUNITS to mm. 1 inch, 4 mm, 5 cm, 6 m are common knowledge; the rest from memory of the format's reference. */
const mmPerInsUnit: Readonly<Record<number, number>> = {
  1: 25.4,
  2: 304.8,
  4: 1,
  5: 10,
  6: 1000,
  8: 25.4e-6,
  9: 25.4e-3,
  10: 914.4,
  13: 1e-3,
  14: 100,
};

/** From this version on $INSUNITS is defined. */
const firstWithUnits = 'AC1015';

function unitMm(header: ReadonlyMap<string, string>, collector: Collector): number {
  const version = header.get('$ACADVER');
  const given = header.get('$INSUNITS');
  // A writer that names no version, but a unit, means it; in an older version the variable has no meaning.
  const counts = given !== undefined && (version === undefined || version >= firstWithUnits);
  const mm = counts ? mmPerInsUnit[Number(given)] : undefined;
  if (mm === undefined) collector.note('No unit in the drawing: 1 unit is taken as 1 mm.');
  return mm ?? 1;
}

interface Place {
  readonly map: Affine;
  /** Layers of the insertions that hold this, outermost first, and the blocks' names. */
  readonly holders: readonly string[];
  /** The layer that takes the place of layer 0. */
  readonly layer: string;
  readonly depth: number;
}

const flat = 1e-6;

class Drawer {
  private readonly blocks: ReadonlyMap<string, DxfBlock>;
  private readonly collector: Collector;

  constructor(blocks: ReadonlyMap<string, DxfBlock>, collector: Collector) {
    this.blocks = blocks;
    this.collector = collector;
  }

  all(entities: readonly DxfEntity[], place: Place): void {
    for (let i = 0; i < entities.length; i++) {
      const entity = entities[i]!;
      const vertices: DxfEntity[] = [];
      if (entity.type === 'POLYLINE')
        while (entities[i + 1]?.type === 'VERTEX') vertices.push(entities[++i]!);
      this.one(entity, vertices, place);
    }
  }

  private one(entity: DxfEntity, vertices: readonly DxfEntity[], place: Place): void {
    this.collector.countElement(entity.at);
    // Invisible, or on a sheet for printing.
    if (entity.number(60, 0) !== 0 || entity.number(67, 0) !== 0) return;
    const draw = dxfShapes.get(entity.type);
    if (!draw && entity.type !== 'INSERT') return;
    const tilt = Math.hypot(entity.number(210, 0), entity.number(220, 0));
    if (tilt > flat) {
      this.collector.note('What lies tilted in space is left out.');
      return;
    }
    const turnedOver = inOwnPlane.has(entity.type) && entity.number(230, 1) < 0;
    const map = turnedOver ? compose(place.map, scaling(-1, 1)) : place.map;
    const ownLayer = entity.text(8) ?? '0';
    const layer = ownLayer === '0' ? place.layer : ownLayer;
    if (!draw) {
      this.insertion(entity, { ...place, map, layer });
      return;
    }
    const drawn = draw(entity, this.collector.toleranceThrough(map), vertices);
    if (typeof drawn === 'string') {
      this.collector.note(drawn);
      return;
    }
    const names = { holders: [...new Set([...place.holders, layer])], ownNames: [] };
    this.collector.add(entity.at, map, drawn.points, drawn.closed, names);
  }

  private insertion(entity: DxfEntity, place: Place): void {
    const name = entity.text(2) ?? '';
    const block = this.blocks.get(name.toUpperCase());
    if (!block) {
      this.collector.note('An insertion of a block that is not in the file is left out.');
      return;
    }
    if (place.depth >= drawingLimits.copyDepth)
      unreadable(
        'drawing-copies',
        entity.at,
        `blocks in blocks at most ${drawingLimits.copyDepth} deep`,
        `block "${name.slice(0, 40)}" inserted deeper, or in itself`,
        'Explode the blocks.',
      );
    const [columns, rows] = [70, 71].map((code) => Math.max(1, Math.round(entity.number(code, 1))));
    if (columns! * rows! > drawingLimits.elements) tooMuch(entity.at, drawingLimits.elements, 'elements');
    const [dx, dy] = [entity.number(44, 0), entity.number(45, 0)];
    const turned = compose(
      translation(entity.number(10, 0), entity.number(20, 0)),
      rotation(entity.number(50, 0)),
    );
    const scaled = compose(
      scaling(entity.number(41, 1), entity.number(42, 1)),
      translation(-block.baseX, -block.baseY),
    );
    const holders = [...place.holders, place.layer, name];
    for (let row = 0; row < rows!; row++)
      for (let column = 0; column < columns!; column++) {
        const local = compose(turned, compose(translation(column * dx, row * dy), scaled));
        this.collector.countElement(entity.at);
        this.all(block.entities, {
          map: compose(place.map, local),
          holders,
          layer: place.layer,
          depth: place.depth + 1,
        });
      }
  }
}

/** @param panelHeightMm turns y up from the bottom into y down from the top. Throws UnreadableDrawing. */
export function readDxf(text: string, fileName: string, panelHeightMm: number): DxfContent {
  const { header, blocks, entities } = parseDxf(text, fileName);
  const collector = new Collector();
  const unit = unitMm(header, collector);
  const map = compose(translation(0, panelHeightMm), scaling(unit, -unit));
  new Drawer(blocks, collector).all(entities, { map, holders: [], layer: '0', depth: 0 });
  return { shapes: collector.shapes, notes: collector.notes };
}
