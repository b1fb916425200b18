import type { Checkpoint } from '../../checkpoint.ts';
import { BandGrid, BRICK, BRICK_CELLS, bricksOf } from '../BandGrid.ts';
import type { BandSource } from '../BandSource.ts';
import { fillBand, frameBand, reachOf } from '../buildBandField.ts';
import { TABLE_WIDTH } from '../CoatTable.ts';
import { orderSurface } from '../OrderedSurface.ts';
import { tabulateBricks } from '../tabulateBricks.ts';
import type { FieldOrder } from './FieldOrder.ts';
import type { Slab, SlabField } from './Slab.ts';

/** Cells beyond the slab's own that are measured too: what is asked of a cell's neighbours must be there. */
const SEAM_CELLS = 2;

/** The surface is taken in as far as this beyond what the band can reach, so that cells near it see no rim of the cut, in cells. */
const SPARE_CELLS = 4;

/**
 * One slab of a field. It is made as a whole field is, from the surface within reach of the slab and in a part of the grid
 * with room for the wave, so that slabs know nothing of one another.
 *
 * The end of that part changes no answer: what lies within the band of one of the slab's cells lies in it, and so does
 * every cell on the way. The ray that tells inside from outside lies within the slab.
 */
export async function buildSlab(
  source: BandSource,
  order: FieldOrder,
  slab: Slab,
  cp: Checkpoint,
): Promise<SlabField> {
  const { axis, fromBrick, toBrick } = slab;
  const { cellMm, bandMm, knotMm, knotCount } = order;
  const { origin, cells } = frameBand(source, cellMm, bandMm);
  const reachCells = Math.ceil(reachOf(cellMm, bandMm) / cellMm);
  const own = { axis, from: fromBrick * BRICK - SEAM_CELLS, to: toBrick * BRICK + SEAM_CELLS };
  const whole = { axis, from: own.from - reachCells, to: own.to + reachCells };

  const bricks = bricksOf(cells);
  const from: [number, number, number] = [0, 0, 0];
  const to: [number, number, number] = [...bricks];
  from[axis] = Math.max(0, Math.floor(whole.from / BRICK));
  to[axis] = Math.min(bricks[axis], Math.ceil(whole.to / BRICK));
  const grid = new BandGrid(origin, cellMm, cells, { from, to });
  const near = surfaceNear(
    source,
    axis,
    origin[axis] + (whole.from - SPARE_CELLS) * cellMm,
    origin[axis] + (whole.to + SPARE_CELLS) * cellMm,
  );
  const distances = cp.within(0, 0.7, 'measuring distances');
  await fillBand(grid, near, bandMm, order.isClosed, distances, { own, whole });
  const tables = await tabulateBricks(
    grid,
    near,
    knotMm,
    knotCount,
    cp.within(0.7, 1, 'measuring the coats'),
  );
  return takeOwn(grid, tables.rows, knotCount, slab);
}

/** The part of a surface of which something lies between two planes square to an axis. */
function surfaceNear(source: BandSource, axis: 0 | 1 | 2, fromMm: number, toMm: number): BandSource {
  const { mesh, twins, isSurface } = source;
  const { positions: p, indices } = mesh;
  const isNear = new Uint8Array(isSurface.length);
  for (let t = 0; t < isNear.length; t++) {
    if (isSurface[t] === 0) continue;
    const a = p[3 * indices[3 * t] + axis];
    const b = p[3 * indices[3 * t + 1] + axis];
    const c = p[3 * indices[3 * t + 2] + axis];
    if (Math.max(a, b, c) >= fromMm && Math.min(a, b, c) <= toMm) isNear[t] = 1;
  }
  const ordered = orderSurface(mesh, twins, isNear);
  return {
    mesh,
    twins,
    isSurface,
    box: source.box,
    standsOnBoard: source.standsOnBoard,
    ordered,
    get rings() {
      return source.rings;
    },
    get winding() {
      return source.winding;
    },
  };
}

/** The slab's own bricks, without those that served as neighbours. */
function takeOwn(grid: BandGrid, rows: Float64Array, knotCount: number, slab: Slab): SlabField {
  const own: number[] = [];
  for (let brick = 0; brick < grid.brickCount; brick++) {
    const layer = grid.corners[3 * brick + slab.axis] / BRICK;
    if (layer >= slab.fromBrick && layer < slab.toBrick) own.push(brick);
  }
  const width = knotCount * TABLE_WIDTH;
  const out = {
    corners: new Int32Array(3 * own.length),
    phi: new Float32Array(own.length * BRICK_CELLS),
    tri: new Int32Array(own.length * BRICK_CELLS),
    rows: new Float64Array(own.length * width),
  };
  own.forEach((brick, n) => {
    out.corners.set(grid.corners.subarray(3 * brick, 3 * brick + 3), 3 * n);
    out.phi.set(grid.phi.subarray(brick * BRICK_CELLS, (brick + 1) * BRICK_CELLS), n * BRICK_CELLS);
    out.tri.set(grid.tri.subarray(brick * BRICK_CELLS, (brick + 1) * BRICK_CELLS), n * BRICK_CELLS);
    out.rows.set(rows.subarray(brick * width, (brick + 1) * width), n * width);
  });
  return out;
}
