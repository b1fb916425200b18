import type { Checkpoint } from '../checkpoint.ts';
import { type BandGrid, BRICK_CELLS, UNREACHED } from '../field/BandGrid.ts';
import type { BandSource } from '../field/BandSource.ts';
import { CORNER, closestOnTriangle, EDGE, FACE } from '../field/closestOnTriangle.ts';
import { buildTwins } from '../mesh/buildTwins.ts';
import type { TriMesh } from '../mesh/TriMesh.ts';
import { writeTriNormal } from '../mesh/writeNormal.ts';
import type { PartingWall } from './buildWall.ts';
import { buildWallGrid } from './buildWallGrid.ts';
import { type CutSurface, NO_REGION } from './types.ts';

/** The cells near the parting face. */
export interface FlangeCells {
  /** Unsigned distance from the face, on the cells of the rubber's field. */
  readonly grid: BandGrid;
  /** By cell, distance from the rubber, mm; UNREACHED where either distance is unknown. */
  readonly rubberMm: Float32Array;
  /** How far a cell lies from the face on the region's own side, mm; negative on the other side. */
  readonly besideMm: (cell: number, region: number) => number;
}

/**
 * Distances of all cells within `reachMm` of the parting face. A cell lies on the side of the face on which the nearest part
 * of it has it, by that part's pseudonormal (J. Baerentzen and H. Aanaes, "Signed distance computation using the angle
 * weighted pseudonormal", IEEE TVCG 11, 2005); only a cell over a third piece, where lines meet, by its nearest rubber.
 */
export async function flangeCells(
  source: BandSource,
  far: BandGrid,
  wall: PartingWall,
  cut: CutSurface,
  reachMm: number,
  cp: Checkpoint,
): Promise<FlangeCells> {
  const grid = await buildWallGrid(source, far, wall, reachMm, cp.within(0, 0.6, 'drawing the flange'));
  const cells = grid.brickCount * BRICK_CELLS;
  const rubberMm = new Float32Array(cells).fill(UNREACHED);
  const sideOf = new Int16Array(cells).fill(NO_REGION);
  const corner = new Int32Array(3);
  const isRight = sideOfWall(wall.mesh);
  const h = grid.cellMm;
  for (let brick = 0; brick < grid.brickCount; brick++) {
    if (cp.due()) await cp.pause(0.6 + (0.4 * brick) / grid.brickCount);
    grid.brickCorner(brick, corner);
    for (let local = 0; local < BRICK_CELLS; local++) {
      const cell = brick * BRICK_CELLS + local;
      if (grid.phi[cell] === UNREACHED) continue;
      const i = corner[0] + (local & 7);
      const j = corner[1] + ((local >> 3) & 7);
      const k = corner[2] + (local >> 6);
      const farCell = far.cellAt(i, j, k);
      if (farCell < 0 || far.phi[farCell] === UNREACHED) continue;
      rubberMm[cell] = far.phi[farCell];
      const x = grid.origin[0] + (i + 0.5) * h;
      const y = grid.origin[1] + (j + 0.5) * h;
      const z = grid.origin[2] + (k + 0.5) * h;
      const tri = grid.tri[cell];
      const label = cut.triRegion[far.tri[farCell]];
      const left = wall.left[tri];
      const right = wall.right[tri];
      if (label >= 0 && label !== left && label !== right) sideOf[cell] = label;
      else sideOf[cell] = isRight(tri, x, y, z) ? right : left;
    }
  }
  const { phi } = grid;
  return { grid, rubberMm, besideMm: (cell, region) => (sideOf[cell] === region ? phi[cell] : -phi[cell]) };
}

/** Whether x y z, whose nearest point on the wall lies in triangle `tri`, is on the side that the wall's normals point to. */
function sideOfWall(wall: TriMesh): (tri: number, x: number, y: number, z: number) => boolean {
  const { positions, indices } = wall;
  const { twins } = buildTwins(indices);
  const vertNormals = weightedNormals(wall);
  const foot = new Float64Array(4);
  const n = new Float64Array(3);
  const next = new Float64Array(3);
  return (tri, x, y, z) => {
    const part = closestOnTriangle(positions, indices, tri, x, y, z, foot);
    const length = writeTriNormal(wall, tri, n) || 1;
    if (part >= EDGE) {
      const twin = twins[3 * tri + part - EDGE];
      if (twin >= 0) {
        const nextLength = writeTriNormal(wall, Math.floor(twin / 3), next) || 1;
        for (let k = 0; k < 3; k++) n[k] = n[k] / length + next[k] / nextLength;
      }
    } else if (part !== FACE) {
      const vert = 3 * indices[3 * tri + part - CORNER];
      for (let k = 0; k < 3; k++) n[k] = vertNormals[vert + k];
    }
    return (x - foot[0]) * n[0] + (y - foot[1]) * n[1] + (z - foot[2]) * n[2] >= 0;
  };
}

/** By vertex the sum of the unit normals of its triangles, each times its angle there. */
function weightedNormals(mesh: TriMesh): Float64Array {
  const { positions: p, indices } = mesh;
  const out = new Float64Array(p.length);
  const n = new Float64Array(3);
  for (let t = 0; t < indices.length / 3; t++) {
    const length = writeTriNormal(mesh, t, n);
    if (!(length > 0)) continue;
    for (let k = 0; k < 3; k++) {
      const a = 3 * indices[3 * t + k];
      const b = 3 * indices[3 * t + ((k + 1) % 3)];
      const c = 3 * indices[3 * t + ((k + 2) % 3)];
      const along =
        (p[b] - p[a]) * (p[c] - p[a]) +
        (p[b + 1] - p[a + 1]) * (p[c + 1] - p[a + 1]) +
        (p[b + 2] - p[a + 2]) * (p[c + 2] - p[a + 2]);
      const angleRad = Math.atan2(length, along);
      for (let axis = 0; axis < 3; axis++) out[a + axis] += (angleRad * n[axis]) / length;
    }
  }
  return out;
}
