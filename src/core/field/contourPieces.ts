import type { Checkpoint } from '../checkpoint.ts';
import { type BandGrid, BRICK, BRICK_CELLS, UNREACHED } from './BandGrid.ts';

/** A surface good for looking at: indexed, wound outward; not a solid for making. */
export interface LookSurface {
  /** n x 3, mm */
  readonly positions: Float32Array;
  readonly indices: Uint32Array;
}

/** The eight corners of a dual cube, as offsets in i j k. */
const CORNERS = 8;
const NO_VERT = -1;

/**
 * The shell of every piece, innerMm < phi <= outerMm and on the piece's side of its lines, as a closed surface: surface nets on
 * the cells' centres (S. Gibson, "Constrained elastic surface nets", MICCAI 1998, without the relaxation). Edges come out
 * rounded by about a cell. The board clips at z = 0.
 *
 * @param sideMm for a cell and a piece how far the centre lies inside the piece, mm; large where no line is near.
 * @param innerMm distance at which the shell begins (0: on the scan; the rubber's thickness for a bare pattern).
 */
export async function contourPieces(
  grid: BandGrid,
  standsOnBoard: boolean,
  innerMm: number,
  outerMm: number,
  pieceCount: number,
  sideMm: (cell: number, piece: number) => number,
  cp: Checkpoint,
): Promise<LookSurface[]> {
  const out: LookSurface[] = [];
  for (let piece = 0; piece < pieceCount; piece++) {
    out.push(
      await contourCells(
        grid,
        standsOnBoard,
        (cell) => {
          const phi = grid.phi[cell];
          return phi === UNREACHED ? UNREACHED : Math.max(phi - outerMm, innerMm - phi, -sideMm(cell, piece));
        },
        cp.within(piece / pieceCount, (piece + 1) / pieceCount, 'drawing the shell'),
      ),
    );
  }
  return out;
}

/**
 * The closed surface round the cells where `shellValue` is negative, by surface nets; UNREACHED counts as outside.
 */
export async function contourCells(
  grid: BandGrid,
  standsOnBoard: boolean,
  shellValue: (cell: number) => number,
  cp: Checkpoint,
): Promise<LookSurface> {
  const h = grid.cellMm;
  const positions: number[] = [];
  const indices: number[] = [];
  const values = new Float32Array(grid.brickCount * BRICK_CELLS);
  for (let cell = 0; cell < values.length; cell++) values[cell] = shellValue(cell);
  /** Vertex of the dual cube whose lowest corner is the cell; cubes below the first layer of cells at `below`. */
  const vertOf = new Int32Array(values.length).fill(NO_VERT);
  const below = new Map<number, number>();
  const corner = new Int32Array(3);
  const f = new Float64Array(CORNERS);

  // Value at a lattice place: unreached cells lie outside by one cell; below the board the mirror image, outside.
  const valueAt = (i: number, j: number, k: number): number => {
    if (k < 0) {
      const above = grid.cellAt(i, j, 0);
      return standsOnBoard && above >= 0 && values[above] !== UNREACHED ? Math.abs(values[above]) : h;
    }
    const cell = grid.cellAt(i, j, k);
    return cell < 0 || values[cell] === UNREACHED ? h : values[cell];
  };
  const vertFor = (i: number, j: number, k: number): number => {
    if (k < 0) {
      const key = i * 65536 + j;
      let vert = below.get(key);
      if (vert === undefined) {
        vert = makeVert(i, j, k);
        below.set(key, vert);
      }
      return vert;
    }
    const cell = grid.cellAt(i, j, k);
    // A cube whose lowest corner has no brick still may be crossed; it gets a vertex of its own under a negative key.
    if (cell < 0) {
      const key = -(1 + i + 65536 * (j + 65536 * k));
      let vert = below.get(key);
      if (vert === undefined) {
        vert = makeVert(i, j, k);
        below.set(key, vert);
      }
      return vert;
    }
    if (vertOf[cell] === NO_VERT) vertOf[cell] = makeVert(i, j, k);
    return vertOf[cell];
  };
  /** Middle of the crossings of the cube's edges. */
  const makeVert = (i: number, j: number, k: number): number => {
    for (let c = 0; c < CORNERS; c++) f[c] = valueAt(i + (c & 1), j + ((c >> 1) & 1), k + (c >> 2));
    let x = 0;
    let y = 0;
    let z = 0;
    let count = 0;
    for (let c = 0; c < CORNERS; c++) {
      for (let axis = 1; axis <= 4; axis <<= 1) {
        if (c & axis) continue;
        const d = c | axis;
        if (f[c] < 0 === f[d] < 0) continue;
        const u = f[c] / (f[c] - f[d]);
        x += (c & 1) + (axis === 1 ? u : 0);
        y += ((c >> 1) & 1) + (axis === 2 ? u : 0);
        z += (c >> 2) + (axis === 4 ? u : 0);
        count++;
      }
    }
    positions.push(
      grid.origin[0] + (i + 0.5 + x / count) * h,
      grid.origin[1] + (j + 0.5 + y / count) * h,
      Math.max(standsOnBoard ? 0 : -Infinity, grid.origin[2] + (k + 0.5 + z / count) * h),
    );
    return positions.length / 3 - 1;
  };
  /** The four cubes round a crossed edge make a quad, wound so that it faces the outside end. */
  const addQuad = (i: number, j: number, k: number, axis: number, startsInside: boolean): void => {
    const u = axis === 0 ? [0, 1, 0] : axis === 1 ? [0, 0, 1] : [1, 0, 0];
    const v = axis === 0 ? [0, 0, 1] : axis === 1 ? [1, 0, 0] : [0, 1, 0];
    const a = vertFor(i - u[0] - v[0], j - u[1] - v[1], k - u[2] - v[2]);
    const b = vertFor(i - v[0], j - v[1], k - v[2]);
    const c = vertFor(i, j, k);
    const d = vertFor(i - u[0], j - u[1], k - u[2]);
    if (startsInside) indices.push(a, b, c, a, c, d);
    else indices.push(a, c, b, a, d, c);
  };

  for (let brick = 0; brick < grid.brickCount; brick++) {
    if (cp.due()) await cp.pause(brick / grid.brickCount);
    grid.brickCorner(brick, corner);
    for (let local = 0; local < BRICK_CELLS; local++) {
      const value = values[brick * BRICK_CELLS + local];
      if (!(value < 0)) continue;
      const i = corner[0] + (local % BRICK);
      const j = corner[1] + ((local >> 3) & 7);
      const k = corner[2] + (local >> 6);
      // An inside cell looks along all six edges, so each crossing is met exactly once.
      for (let axis = 0; axis < 3; axis++) {
        const di = axis === 0 ? 1 : 0;
        const dj = axis === 1 ? 1 : 0;
        const dk = axis === 2 ? 1 : 0;
        if (valueAt(i + di, j + dj, k + dk) >= 0) addQuad(i, j, k, axis, true);
        if (valueAt(i - di, j - dj, k - dk) >= 0) addQuad(i - di, j - dj, k - dk, axis, false);
      }
    }
  }
  return { positions: Float32Array.from(positions), indices: Uint32Array.from(indices) };
}
