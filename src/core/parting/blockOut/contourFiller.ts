import type { TriMesh } from '../../mesh/TriMesh.ts';
import { BELOW, FILLER, type FillerGrid, OPEN, OTHER, ROOT, RUBBER } from './FillerGrid.ts';
import type { FillerRule } from './FillerRule.ts';

/** Halvings of a grid edge: the surface is found to 1/64 of a cell. */
const HALVINGS = 6;

/** Crossings stay this share of a cell away from the cells' centres, so that no face loses its area. */
const LEAST_SHARE = 0.02;

/** Where the solid ends in the rubber it does not matter where; near the cell that is in the rubber for certain. */
const INTO_RUBBER_SHARE = 0.9;

/** Where it ends at a face of the rubber that is free, it stays this share of a cell under it, so that it never comes through. */
const UNDER_SKIN_SHARE = 0.05;

/** Sums kept for each vertex: i j k of all crossings and their number; i j and number of shadow's edges; k and number of walls. */
const SUMS = 9;

/** How far a vertex goes from the middle of its crossings to the sharp edge: not all the way, for two cubes may share one. */
const SHARP_SHARE = 0.95;

/** Cubes are counted from the middle of this many a side: 2^51 in all, exact in a double. */
const PLACES = 1 << 17;

/**
 * The closed surface round the kept cells, wound outward, board frame, mm: surface nets (S. Gibson, Constrained elastic
 * surface nets, MICCAI 1998, without the relaxation) on crossings of the grid's edges that are found by halving, so that
 * the surface does not depend on how far a field reaches. A manifold, because the kept cells are well-composed.
 *
 * Sharp edges come out rounded by a share of a cell: about 0.1 cells squared of filler is lost along a right angle.
 * Cost: a ray, or a ray and the distances, a halving and edge that leaves the rubber.
 */
export function contourFiller(grid: FillerGrid, rule: FillerRule): TriMesh {
  const { isKept } = grid;
  const crossing = new EdgeCrossing(grid, rule);
  /** By cube: number of its vertex. */
  const vertOf = new Map<number, number>();
  const sums: number[] = [];
  const quads: number[] = [];
  const c = new Int32Array(3);
  const cube = [0, 0, 0];
  const ring = [0, 0, 0, 0];
  const crossed = [0, 0, 0];
  for (let cell = 0; cell < isKept.length; cell++) {
    if (!isKept[cell]) continue;
    grid.coordsOf(cell, c);
    for (let side = 0; side < 6; side++) {
      const axis = side >> 1;
      const step = side & 1 ? 1 : -1;
      const beyond = [c[0], c[1], c[2]];
      beyond[axis] += step;
      const next = grid.cellAt(beyond[0], beyond[1], beyond[2]);
      if (next >= 0 && isKept[next]) continue;
      const share = crossing.shareOf(cell, c, next, beyond);
      const across = (axis + 1) % 3;
      const along = (axis + 2) % 3;
      for (let n = 0; n < 4; n++) {
        // The four cubes round the edge, counter-clockwise about the axis; a cube is named by its lowest cell.
        cube[axis] = step > 0 ? c[axis] : c[axis] - 1;
        cube[across] = c[across] - (n === 0 || n === 3 ? 1 : 0);
        cube[along] = c[along] - (n < 2 ? 1 : 0);
        const key = placeOf(cube[0], cube[1], cube[2]);
        let vert = vertOf.get(key);
        if (vert === undefined) {
          vert = sums.length / SUMS;
          vertOf.set(key, vert);
          for (let m = 0; m < SUMS; m++) sums.push(0);
        }
        const at = SUMS * vert;
        crossed[axis] = c[axis] + step * share;
        crossed[across] = c[across];
        crossed[along] = c[along];
        for (let m = 0; m < 3; m++) sums[at + m] += crossed[m];
        sums[at + 3]++;
        if (axis < 2 && crossing.isOfShadow) {
          sums[at + 4] += crossed[0];
          sums[at + 5] += crossed[1];
          sums[at + 6]++;
        } else if (axis === 2 && crossing.isOfWall) {
          sums[at + 7] += crossed[2];
          sums[at + 8]++;
        }
        ring[n] = vert;
      }
      // The ring's normal points along the axis; on the other side of a cell it is run the other way.
      if (step > 0) quads.push(ring[0], ring[1], ring[2], ring[3]);
      else quads.push(ring[0], ring[3], ring[2], ring[1]);
    }
  }
  const positions = new Float64Array((3 * sums.length) / SUMS);
  const point = new Float64Array(3);
  for (let v = 0, at = 0; at < sums.length; v++, at += SUMS) {
    const count = sums[at + 3];
    const [i, j, k] = [sums[at] / count, sums[at + 1] / count, sums[at + 2] / count];
    // The shadow's edge runs along the pull: where it passes a cube it says where along u and v, and a parting wall how
    // high. The middle of all crossings would round the edges off and leave a notch at either end of the shadow.
    const hasShadow = sums[at + 6] > 0;
    const hasWall = hasShadow && sums[at + 8] > 0;
    const sharpI = hasShadow ? sums[at + 4] / sums[at + 6] : i;
    const sharpJ = hasShadow ? sums[at + 5] / sums[at + 6] : j;
    const sharpK = hasWall ? sums[at + 7] / sums[at + 8] : k;
    grid.pointAt(
      i + SHARP_SHARE * (sharpI - i),
      j + SHARP_SHARE * (sharpJ - j),
      k + SHARP_SHARE * (sharpK - k),
      point,
    );
    positions.set(point, 3 * v);
  }
  return { positions, indices: splitQuads(positions, quads) };
}

function placeOf(i: number, j: number, k: number): number {
  const half = PLACES / 2;
  return i + half + PLACES * (j + half + PLACES * (k + half));
}

/** Each quad as two triangles, along its shorter diagonal. */
function splitQuads(positions: Float64Array, quads: readonly number[]): Uint32Array {
  const indices = new Uint32Array((6 * quads.length) / 4);
  const way = (a: number, b: number): number =>
    Math.hypot(
      positions[3 * a] - positions[3 * b],
      positions[3 * a + 1] - positions[3 * b + 1],
      positions[3 * a + 2] - positions[3 * b + 2],
    );
  for (let q = 0, at = 0; q < quads.length; q += 4, at += 6) {
    const [a, b, c, d] = [quads[q], quads[q + 1], quads[q + 2], quads[q + 3]];
    if (way(a, c) <= way(b, d)) indices.set([a, b, c, a, c, d], at);
    else indices.set([a, b, d, b, c, d], at);
  }
  return indices;
}

/** Finds where a grid edge from a kept cell to one that is not leaves the filler's solid. */
class EdgeCrossing {
  /** Of the crossing last asked for: it lies on the edge of the shadow; on the parting wall. */
  isOfShadow = false;
  isOfWall = false;
  private readonly point = new Float64Array(3);

  constructor(
    private readonly grid: FillerGrid,
    private readonly rule: FillerRule,
  ) {}

  /** Share of the way from `cell` at `from` to `next` (-1: no brick is there) at `to`. */
  shareOf(cell: number, from: ArrayLike<number>, next: number, to: ArrayLike<number>): number {
    const { grid } = this;
    const inside = grid.state[cell];
    const outside = next >= 0 ? grid.state[next] : this.stateOn(from, to, 1);
    this.isOfShadow = inside === FILLER && outside === OPEN;
    this.isOfWall = inside === FILLER && outside === OTHER;
    if (outside === BELOW) return 0.5;
    // A cell taken away so that the surface stays a manifold: half of it is as good as any.
    if (outside === FILLER || outside === ROOT) return 0.5;
    if (outside === RUBBER) return inside === ROOT ? 0.5 : INTO_RUBBER_SHARE;
    let low = 0;
    let high = 1;
    let last = inside;
    for (let n = 0; n < HALVINGS; n++) {
      const middle = (low + high) / 2;
      const state = this.isOfShadow ? this.shadowOn(from, to, middle) : this.stateOn(from, to, middle);
      // From a root the way leads through rubber whichever face is nearest: under the rim of an overhang the solid
      // would have a notch otherwise.
      if (state >= FILLER || (inside === ROOT && state === RUBBER)) {
        low = middle;
        last = state;
      } else high = middle;
    }
    if (inside === ROOT && last !== FILLER) return Math.max(LEAST_SHARE, low - UNDER_SKIN_SHARE);
    return Math.min(1 - LEAST_SHARE, Math.max(LEAST_SHARE, (low + high) / 2));
  }

  private stateOn(from: ArrayLike<number>, to: ArrayLike<number>, share: number): number {
    const [x, y, z] = this.pointOn(from, to, share);
    return this.rule.stateAt(x, y, z);
  }

  private shadowOn(from: ArrayLike<number>, to: ArrayLike<number>, share: number): number {
    const [x, y, z] = this.pointOn(from, to, share);
    return this.rule.isInShadow(x, y, z) ? FILLER : OPEN;
  }

  private pointOn(from: ArrayLike<number>, to: ArrayLike<number>, share: number): Float64Array {
    const { grid, point } = this;
    grid.pointAt(
      from[0] + share * (to[0] - from[0]),
      from[1] + share * (to[1] - from[1]),
      from[2] + share * (to[2] - from[2]),
      point,
    );
    return point;
  }
}
