import { BallGrid } from '../field/BallGrid.ts';
import type { TriMesh } from '../mesh/TriMesh.ts';
import { vectorLength } from '../mesh/vectorLength.ts';
import type { AreaBall } from '../plan/ballsOf.ts';
import { TILE_BOX, TILE_SUM, TILE_SUMS } from './SurfaceTiles.ts';
import { sumOfRegions } from './sumOfRegions.ts';
import type { CutSurface } from './types.ts';

/** How often a triangle on the border of a keep-clear area is divided in four: 1/4096 of its area is left to guess. */
const DIVISIONS = 6;

/**
 * Area of S in each region, mm2, without what is kept clear. O(tiles and the triangles in those that a line or a ball touches),
 * and more along the borders of the balls.
 */
export function regionAreas(cut: CutSurface, keepClear: readonly AreaBall[]): Float64Array {
  const areas = new Float64Array(cut.regionCount);
  if (keepClear.length === 0) {
    const sums = sumOfRegions(cut);
    return areas.map((_, region) => sums[TILE_SUMS * region + TILE_SUM.area]);
  }
  const { tiles, tileRegion, loose } = cut.parts;
  const grid = new BallGrid(keepClear);
  for (let tile = 0; tile < tiles.count; tile++) {
    const region = tileRegion[tile];
    if (region < 0) continue;
    const [x0, y0, z0, x1, y1, z1] = tiles.boxes.subarray(TILE_BOX * tile);
    if (grid.near(x0, y0, z0, x1, y1, z1).length === 0) {
      areas[region] += tiles.sums[TILE_SUMS * tile + TILE_SUM.area];
      continue;
    }
    for (let n = tiles.starts[tile]; n < tiles.starts[tile + 1]; n++) {
      areas[region] += areaOutside(tiles.mesh, tiles.tris[n], grid);
    }
  }
  for (const tri of loose) {
    if (cut.cutTriRegion[tri] >= 0) areas[cut.cutTriRegion[tri]] += areaOutside(cut, tri, grid);
  }
  return areas;
}

/** Area of a triangle outside all balls. */
function areaOutside({ positions: p, indices }: TriMesh, tri: number, grid: BallGrid): number {
  const corners = new Float64Array(9);
  for (let k = 0; k < 3; k++) {
    const v = indices[3 * tri + k] * 3;
    corners[3 * k] = p[v];
    corners[3 * k + 1] = p[v + 1];
    corners[3 * k + 2] = p[v + 2];
  }
  return openArea(corners, ballsNear(grid, corners), DIVISIONS);
}

function ballsNear(grid: BallGrid, c: Float64Array): readonly AreaBall[] {
  const near = grid.near(
    Math.min(c[0], c[3], c[6]),
    Math.min(c[1], c[4], c[7]),
    Math.min(c[2], c[5], c[8]),
    Math.max(c[0], c[3], c[6]),
    Math.max(c[1], c[4], c[7]),
    Math.max(c[2], c[5], c[8]),
  );
  return near.map((n) => grid.balls[n]);
}

/** Area of a triangle (9 numbers) outside all balls. */
function openArea(c: Float64Array, keepClear: readonly AreaBall[], depth: number): number {
  let isCut = false;
  for (const ball of keepClear) {
    let inside = 0;
    for (let k = 0; k < 3; k++) if (cornerDistance(c, k, ball) < ball.radiusMm) inside++;
    if (inside === 3) return 0;
    if (inside > 0 || mayTouch(c, ball)) isCut = true;
  }
  if (!isCut || depth === 0) return isCut && centreIsClear(c, keepClear) === false ? 0 : triangleArea(c);
  let sum = 0;
  const mid = new Float64Array(9);
  for (let k = 0; k < 3; k++) {
    for (let x = 0; x < 3; x++) mid[3 * k + x] = (c[3 * k + x] + c[3 * ((k + 1) % 3) + x]) / 2;
  }
  const part = new Float64Array(9);
  for (let k = 0; k < 3; k++) {
    part.set(c.subarray(3 * k, 3 * k + 3), 0);
    part.set(mid.subarray(3 * k, 3 * k + 3), 3);
    part.set(mid.subarray(3 * ((k + 2) % 3), 3 * ((k + 2) % 3) + 3), 6);
    sum += openArea(part, keepClear, depth - 1);
  }
  return sum + openArea(mid, keepClear, depth - 1);
}

function cornerDistance(c: Float64Array, k: number, ball: AreaBall): number {
  const [x, y, z] = ball.centreMm;
  return Math.hypot(c[3 * k] - x, c[3 * k + 1] - y, c[3 * k + 2] - z);
}

/** Whether the ball reaches the triangle's circle about its middle. */
function mayTouch(c: Float64Array, ball: AreaBall): boolean {
  const m = [0, 1, 2].map((x) => (c[x] + c[3 + x] + c[6 + x]) / 3);
  let radius = 0;
  for (let k = 0; k < 3; k++) {
    radius = Math.max(radius, Math.hypot(c[3 * k] - m[0], c[3 * k + 1] - m[1], c[3 * k + 2] - m[2]));
  }
  const [x, y, z] = ball.centreMm;
  return Math.hypot(m[0] - x, m[1] - y, m[2] - z) < ball.radiusMm + radius;
}

function centreIsClear(c: Float64Array, keepClear: readonly AreaBall[]): boolean {
  const m = [0, 1, 2].map((x) => (c[x] + c[3 + x] + c[6 + x]) / 3);
  return keepClear.every(
    ({ centreMm: [x, y, z], radiusMm }) => Math.hypot(m[0] - x, m[1] - y, m[2] - z) >= radiusMm,
  );
}

function triangleArea(c: Float64Array): number {
  const ux = c[3] - c[0];
  const uy = c[4] - c[1];
  const uz = c[5] - c[2];
  const vx = c[6] - c[0];
  const vy = c[7] - c[1];
  const vz = c[8] - c[2];
  return vectorLength(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx) / 2;
}
