import { TILE_BOX } from '../parting/SurfaceTiles.ts';
import { CROSSED, type CutSurface } from '../parting/types.ts';
import type { BallGrid } from './BallGrid.ts';
import type { BandSource } from './BandSource.ts';
import { LineIndex } from './LineIndex.ts';

/** Cells whose foot is this near to a line, in cell edges, are asked which share lies on which side. */
export const LINE_REACH_CELLS = 2;

/** Lines are looked for near whole tiles in buckets so many times as large. */
export const TILE_REACHES = 4;

/** Label of a triangle near a line or a keep-clear border, whose cells are looked at one by one; crossed ones are near. */
export const MIXED = CROSSED;

/** Of a triangle that nobody has asked for. */
const UNKNOWN = -3;

/** Tells whether a box may lie within reach of a line, or comes near a keep-clear border. */
type BoxTest = (x0: number, y0: number, z0: number, x1: number, y1: number, z1: number) => boolean;

/**
 * The regions of the triangles of a cut surface. Tiles that neither a line nor a border comes near are labelled as wholes,
 * triangles of the others when they are asked for.
 */
export class TriLabels {
  /** The label of all triangles of a tile; MIXED where they may have several. */
  readonly ofTile: Int32Array;
  private readonly known: Int32Array;
  private readonly isNear: BoxTest;

  constructor(
    private readonly source: BandSource,
    private readonly cut: CutSurface,
    lines: LineIndex,
    clear: BallGrid,
    cellMm: number,
  ) {
    const { tiles, tileRegion, loose } = cut.parts;
    this.known = cut.triRegion.slice();
    this.ofTile = tileRegion.slice();
    this.isNear = nearness(cut, lines, clear, cellMm);
    const farLines = new LineIndex(cut.segments, TILE_REACHES * lines.reachMm);
    const isTileNear = nearness(cut, farLines, clear, cellMm);
    for (let tile = 0; tile < tiles.count; tile++) {
      if (tileRegion[tile] < 0) continue;
      const [x0, y0, z0, x1, y1, z1] = tiles.boxes.subarray(TILE_BOX * tile, TILE_BOX * (tile + 1));
      // The large buckets are few, the small ones tell better.
      if (!isTileNear(x0, y0, z0, x1, y1, z1) || !this.isNear(x0, y0, z0, x1, y1, z1)) continue;
      this.ofTile[tile] = MIXED;
      for (let n = tiles.starts[tile]; n < tiles.starts[tile + 1]; n++) this.known[tiles.tris[n]] = UNKNOWN;
    }
    for (const part of loose) {
      const tri = cut.cutTriSource[part];
      if (this.known[tri] >= 0) this.known[tri] = UNKNOWN;
    }
  }

  /** The triangle's region, or MIXED, or NO_REGION. */
  of(tri: number): number {
    const label = this.known[tri];
    return label === UNKNOWN ? this.find(tri) : label;
  }

  private find(tri: number): number {
    const { positions: p, indices } = this.source.mesh;
    const a = indices[3 * tri] * 3;
    const b = indices[3 * tri + 1] * 3;
    const c = indices[3 * tri + 2] * 3;
    const isNear = this.isNear(
      Math.min(p[a], p[b], p[c]),
      Math.min(p[a + 1], p[b + 1], p[c + 1]),
      Math.min(p[a + 2], p[b + 2], p[c + 2]),
      Math.max(p[a], p[b], p[c]),
      Math.max(p[a + 1], p[b + 1], p[c + 1]),
      Math.max(p[a + 2], p[b + 2], p[c + 2]),
    );
    const label = isNear ? MIXED : this.cut.triRegion[tri];
    this.known[tri] = label;
    return label;
  }
}

function nearness({ segments }: CutSurface, lines: LineIndex, clear: BallGrid, cellMm: number): BoxTest {
  return (x0, y0, z0, x1, y1, z1) => {
    if (segments.count > 0 && lines.mayTouch(x0, y0, z0, x1, y1, z1)) return true;
    for (const n of clear.near(x0, y0, z0, x1, y1, z1)) {
      const { centreMm, radiusMm } = clear.balls[n];
      const reach = radiusMm + LINE_REACH_CELLS * cellMm;
      const [cx, cy, cz] = centreMm;
      const dx = Math.max(x0 - cx, 0, cx - x1);
      const dy = Math.max(y0 - cy, 0, cy - y1);
      const dz = Math.max(z0 - cz, 0, cz - z1);
      if (dx * dx + dy * dy + dz * dz < reach * reach) return true;
    }
    return false;
  };
}
